import { depthAllowed, guard, obstacleStride } from './obstacles.ts'
import { pieceStride } from './pieces.ts'
import { type Cell, mostPieces, type Problem } from './problem.ts'
import { tiltAt } from './unknowns.ts'

/** A face may pass the other end of its range by this and count as on it, mm. */
export const crossing = 1e-9

export const kept = 0
export const open = 1
export const broken = -1

// Private to one call: greatest gaps on both sides of each axis.
const above = new Float64Array(3)
const below = new Float64Array(3)
const most = new Float64Array(3)

/** Whether a call of `standing` moved a face; set, never cleared, by it. */
export const moved = { faces: false }

/**
 * How a pair of obstacle and piece stands in a cell: kept by every core, broken by every core, or open. Where only one
 * side of the piece can still keep it clear, the faces that this side follows are drawn in.
 */
export function standing(problem: Problem, cell: Cell, code: number): number {
  const n = problem.seen.numbers
  const p = problem.pieces.numbers
  const i = Math.floor(code / mostPieces)
  const t = code - i * mostPieces
  const o = i * obstacleStride
  const asked = n[o + 9] + problem.pieces.tolerances[t]
  const deep = depthAllowed(asked)
  const apart = asked + deep
  const { low, high } = cell
  let sure = 0
  let room = 0
  for (let k = 0; k < 3; k++) {
    const q = t * pieceStride + 6 * k
    const a = n[o + 6 + k] * low[tiltAt]
    const b = n[o + 6 + k] * high[tiltAt]
    const least = Math.min(a, b)
    const greatest = Math.max(a, b)
    // The point beyond the high side, the point below the low side.
    const abovePlace = n[o + k] - p[q + 5] + deep
    const belowPlace = p[q + 2] - n[o + 3 + k] + deep
    const aboveLeast = abovePlace + least - p[q + 3] * high[k] - p[q + 4] * high[3 + k]
    const belowLeast = belowPlace - greatest + p[q] * low[k] + p[q + 1] * low[3 + k]
    const gap = Math.max(aboveLeast, belowLeast)
    if (gap > 0) {
      if (gap >= apart) return kept
      sure += gap * gap
    }
    above[k] = abovePlace + greatest - p[q + 3] * low[k] - p[q + 4] * low[3 + k]
    below[k] = belowPlace - least + p[q] * high[k] + p[q + 1] * high[3 + k]
    const far = Math.min(apart, Math.max(above[k], below[k], 0))
    most[k] = far * far
    room += most[k]
  }
  if (sure >= apart * apart) return kept
  const wanted = apart - guard.bound
  const squared = wanted > 0 ? wanted * wanted : 0
  if (room < squared) return broken
  for (let k = 0; k < 3; k++) {
    const missing = squared - (room - most[k])
    if (missing <= 0) continue
    const by = Math.sqrt(missing)
    const canAbove = above[k] >= by - crossing
    const canBelow = below[k] >= by - crossing
    if (!canAbove && !canBelow) return broken
    if (canAbove === canBelow) continue
    const isPossible = canAbove
      ? drawHigh(problem, cell, o, t, k, by - deep)
      : drawLow(problem, cell, o, t, k, by - deep)
    if (!isPossible) return broken
  }
  return open
}

/** The piece's high side along an axis must lie below the obstacle by `by`. */
function drawHigh({ seen, pieces }: Problem, cell: Cell, o: number, t: number, k: number, by: number): boolean {
  const { numbers: n } = seen
  const { numbers: p } = pieces
  const q = t * pieceStride + 6 * k
  const shift = Math.max(n[o + 6 + k] * cell.low[tiltAt], n[o + 6 + k] * cell.high[tiltAt])
  const most = n[o + k] + shift - by - p[q + 5]
  return drawFollower(cell, k, p[q + 3], p[q + 4], most)
}

/** onLow·(low face) + onHigh·(high face) ≤ most, for what each face can still be. */
export function drawFollower({ low, high }: Cell, k: number, onLow: number, onHigh: number, most: number): boolean {
  if (onLow > 0 && !lowerTo(low, high, k, (most - onHigh * low[3 + k]) / onLow)) return false
  return onHigh > 0 ? lowerTo(low, high, 3 + k, (most - onLow * low[k]) / onHigh) : true
}

function drawLow({ seen, pieces }: Problem, cell: Cell, o: number, t: number, k: number, by: number): boolean {
  const { numbers: n } = seen
  const { numbers: p } = pieces
  const q = t * pieceStride + 6 * k
  const shift = Math.min(n[o + 6 + k] * cell.low[tiltAt], n[o + 6 + k] * cell.high[tiltAt])
  const least = n[o + 3 + k] + shift + by - p[q + 2]
  const { low, high } = cell
  if (p[q] > 0 && !raiseTo(low, high, k, (least - p[q + 1] * high[3 + k]) / p[q])) return false
  return p[q + 1] > 0 ? raiseTo(low, high, 3 + k, (least - p[q] * high[k]) / p[q + 1]) : true
}

/** Both say whether anything is left. */
export function lowerTo(low: Float64Array, high: Float64Array, face: number, to: number): boolean {
  if (to >= high[face] - crossing) return true
  if (to < low[face] - crossing) return false
  moved.faces = true
  high[face] = Math.max(to, low[face])
  return true
}

export function raiseTo(low: Float64Array, high: Float64Array, face: number, to: number): boolean {
  if (to <= low[face] + crossing) return true
  if (to > high[face] + crossing) return false
  moved.faces = true
  low[face] = Math.min(to, high[face])
  return true
}
