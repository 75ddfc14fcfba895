import type { Verdict } from './answer.ts'
import { normalQuantile } from './normal.ts'

/** What the rule needs to know of one pair, all mm and not negative except `margin`. */
export interface Figures {
  /** Shortest distance, the proved upper bound of it; 0 where the solids meet. */
  readonly gap: number
  /** The true distance is no less than gap − error. */
  readonly error: number
  /** What manufacture may add. */
  readonly tolerance: number
  /** Expanded measuring uncertainty U, k = 2. */
  readonly uncertainty: number
  /** Clearance asked for. */
  readonly required: number
  /** Proved depth of overlap (a lower bound of it); absent where the solids do not meet. */
  readonly depth?: number
  /** Proved upper bound of the depth, where there is one; 0 says that they only touch. */
  readonly depthAtMost?: number
}

/** The guard band, mm, for an expanded uncertainty U (k = 2), mm. */
export type Guard = (expanded: number) => number

/** g = U, the older practice; covers 97.7 % one-sided. This is what the ledger uses. */
export const expandedGuard: Guard = (expanded) => expanded

/**
 * g = z·u with u = U/2, for a one-sided probability of conformity: 0.95 gives 1.645·u.
 * Source: ISO 14253-1 and JCGM 106:2012, from memory; checks C4.2 and C4.5.
 */
export const oneSidedGuard = (probability: number): Guard => {
  const z = normalQuantile(probability)
  return (expanded) => (z * expanded) / 2
}

/**
 * gap − error − tolerance − guard − required, mm. What is left over once everything unknown is held against the part.
 */
export function marginOf(figures: Figures, guard: Guard = expandedGuard): number {
  return figures.gap - figures.error - figures.tolerance - guard(figures.uncertainty) - figures.required
}

/**
 * The three-way rule applied to the required clearance, and contact; the only place where a verdict is made.
 *
 * - `fouls`: the solids overlap by more than tolerance, uncertainty and error could explain. A touch alone is not enough.
 * - `clears`: the required clearance is there even with error, tolerance and uncertainty held against the part.
 * - `short`: it is not there even with all of them in the part's favour.
 * - `unproved`: in between; also whatever cannot be compared (a figure that is not a number).
 *
 * Source: ISO 14253-1's rule for proving conformity and non-conformity (from commentaries, checks C4.1).
 */
export function verdictOf(figures: Figures, guard: Guard = expandedGuard): Verdict {
  const { gap, error, tolerance, uncertainty, required, depth } = figures
  const apartOrTouching = depth === undefined || figures.depthAtMost === 0
  const band = guard(uncertainty)
  if (depth !== undefined && depth > tolerance + band + error) return 'fouls'
  if (apartOrTouching && marginOf(figures, guard) >= 0) return 'clears'
  if (gap + error + tolerance + band < required) return 'short'
  return 'unproved'
}

const rank: Record<Verdict, number> = { clears: 0, unproved: 1, short: 2, fouls: 3 }
export const worse = (a: Verdict, b: Verdict): Verdict => (rank[a] >= rank[b] ? a : b)

/**
 * The worst of all, at best `unproved` where something was left out of the comparison.
 * No pair at all proves nothing and is `unproved` too.
 */
export function overallVerdict(verdicts: readonly Verdict[], incomplete: boolean): Verdict {
  const floor: Verdict = incomplete || verdicts.length === 0 ? 'unproved' : 'clears'
  return verdicts.reduce(worse, floor)
}
