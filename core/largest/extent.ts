import { Program } from './program.ts'
import type { Cell } from './problem.ts'
import { tiltAt, unknowns } from './unknowns.ts'
import type { Sizes } from './sizes.ts'
import type { View } from './view.ts'
import { emptyRow, type Wall, wallRow } from './wall.ts'

/** Nothing of a bay lies farther from its candidate, mm: a face that may go there is not limited at all. */
export const beyond = 1e5

export interface Extent {
  readonly low: Float64Array
  readonly high: Float64Array
}

/**
 * Between what the faces lie, by walls and greatest sizes alone. Proved: each end comes from a linear program by its
 * multipliers. A face that reaches `beyond` is unlimited.
 * @returns undefined where walls and sizes contradict each other
 */
export function extentOf(walls: readonly Wall[], sizes: readonly Sizes[], view: View): Extent | undefined {
  const low = new Float64Array(unknowns).fill(-beyond)
  const high = new Float64Array(unknowns).fill(beyond)
  low[tiltAt] = -view.half
  high[tiltAt] = view.half
  // With a range of tilts each round makes the rows sharper for the next.
  for (let round = 0; round < (view.half > 0 ? 6 : 1); round++) {
    const before = { low: low.slice(), high: high.slice() }
    for (let face = 0; face < 6; face++) {
      const top = greatest(walls, sizes, view, before, face, 1)
      const bottom = -greatest(walls, sizes, view, before, face, -1)
      high[face] = Math.min(high[face], top)
      low[face] = Math.max(low[face], bottom)
      if (low[face] > high[face] + 1e-7) return undefined
      if (low[face] > high[face]) low[face] = high[face]
    }
  }
  return { low, high }
}

function greatest(
  walls: readonly Wall[],
  sizes: readonly Sizes[],
  view: View,
  box: Extent,
  face: number,
  sign: 1 | -1,
): number {
  const program = new Program(view.half > 0 ? unknowns : unknowns - 1)
  const slope = new Float64Array(unknowns)
  slope[face] = sign
  program.begin(slope, box.low, box.high)
  const row = emptyRow()
  for (let k = 0; k < 3; k++) {
    row.a.fill(0)
    row.a[3 + k] = 1
    row.a[k] = -1
    program.add(row.a, sizes[k].least)
    row.a[3 + k] = -1
    row.a[k] = 1
    if (Number.isFinite(sizes[k].most)) program.add(row.a, -sizes[k].most)
  }
  for (const wall of walls) {
    if (program.isFull) break
    wallRow(wall, view, box as Cell, row)
    program.add(row.a, row.b)
  }
  program.solve(200)
  return boundBy(program, slope, box)
}

/** Greatest slope·x + Σ weight·(a·x − b) over the box, rounded up. */
function boundBy({ n, rows, weights, count }: Program, slope: Float64Array, { low, high }: Extent): number {
  const sum = slope.slice()
  let bound = 0
  let size = 1
  for (let i = 0; i < count; i++) {
    if (!(weights[i] > 0)) continue
    for (let j = 0; j < n; j++) sum[j] += weights[i] * rows[i * (n + 1) + j]
    bound -= weights[i] * rows[i * (n + 1) + n]
    size += Math.abs(weights[i] * rows[i * (n + 1) + n])
  }
  for (let j = 0; j < unknowns; j++) {
    const most = sum[j] > 0 ? sum[j] * high[j] : sum[j] * low[j]
    bound += most
    size += Math.abs(most)
  }
  return bound + 1e-14 * size
}
