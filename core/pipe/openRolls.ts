/** To which end of its screw a tool is put. */
export type Side = 1 | -1
/** Degrees; `to` may lie beyond 360. */
export type RollRange = readonly [from: number, to: number]

export interface OpenRolls {
  /** Proved, as found: they may overlap. */
  readonly ranges: readonly RollRange[]
  /** Where the tool fits, of all that was tried. */
  readonly tried: readonly (readonly [roll: number, side: Side])[]
  readonly probes: number
}

export interface RollSearch {
  /** Degrees between the first tries; a share of 360. */
  readonly step: number
  /** A bound on the tries of each side. */
  readonly mostProbes: number
  /** How far to either side of a roll a tool with so much to spare still fits, degrees. */
  readonly reachOf: (spare: number) => number
}

/** Halvings of a step where open and closed meet. */
const halvings = 4

/**
 * Rolls at which a tool fits, tried at even steps and, where what is proved open ends within one, at its halves.
 * @param probe what a tool has to spare at a roll, mm; null where it does not fit
 * @returns ranges in which it fits at every roll, by `reachOf`. The second side is only tried where the first leaves it open.
 */
export function openRolls(
  probe: (roll: number, side: Side) => number | null,
  { step, mostProbes, reachOf }: RollSearch,
): OpenRolls {
  const ranges: RollRange[] = []
  const tried: [number, Side][] = []
  let probes = 0
  const rolls = Array.from({ length: Math.round(360 / step) }, (_, k) => k * step)
  for (const side of [1, -1] as const) {
    const before = mergedRanges(ranges)
    const last = probes + mostProbes
    const halfAt = (roll: number): number | null => {
      probes++
      const spare = probe(roll, side)
      if (spare === null) return null
      tried.push([roll, side])
      const half = reachOf(spare)
      ranges.push([roll - half, roll + half])
      return half
    }
    const refine = (a: number, halfA: number | null, b: number, halfB: number | null, left: number): void => {
      const proved = halfA !== null && halfB !== null && a + halfA >= b - halfB
      if (proved || (halfA === null && halfB === null) || left === 0 || probes >= last) return
      const middle = (a + b) / 2
      const half = halfAt(middle)
      refine(a, halfA, middle, half, left - 1)
      refine(middle, half, b, halfB, left - 1)
    }
    const halves = rolls.map((roll) => (holds(before, roll - step / 2, roll + step / 2) ? step / 2 : halfAt(roll)))
    rolls.forEach((roll, k) => {
      refine(roll, halves[k], roll + step, halves[(k + 1) % halves.length], halvings)
    })
  }
  return { ranges, tried, probes }
}

/** Ends that are within this of each other meet, degrees: rounding. */
const dust = 1e-9

/** Ranges on the circle that do not meet each other, in order, each beginning in 0 … 360; all the way round is [0, 360]. */
export function mergedRanges(ranges: readonly RollRange[]): RollRange[] {
  const inTurn = ranges
    .map(([from, to]): [number, number] => {
      const start = from - 360 * Math.floor(from / 360)
      return [start, start + (to - from)]
    })
    .sort((a, b) => a[0] - b[0])
  const merged: [number, number][] = []
  for (const [from, to] of inTurn) {
    const last = merged[merged.length - 1]
    if (last && from <= last[1] + dust) last[1] = Math.max(last[1], to)
    else merged.push([from, to])
  }
  for (let last = merged[merged.length - 1]; merged.length > 1 && last[1] + dust >= merged[0][0] + 360; ) {
    last[1] = Math.max(last[1], merged[0][1] + 360)
    merged.shift()
  }
  return merged.some(([from, to]) => to - from >= 360 - dust) ? [[0, 360]] : merged
}

/** Ranges narrower than this are of no use where there are wider ones, degrees. */
const sliver = 1

/** Merged ranges without the slivers that proving piece by piece leaves at the ends of wide ones. */
export function withoutSlivers(merged: readonly RollRange[]): readonly RollRange[] {
  const wide = merged.filter(([from, to]) => to - from >= sliver)
  return wide.length > 0 ? wide : merged
}

/** Whether merged ranges hold all from one roll to another, degrees. */
export const holds = (merged: readonly RollRange[], from: number, to: number): boolean =>
  merged.some(
    ([start, end]) =>
      end - start >= 360 || [-360, 0, 360].some((turn) => start <= from + turn + dust && to + turn <= end + dust),
  )
