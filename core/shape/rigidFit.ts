import { bad, good, type Outcome } from '../fault.ts'
import { symmetricEigen } from './symmetricEigen.ts'
import {
  add,
  cross,
  distance,
  dot,
  length,
  type Mat3,
  scale,
  sub,
  turnAngles,
  turned,
  turnMatrix,
  unit,
  type Vec3,
} from './vec.ts'

/** One place seen twice: as the body's own numbers have it, and where it is in the bay, both mm. */
export interface PointPair {
  readonly from: Vec3
  readonly to: Vec3
}

/** Where a body lies that is known by some of its points. */
export interface RigidFit {
  readonly at: Vec3
  /** Degrees, as the bay file has them: a point p of the body lies at turn·p + at. */
  readonly turn: Vec3
  /** How far each pair is left apart, mm, in the order given. */
  readonly residuals: readonly number[]
  /** Root of the mean square of the residuals, mm. */
  readonly rootMeanSquare: number
}

export const leastPairs = 3
const mostPairs = 100

/** Points nearer to one line than this share of their extent leave the turn about it open. Common practice, no source. */
const leastSpread = 0.01

/**
 * The turn and shift, without mirroring or scaling, that lay points of a body onto points of the bay with the least sum of
 * squared distances.
 * @param pairs at least three, not on one line in either frame, mm
 * @returns faults 'too-few', 'too-many', 'not-finite', 'points-in-line' (field `from` or `to`: which side lies on a line)
 * Error: with exact pairs the residuals are a few units in the last place of the largest coordinate.
 * Source: B. K. P. Horn, Closed-form solution of absolute orientation using unit quaternions, J. Opt. Soc. Am. A 4 (1987)
 *         629: the quaternion is the eigenvector of the largest eigenvalue of a symmetric 4×4 matrix; from memory.
 */
export function rigidFit(pairs: readonly PointPair[]): Outcome<RigidFit> {
  if (pairs.length < leastPairs)
    return bad({ code: 'too-few', expected: `at least ${leastPairs} pairs of points`, got: pairs.length })
  if (pairs.length > mostPairs)
    return bad({ code: 'too-many', expected: `at most ${mostPairs} pairs of points`, got: pairs.length })
  const bare = pairs.flatMap(({ from, to }) => [...from, ...to]).find((x) => !Number.isFinite(x))
  if (bare !== undefined) return bad({ code: 'not-finite', expected: 'finite coordinates', got: String(bare) })
  for (const side of ['from', 'to'] as const) {
    const spread = spreadOf(pairs.map((pair) => pair[side]))
    if (!(spread >= leastSpread))
      return bad({ code: 'points-in-line', field: side, expected: 'points that do not lie on one line', got: spread })
  }
  const [fromMiddle, toMiddle] = [middleOf(pairs.map(({ from }) => from)), middleOf(pairs.map(({ to }) => to))]
  const own = pairs.map(({ from, to }) => ({ from: sub(from, fromMiddle), to: sub(to, toMiddle) }))
  // Through angles and back, so that the shift belongs to the turn as the bay file will hold it.
  const turn = turnAngles(bestTurn(own))
  const matrix = turnMatrix(turn)
  const at = sub(toMiddle, turned(matrix, fromMiddle))
  const residuals = pairs.map(({ from, to }) => distance(add(turned(matrix, from), at), to))
  const rootMeanSquare = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / residuals.length)
  return good({ at, turn, residuals, rootMeanSquare })
}

/**
 * What the misfit of the pairs says about where the rest of the body is: the expanded uncertainty (k = 2) of a point's
 * place in any one direction, at its largest over the given points, mm.
 * @param pairs those of the fit; with three of them the misfit is known from few readings, and so is this
 * @param points of the body, its own frame, mm: corners of its bounds are the farthest that it can have
 * @returns 0 where the pairs fit exactly
 * Source: J. M. Fitzpatrick, J. B. West, C. R. Maurer, Predicting error in rigid-body point-based registration, IEEE
 *         Trans. Med. Imaging 17 (1998) 694: TRE² = FLE²/N · (1 + ⅓ Σ d²/f²), FLE² = FRE² · N/(N − 2); from memory.
 */
export function fitUncertainty(fit: RigidFit, pairs: readonly PointPair[], points: readonly Vec3[]): number {
  const n = pairs.length
  const middle = middleOf(pairs.map(({ from }) => from))
  const own = pairs.map(({ from }) => sub(from, middle))
  const axes = principalAxes(own)
  // Mean squared distances of the pairs from each principal axis.
  const spreads = axes.map((axis) => own.reduce((sum, p) => sum + length(cross(p, axis)) ** 2, 0) / n)
  const located = (fit.rootMeanSquare ** 2 * n) / (n - 2)
  const worst = points.reduce((most, point) => {
    const p = sub(point, middle)
    const lever = axes.reduce((sum, axis, k) => sum + length(cross(p, axis)) ** 2 / spreads[k], 0)
    return Math.max(most, (located / n) * (1 + lever / 3))
  }, 0)
  return 2 * Math.sqrt(worst / 3)
}

const middleOf = (points: readonly Vec3[]): Vec3 =>
  scale(
    points.reduce((sum, p) => add(sum, p), [0, 0, 0] as Vec3),
    1 / points.length,
  )

/** How far the points reach off their best line, as a share of their extent along it; 0 where they are one point. */
function spreadOf(points: readonly Vec3[]): number {
  const extent = Math.max(...points.flatMap((p) => points.map((q) => distance(p, q))))
  if (!(extent > 0)) return 0
  const [a, b] = farthestPair(points)
  const way = unit(sub(b, a))
  return Math.max(...points.map((p) => length(cross(sub(p, a), way)))) / extent
}

function farthestPair(points: readonly Vec3[]): [Vec3, Vec3] {
  let best: [Vec3, Vec3] = [points[0], points[0]]
  for (const p of points) for (const q of points) if (distance(p, q) > distance(...best)) best = [p, q]
  return best
}

function principalAxes(points: readonly Vec3[]): Vec3[] {
  const m = [0, 1, 2].map((i) => [0, 1, 2].map((j) => points.reduce((sum, p) => sum + p[i] * p[j], 0)))
  return symmetricEigen(m).map(({ vector }) => vector as unknown as Vec3)
}

/** The turn for pairs about their middles. */
function bestTurn(pairs: readonly PointPair[]): Mat3 {
  // Scaled, so that squares of tiny and huge bodies neither vanish nor overflow.
  const size = Math.max(...pairs.flatMap(({ from, to }) => [length(from), length(to)]))
  const s = (i: number, j: number) => pairs.reduce((sum, { from, to }) => sum + (from[i] / size) * (to[j] / size), 0)
  const [xx, xy, xz] = [s(0, 0), s(0, 1), s(0, 2)]
  const [yx, yy, yz] = [s(1, 0), s(1, 1), s(1, 2)]
  const [zx, zy, zz] = [s(2, 0), s(2, 1), s(2, 2)]
  const n = [
    [xx + yy + zz, yz - zy, zx - xz, xy - yx],
    [yz - zy, xx - yy - zz, xy + yx, zx + xz],
    [zx - xz, xy + yx, yy - xx - zz, yz + zy],
    [xy - yx, zx + xz, yz + zy, zz - xx - yy],
  ]
  const [{ vector }] = symmetricEigen(n)
  return quaternionMatrix(vector)
}

function quaternionMatrix([w, x, y, z]: readonly number[]): Mat3 {
  const rows: Vec3[] = [
    [w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z],
  ]
  const square = dot(rows[0], rows[0])
  return rows.flatMap((row) => scale(row, 1 / Math.sqrt(square))) as unknown as Mat3
}
