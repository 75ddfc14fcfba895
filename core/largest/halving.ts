import { depthAllowed, guard, obstacleStride } from './obstacles.ts'
import { pieceStride } from './pieces.ts'
import { type Cell, childOf, mostPieces, type Problem } from './problem.ts'
import { tiltAt, unknowns } from './unknowns.ts'
import { apartSquared } from './secant.ts'

/** A cell whose unknowns all lie in ranges shorter than this is not halved any more, mm. */
export const finest = 2e-7

/** Children of a cell between two sizes that can be had; undefined where no dimension is between two. */
export function bySize({ sizes }: Problem, cell: Cell, x: Float64Array, isClear: boolean): Cell[] | undefined {
  for (let k = 0; k < 3; k++) {
    const { most, least } = cell
    if (!sizes[k].stepped || most[k] - least[k] <= 1e-6) continue
    const length = x[3 + k] - x[k]
    let below = Math.max(least[k], sizes[k].down(length + 1e-7))
    if (below >= most[k] - 1e-6) below = sizes[k].down(most[k] - 1e-6)
    if (!(below >= least[k] - 1e-9)) continue
    const next = sizes[k].up(below + 1e-6)
    if (!isClear && Math.abs(length - below) <= 1e-6) continue
    const smaller = childOf(cell)
    smaller.most[k] = below
    const larger = childOf(cell)
    larger.least[k] = next
    return [smaller, larger]
  }
  return undefined
}

/**
 * Cuts one unknown in two where the program's point lies: there the secant becomes exact. The unknown whose pair is
 * most broken and whose secant stands highest above the squared gap; where nothing is broken the one of widest range.
 * @returns undefined where all ranges are too short: the cell cannot be told apart any more
 */
export function byHalving(
  problem: Problem,
  cell: Cell,
  x: Float64Array,
  broken: ArrayLike<number>,
): Cell[] | undefined {
  const best: Cut = { unknown: -1, at: 0, worth: 0 }
  const step = Math.max(1, broken.length / 64)
  for (let q = 0; q < broken.length; q += step) consider(problem, cell, x, broken[Math.floor(q)], best)
  if (best.unknown < 0 && !widest(problem, cell, best)) return undefined
  const [a, b] = [childOf(cell), childOf(cell)]
  a.high[best.unknown] = best.at
  b.low[best.unknown] = best.at
  return [a, b]
}

interface Cut {
  unknown: number
  at: number
  worth: number
}

function consider({ seen, pieces, shares }: Problem, cell: Cell, x: Float64Array, code: number, best: Cut): void {
  const n = seen.numbers
  const p = pieces.numbers
  const i = Math.floor(code / mostPieces)
  const t = code - i * mostPieces
  const o = i * obstacleStride
  const asked = n[o + 9] + pieces.tolerances[t]
  const deep = depthAllowed(asked)
  const wanted = asked + deep - guard.bound
  const { low, high, most } = cell
  const broken = 1 - apartSquared(n, p, o, t, x, deep) / (wanted * wanted)
  for (let k = 0; k < 3; k++)
    for (const isAbove of [true, false]) {
      const q = t * pieceStride + 6 * k + (isAbove ? 3 : 0)
      const sign = isAbove ? -1 : 1
      const w = -sign * n[o + 6 + k]
      const place = (isAbove ? n[o + k] - p[q + 2] : p[q + 2] - n[o + 3 + k]) + deep
      const u = place + w * x[tiltAt] + sign * (p[q] * x[k] + p[q + 1] * x[3 + k])
      const tilts = [w * low[tiltAt], w * high[tiltAt]]
      const faces = [p[q] * low[k] + p[q + 1] * low[3 + k], p[q] * high[k] + p[q + 1] * high[3 + k]]
      const least = place + Math.min(...tilts) + (isAbove ? -faces[1] : faces[0])
      const greatest = place + Math.max(...tilts) + (isAbove ? -faces[0] : faces[1])
      if (greatest <= 0) continue
      const top = Math.min(greatest, wanted)
      const bottom = Math.max(0, least)
      if (top - least < finest) continue
      const secant =
        (bottom * bottom + ((top * top - bottom * bottom) * (u - least)) / (top - least)) / (wanted * wanted)
      const over = secant - (Math.max(0, u) / wanted) ** 2
      // The unknown that moves the gap most over its range.
      const spans = [p[q] * (high[k] - low[k]), p[q + 1] * (high[3 + k] - low[3 + k]), Math.abs(tilts[1] - tilts[0])]
      const widestOf = spans.indexOf(Math.max(...spans))
      const unknown = widestOf === 2 ? tiltAt : widestOf === 1 ? 3 + k : k
      const slope = unknown === tiltAt ? w : sign * p[q + widestOf]
      const [from, to] = [low[unknown], high[unknown]]
      if (!(to - from > (unknown === tiltAt ? 1e-9 : finest))) continue
      let at = u > 0.15 * wanted ? x[unknown] : x[unknown] + (wanted / Math.SQRT2 - u) / slope
      const margin = 0.15 * (to - from)
      const near = Math.min(0.02, 0.1 * (to - from))
      if (!(at > from + near && at < to - near)) at = Math.min(to - margin, Math.max(from + margin, at))
      const share = shares[k] > 0 ? shares[k] / Math.max(1, most[k]) : 1e-4
      const give = Math.min(spans[widestOf], Math.abs(slope) * Math.max(at - from, to - at))
      const worth = (0.05 + broken) * (Math.max(0, over) + 0.02) * Math.min(1, (give * share) / 0.01 + 0.05)
      if (worth <= best.worth) continue
      best.worth = worth
      best.unknown = unknown
      best.at = at
    }
}

function widest({ shares, view }: Problem, { low, high, most }: Cell, best: Cut): boolean {
  let width = 0
  for (let j = 0; j < unknowns; j++) {
    const range = high[j] - low[j]
    if (!(range > (j === tiltAt ? 1e-9 : finest))) continue
    const share = j === tiltAt ? 0.3 : shares[j % 3] > 0 ? 1 / Math.max(1, most[j % 3]) : 1e-4
    if (j === tiltAt && view.half === 0) continue
    if (range * share <= width) continue
    width = range * share
    best.unknown = j
    best.at = (low[j] + high[j]) / 2
  }
  return width > 0
}
