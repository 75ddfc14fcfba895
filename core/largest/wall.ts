import { dot, turnedBack, type Vec3 } from '../shape/vec.ts'
import type { Side } from './pieces.ts'
import { tiltAt, unknowns } from './unknowns.ts'
import type { View } from './view.ts'

/**
 * A point that follows the faces must lie on the far side of a plane: direction · point ≥ least, bay frame. Half-spaces
 * (every corner of every part), the region of the core's centre, a box to stay within, symmetry.
 */
export interface Wall {
  /** A keep-out by number, or what limit it stands for. */
  readonly from: number | string
  readonly part: string
  readonly direction: Vec3
  readonly point: readonly [Side, Side, Side]
  readonly least: number
}

/** Unknowns between two corners. */
export interface Box {
  readonly low: Float64Array
  readonly high: Float64Array
}

/** A row a·x ≥ b over the seven unknowns. */
export interface Row {
  readonly a: Float64Array
  b: number
}

export const emptyRow = (): Row => ({ a: new Float64Array(unknowns), b: 0 })

/**
 * A linear row that every core of the cell which keeps the wall keeps too. Without a range of tilts it is the wall itself;
 * with one the product of tilt and place lies under its tangent plane plus half widths (second order in the cell).
 */
export function wallRow({ direction, point, least }: Wall, view: View, cell: Box, row: Row): void {
  const { a } = row
  a.fill(0)
  const n = view.directionSeen(direction)
  row.b = least - dot(direction, view.pivot)
  addFollowers(row, n, point, 1)
  if (view.half === 0) return
  const rate = turnedBack(view.rate, direction)
  const from = cell.low[tiltAt]
  const to = cell.high[tiltAt]
  const middle = from / 2 + to / 2
  const spread = emptyRow()
  addFollowers(spread, rate, point, 1)
  const [low, high] = rangeOf(spread, cell)
  // tilt·l(x) ≤ tilt·l0 + middle·(l(x) − l0) + half tilt range · half range of l
  const l0 = low / 2 + high / 2
  addFollowers(row, rate, point, middle)
  a[tiltAt] += l0
  row.b += middle * l0
  row.b -= ((to - from) / 2) * ((high - low) / 2)
  row.b -= 0.5 * view.half * view.half * farthest(point, cell)
}

/** factor·(n·point) to the left side; its constant goes to the right. */
function addFollowers(row: Row, n: Vec3, point: Wall['point'], factor: number): void {
  for (let k = 0; k < 3; k++) {
    const by = factor * n[k]
    row.a[k] += by * point[k].onLow
    row.a[3 + k] += by * point[k].onHigh
    row.b -= by * point[k].offset
  }
}

/** Least and greatest a·x − b over the cell's faces. */
export function rangeOf({ a, b }: Row, { low, high }: Box): [number, number] {
  let [least, most] = [-b, -b]
  for (let j = 0; j < unknowns; j++) {
    least += a[j] > 0 ? a[j] * low[j] : a[j] * high[j]
    most += a[j] > 0 ? a[j] * high[j] : a[j] * low[j]
  }
  return [least, most]
}

function farthest(point: Wall['point'], { low, high }: Box): number {
  let squared = 0
  for (let k = 0; k < 3; k++) {
    const { onLow, onHigh, offset } = point[k]
    const from = onLow * low[k] + onHigh * low[3 + k] + offset
    const to = onLow * high[k] + onHigh * high[3 + k] + offset
    squared += Math.max(from * from, to * to)
  }
  return Math.sqrt(squared) * (1 + 1e-9)
}
