import { depthAllowed, guard, obstacleStride } from './obstacles.ts'
import { pieceStride } from './pieces.ts'
import { type Cell, childOf, mostPieces, type Problem } from './problem.ts'
import { tiltAt } from './unknowns.ts'

/** A side of a piece stays clear of an obstacle by `by`: which unknown that bounds, and where. */
interface Literal {
  /** The face that the side follows most. */
  face: number
  /** The face must be no more (or, for low sides, no less) than `to` for the literal to hold. */
  isUpper: boolean
  to: number
  /** Where the literal does not hold, the face is no less (no more) than this; `to` where it follows one face alone. */
  otherwise: number
  /** Share of the dimension that is left. */
  left: number
}

/** Above this a way of branching is not worth it: about how many children count fully. */
const dearest = 2.5

/**
 * Branches a cell on the obstacle that leaves least: each child keeps one side of the piece clear of it by a share of the
 * wanted distance, and what an earlier child has is taken out of the later ones.
 * Any core that keeps the pair lies in a child: were every side of the six nearer than its share, the squares of the gaps
 * would come to less than the wanted distance's.
 * @returns the children, or undefined where no obstacle makes a good branching
 */
export function byObstacle(
  problem: Problem,
  cell: Cell,
  broken: ArrayLike<number>,
  wanted: number,
): Cell[] | undefined {
  const step = Math.max(1, broken.length / 48)
  let best: Literal[] | undefined
  let least = dearest
  for (let q = 0; q < broken.length; q += step) {
    const literals = literalsOf(problem, cell, broken[Math.floor(q)])
    if (!literals) continue
    const cost = costOf(problem, cell, literals, wanted)
    if (cost >= least) continue
    least = cost
    best = literals
  }
  return best && childrenOf(cell, best)
}

/** Undefined where a side that may keep the pair would not make the cell smaller. */
function literalsOf({ seen, pieces }: Problem, cell: Cell, code: number): Literal[] | undefined {
  const n = seen.numbers
  const p = pieces.numbers
  const i = Math.floor(code / mostPieces)
  const t = code - i * mostPieces
  const o = i * obstacleStride
  const asked = n[o + 9] + pieces.tolerances[t]
  const deep = depthAllowed(asked)
  const wanted = asked + deep - guard.bound
  const { low, high } = cell
  const ranges: { k: number; isAbove: boolean; least: number; most: number; from: number; to: number }[] = []
  const sure = [0, 0, 0]
  let axes = 0
  for (let k = 0; k < 3; k++) {
    const q = t * pieceStride + 6 * k
    const w = n[o + 6 + k]
    const from = Math.min(w * low[tiltAt], w * high[tiltAt])
    const to = Math.max(w * low[tiltAt], w * high[tiltAt])
    const above = n[o + k] - p[q + 5] + deep
    const below = n[o + 3 + k] - p[q + 2] - deep
    const aboveMost = above + to - p[q + 3] * low[k] - p[q + 4] * low[3 + k]
    const belowMost = p[q] * high[k] + p[q + 1] * high[3 + k] - below - from
    const aboveLeast = above + from - p[q + 3] * high[k] - p[q + 4] * high[3 + k]
    const belowLeast = p[q] * low[k] + p[q + 1] * low[3 + k] - below - to
    sure[k] = Math.max(aboveLeast, belowLeast, 0)
    if (aboveMost > 0) ranges.push({ k, isAbove: true, least: aboveLeast, most: aboveMost, from, to })
    if (belowMost > 0) ranges.push({ k, isAbove: false, least: belowLeast, most: belowMost, from, to })
    if (aboveMost > 0 || belowMost > 0) axes++
  }
  if (axes === 0) return undefined
  const open = Math.max(0, wanted * wanted - sure[0] * sure[0] - sure[1] * sure[1] - sure[2] * sure[2])
  const literals: Literal[] = []
  for (const { k, isAbove, most, from, to } of ranges) {
    const by = Math.sqrt(sure[k] * sure[k] + open / axes)
    if (most < by) continue
    const q = t * pieceStride + 6 * k
    // Above: side ≤ place + shift − by. Below: side ≥ place + shift + by.
    const place = isAbove ? n[o + k] + deep - by : n[o + 3 + k] - deep + by
    const literal = sideLiteral(p, isAbove ? q + 3 : q, k, isAbove, place, from, to, cell)
    if (!literal) return undefined
    literals.push(literal)
  }
  return literals
}

function sideLiteral(
  p: Float64Array,
  q: number,
  k: number,
  isUpper: boolean,
  place: number,
  from: number,
  to: number,
  { low, high }: Cell,
): Literal | undefined {
  const [onLow, onHigh, offset] = [p[q], p[q + 1], p[q + 2]]
  const face = onHigh > onLow ? 3 + k : k
  const other = face === k ? 3 + k : k
  const [onFace, onOther] = face === k ? [onLow, onHigh] : [onHigh, onLow]
  const at = (shift: number, otherFace: number) => (place + shift - offset - onOther * otherFace) / onFace
  const holds = isUpper ? at(to, low[other]) : at(from, high[other])
  const otherwise = isUpper ? at(from, high[other]) : at(to, low[other])
  const isSmaller = isUpper ? holds < high[face] - 1e-7 : holds > low[face] + 1e-7
  if (!isSmaller) return undefined
  const outer = high[3 + k] - low[k]
  let left = outer
  if (isUpper && face >= 3) left = Math.min(holds, high[face]) - low[k]
  else if (!isUpper && face < 3) left = high[3 + k] - Math.max(holds, low[face])
  return { face, isUpper, to: holds, otherwise, left: Math.max(0, left / outer) }
}

function costOf({ shares, sizes }: Problem, cell: Cell, literals: readonly Literal[], wanted: number): number {
  const { low, high, least, most } = cell
  const slack = Math.max(1e-12, cell.bound - wanted)
  let cost = 0
  for (const { face, isUpper, to, left } of literals) {
    const k = face % 3
    const outer = high[3 + k] - low[k]
    const whole = Math.min(most[k], outer)
    const length = sizes[k].down(Math.min(left * outer, most[k]))
    if (!(length >= least[k] - 1e-9)) continue
    let weight = 1
    if (shares[k] > 0 && length < whole) weight = 1 - (shares[k] * Math.log(whole / length)) / slack
    if (!(weight > 0)) continue
    const cut = isUpper ? (high[face] - to) / outer : (to - low[face]) / outer
    cost += 0.05 + weight - 0.02 * Math.max(0, cut)
  }
  return cost
}

/** The smallest first, so that the largest is left with least. */
function childrenOf(cell: Cell, literals: readonly Literal[]): Cell[] {
  const children: Cell[] = []
  const rest = childOf(cell)
  for (const { face, isUpper, to, otherwise } of [...literals].sort((a, b) => a.left - b.left)) {
    const child = childOf(rest)
    if (isUpper) child.high[face] = Math.min(child.high[face], to)
    else child.low[face] = Math.max(child.low[face], to)
    if (settle(child, face)) children.push(child)
    if (isUpper) rest.low[face] = Math.max(rest.low[face], otherwise)
    else rest.high[face] = Math.min(rest.high[face], otherwise)
    if (!settle(rest, face)) break
  }
  return children
}

/** Ends that cross by rounding meet; false where nothing is left. */
function settle({ low, high }: Cell, face: number): boolean {
  if (low[face] <= high[face]) return true
  if (low[face] > high[face] + 1e-9) return false
  low[face] = high[face]
  return true
}
