import type { Vec3 } from '../shape/vec.ts'
import { certifyMotions, decideMotions } from './certify.ts'
import type { SeatSearch } from './search.ts'
import { withPush } from './shorten.ts'
import { motionsAlong, type Step } from './steps.ts'
import { chances } from './work.ts'

/** A decision that needs more queries than this is a no. */
const mostADecision = 1500

/** A way out and the least margin that is proved of it, mm. */
export interface Tuned {
  readonly steps: readonly Step[]
  readonly margin: number
}

/** Whether a way out keeps at least so much. */
export function keeps(search: SeatSearch, steps: readonly Step[], margin: number): boolean {
  const { subject, work } = search
  return decideMotions(subject, motionsAlong(subject.seat, steps), margin, work.sweeps, mostADecision) === 'proved'
}

export const leastOf = (search: SeatSearch, steps: readonly Step[]): number =>
  certifyMotions(search.subject, motionsAlong(search.subject.seat, steps), search.work.sweeps, 4000).atLeast

/**
 * Raises the least margin by chance changes of the amounts, larger ones while they succeed. Each trial is one decision, "a
 * little more than the best so far", which a single pose refutes as a rule.
 * @param ceiling no more than this is possible: the margin at the seat itself, mm
 */
export function tune(
  search: SeatSearch,
  steps: readonly Step[],
  { seed, margin, trials, ceiling, until }: TuneOptions,
): Tuned {
  const chance = chances(77 * seed + 5)
  const jitter = () => chance() + chance() + chance() - 1.5
  let now = steps
  let least = leastOf(search, steps)
  let width = 1
  let failed = 0
  for (let trial = 0; trial < trials && width > 0.01 && least < ceiling - 0.12 && steps.length > 1; trial++) {
    if (search.work.isOver(until)) break
    const one = chance() < 0.5 ? Math.floor(chance() * (steps.length - 1)) : -1
    const tried = withPush(
      search,
      now.map((step, i) => (i === now.length - 1 || (one >= 0 && i !== one) ? step : changed(step, width, jitter))),
    )
    const wanted = Math.max(margin, least + 0.05 * Math.min(1, width) + 0.005)
    if (keeps(search, tried, wanted)) {
      now = tried
      least = Math.max(wanted, leastOf(search, tried))
      width = Math.min(2, 1.4 * width)
      failed = 0
    } else if (++failed > 8) {
      width *= 0.75
      failed = 0
    }
  }
  return { steps: now, margin: least }
}

export interface TuneOptions {
  readonly seed: number
  readonly margin: number
  readonly trials: number
  readonly ceiling: number
  readonly until: number
}

function changed(step: Step, width: number, jitter: () => number): Step {
  const shift = step.shift.map((x) => (Math.abs(x) < 1e-9 ? x : x + 10 * width * jitter())) as unknown as Vec3
  return { ...step, shift, angle: step.angle === 0 ? 0 : step.angle + 3.4 * width * jitter() }
}
