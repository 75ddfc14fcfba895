import { depthAllowed, guard, obstacleStride } from './obstacles.ts'
import { pieceStride } from './pieces.ts'
import { type Cell, mostPieces, type Problem } from './problem.ts'
import { tiltAt } from './unknowns.ts'
import type { Row } from './wall.ts'

/**
 * A linear row that every core of the cell which keeps a pair clear keeps too, in shares of the wanted distance squared.
 * The gap on a side of an axis is linear in the unknowns, u; its square (where positive) lies under its secant over the
 * range of u, cut off at the wanted distance. All sides together must come to 1.
 * @returns false where no side can bring anything: nothing is then left of the cell
 */
export function secantRow({ seen, pieces }: Problem, cell: Cell, code: number, row: Row): boolean {
  const n = seen.numbers
  const p = pieces.numbers
  const i = Math.floor(code / mostPieces)
  const t = code - i * mostPieces
  const o = i * obstacleStride
  const asked = n[o + 9] + pieces.tolerances[t]
  const deep = depthAllowed(asked)
  const wanted = asked + deep - guard.bound
  const { low, high } = cell
  const { a } = row
  a.fill(0)
  let constant = 0
  let isPossible = false
  for (let k = 0; k < 3; k++) {
    const q = t * pieceStride + 6 * k
    const w = n[o + 6 + k]
    const from = Math.min(w * low[tiltAt], w * high[tiltAt])
    const to = Math.max(w * low[tiltAt], w * high[tiltAt])
    // Beyond the high side: u = place + w·tilt − high side.
    let place = n[o + k] - p[q + 5] + deep
    let most = place + to - p[q + 3] * low[k] - p[q + 4] * low[3 + k]
    if (most > 0) {
      const least = place + from - p[q + 3] * high[k] - p[q + 4] * high[3 + k]
      const slope = secantSlope(least, most, wanted)
      if (slope > 0) {
        a[k] -= slope * p[q + 3]
        a[3 + k] -= slope * p[q + 4]
        a[tiltAt] += slope * w
        constant += slope * (place - least)
      }
      constant += atLeastShare(slope, least, most, wanted)
      isPossible = true
    }
    // Below the low side: u = low side − place − w·tilt.
    place = n[o + 3 + k] - p[q + 2] - deep
    most = p[q] * high[k] + p[q + 1] * high[3 + k] - place - from
    if (most > 0) {
      const least = p[q] * low[k] + p[q + 1] * low[3 + k] - place - to
      const slope = secantSlope(least, most, wanted)
      if (slope > 0) {
        a[k] += slope * p[q]
        a[3 + k] += slope * p[q + 1]
        a[tiltAt] -= slope * w
        constant -= slope * (place + least)
      }
      constant += atLeastShare(slope, least, most, wanted)
      isPossible = true
    }
  }
  row.b = 1 - constant
  return isPossible
}

/** Slope of the secant of (u/wanted)² over [least, min(most, wanted)]; 0 where the range is too short to have one. */
function secantSlope(least: number, most: number, wanted: number): number {
  const top = Math.min(most, wanted)
  if (top - least < 1e-9) return 0
  const bottom = least > 0 ? least / wanted : 0
  const full = top / wanted
  return (full * full - bottom * bottom) / (top - least)
}

/** What the secant stands at where u is least; without a slope the most that u can bring. */
function atLeastShare(slope: number, least: number, most: number, wanted: number): number {
  const at = slope > 0 ? least : Math.min(most, wanted)
  return at > 0 ? (at / wanted) * (at / wanted) : 0
}

/**
 * Distance of an obstacle from a piece at given faces and tilt, squared, mm²; 0 where it lies within on all axes.
 * @param deep all gaps are counted from this depth, mm: see `depthAllowed`
 */
export function apartSquared(
  n: Float64Array,
  p: Float64Array,
  o: number,
  t: number,
  x: Float64Array,
  deep = 0,
): number {
  let squared = 0
  for (let k = 0; k < 3; k++) {
    const q = t * pieceStride + 6 * k
    const shift = n[o + 6 + k] * x[tiltAt]
    const above = n[o + k] + shift - p[q + 5] - p[q + 3] * x[k] - p[q + 4] * x[3 + k]
    const below = p[q + 2] + p[q] * x[k] + p[q + 1] * x[3 + k] - n[o + 3 + k] - shift
    const gap = Math.max(above, below) + deep
    if (gap > 0) squared += gap * gap
  }
  return squared
}

/** By how much a pair is broken at a point, mm, with the depth of what lies within; not above 0 where it is kept. */
export function brokenBy({ seen, pieces }: Problem, code: number, x: Float64Array): number {
  const i = Math.floor(code / mostPieces)
  const t = code - i * mostPieces
  const o = i * obstacleStride
  const asked = seen.numbers[o + 9] + pieces.tolerances[t]
  const deep = depthAllowed(asked)
  const wanted = asked + deep - guard.bound
  const squared = apartSquared(seen.numbers, pieces.numbers, o, t, x, deep)
  if (squared >= wanted * wanted) return -1
  return squared > 0 ? wanted - Math.sqrt(squared) : wanted + depthWithin(seen.numbers, pieces.numbers, o, t, x) - deep
}

/** How far an obstacle that lies within a piece on all axes is from its nearest side, mm. */
function depthWithin(n: Float64Array, p: Float64Array, o: number, t: number, x: Float64Array): number {
  let depth = Infinity
  for (let k = 0; k < 3; k++) {
    const q = t * pieceStride + 6 * k
    const shift = n[o + 6 + k] * x[tiltAt]
    const above = n[o + k] + shift - p[q + 5] - p[q + 3] * x[k] - p[q + 4] * x[3 + k]
    const below = p[q + 2] + p[q] * x[k] + p[q + 1] * x[3 + k] - n[o + 3 + k] - shift
    depth = Math.min(depth, -above, -below)
  }
  return depth
}
