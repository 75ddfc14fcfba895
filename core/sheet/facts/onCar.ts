import type { KeepOutSolid, Part } from '../../bay/part.ts'
import type { ReachObstacle } from '../../seat/fastenerReach.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { Ledger, LedgerPair } from '../../verdict/answer.ts'
import { oneSidedGuard } from '../../verdict/verdict.ts'
import { accessTo, bodyBounds, checkObstacles, reachOrder } from './access.ts'
import { blindGauge, type ChosenGauge, combined, gaugeFor } from './gauges.ts'
import type { CarCheck } from './sheetFacts.ts'

/** As many as are worth someone's while, unless more than these have to be measured. Common practice, no source. */
const fewEnough = 16
/** Of one keep-out no more than this many, and none with more room to spare than this, mm: it tells nothing. */
const eachAtMost = 2
const farEnough = 30
/** One-sided, by ISO 14253-1:2017 (from memory; checks of the rule stand with `oneSidedGuard`). */
const conformity = oneSidedGuard(0.95)

/**
 * The gaps that are worth measuring with the part in place: every pair that is not proved to clear, the tightest of every
 * safety structure and lamp, and the tightest of the rest. Pairs that meet are left out: there is no gap to measure.
 * @returns in reach order, within one side from left to right, then from below
 */
export function carChecks(
  { pairs }: Ledger,
  parts: readonly Part[],
  keepOuts: readonly KeepOutSolid[],
): readonly CarCheck[] {
  const obstacles = checkObstacles(parts, keepOuts)
  return chosenPairs(pairs)
    .map((pair) => carCheck(pair, parts, keepOuts, obstacles))
    .sort(inReachOrder)
}

/** @param pairs smallest margin first */
export function chosenPairs(pairs: readonly LedgerPair[]): readonly LedgerPair[] {
  const apart = pairs.filter(({ gap, overlap }) => gap > 0 && !overlap)
  const chosen = new Set(apart.filter(({ verdict }) => verdict !== 'clears'))
  const firstOf = new Set<string>()
  for (const pair of apart) {
    const isFirst = !firstOf.has(pair.keepOut)
    if ((pair.role === 'safety' || pair.role === 'lamp') && isFirst) chosen.add(pair)
    firstOf.add(pair.keepOut)
  }
  const times = new Map<string, number>()
  for (const { keepOut } of chosen) times.set(keepOut, (times.get(keepOut) ?? 0) + 1)
  for (const pair of apart) {
    const before = times.get(pair.keepOut) ?? 0
    if (chosen.size >= fewEnough || pair.margin > farEnough) break
    // Between two parts a gap can be measured on the bench just as well.
    if (chosen.has(pair) || before >= eachAtMost || pair.between) continue
    chosen.add(pair)
    times.set(pair.keepOut, before + 1)
  }
  return apart.filter((pair) => chosen.has(pair))
}

function carCheck(
  pair: LedgerPair,
  parts: readonly Part[],
  keepOuts: readonly KeepOutSolid[],
  obstacles: readonly ReachObstacle[],
): CarCheck {
  const part = parts.find(({ name }) => name === pair.part)
  const keepOut = pair.between ? undefined : keepOuts.find(({ id }) => id === pair.keepOut)
  const other = keepOut?.solid ?? parts.find(({ name }) => name === pair.keepOut)?.solid
  const reached = withOf(keepOut)
  const access = part && other && !reached ? accessTo(pair, bodyBounds(part, parts), other, obstacles) : null
  const gauge = access ? gaugeFor(pair.gap, access.reach) : blindGauge(pair.gap)
  return {
    pair,
    ...rangeOf(pair, gauge),
    gauge: gauge.gauge,
    gaugeError: gauge.error,
    from: access?.from ?? null,
    reach: access?.reach ?? null,
    with: reached,
  }
}

function withOf(keepOut: KeepOutSolid | undefined): CarCheck['with'] {
  if (keepOut?.keepOut.fitting === 'comes-off') return 'refitted'
  return keepOut?.keepOut.role === 'moving' ? 'moved' : null
}

/**
 * What agrees with the prediction, and what proves the requirement once it is measured.
 *
 * The reading may differ from the prediction by the pair's numerical error, by how the part came out (its tolerance, either
 * way; the engine stands still, so movement of ports does not count), by how sure the keep-out was measured, and by the
 * gauge. Once the gap itself is measured, only the gauge's error is left against it, and what ports still move.
 */
export function rangeOf(
  { gap, error, tolerance, movement = 0, uncertainty, required }: LedgerPair,
  gauge: Pick<ChosenGauge, 'error'>,
): Pick<CarCheck, 'predicted' | 'low' | 'high' | 'least'> {
  const band = combined([uncertainty], [Math.max(0, tolerance - movement), gauge.error])
  return {
    predicted: gap,
    low: Math.max(0, gap - error - band),
    high: gap + band,
    least: required + movement + conformity(combined([], [gauge.error])),
  }
}

function inReachOrder(a: CarCheck, b: CarCheck): number {
  const order = ({ from }: CarCheck) => (from === null ? reachOrder.length : reachOrder.indexOf(from))
  const along = (k: number) => at(a, k) - at(b, k)
  return order(a) - order(b) || along(1) || along(2) || along(0) || (nameOf(a) < nameOf(b) ? -1 : 1)
}

const at = ({ pair: { onPart, onKeepOut } }: CarCheck, k: keyof Vec3 & number): number => onPart[k] + onKeepOut[k]
const nameOf = ({ pair: { part, keepOut } }: CarCheck): string => `${part}/${keepOut}`
