import { finishByFaces } from './gjkFaces.ts'
import { endWidth, epsilon, finish, type Nearest, roundingSlack } from './nearest.ts'
import { emptySimplex, refineInside, type Simplex, toNearest } from './simplex.ts'
import { type ConvexSet, supportOf } from './support.ts'

/** Most sets end within 12 rounds, cylinders within 30; what is not done by then goes to the slower, surer way. */
const rounds = 48

// Private to one call of `convexDistance`, which calls nothing back: no state survives it.
const simplex: Simplex = emptySimplex()

/**
 * Distance of two convex sets: polytope, cylinder, triangle, segment, disc or point, in any mix. Allocates nothing.
 * @param a, b  sets in one frame near the origin, mm
 * @param upTo  stop once the distance is proved to be at least this, mm; Infinity for never
 * @param out   receives the answer
 * @param dx, dy, dz  a guess of the direction from b to a, any length; 0, 0, 0 without one
 * Lower bound: the plane square to the present nearest difference, less `roundingSlack`. Upper bound: distance of
 * weighted sums of support points, which lie in the sets.
 * Error: atMost − atLeast ≤ `allowedWidth`, mostly `endWidth`, unless stopped is 'upTo' or 'limit'.
 * Edge cases: a common point gives atLeast 0 and `contact`; depth is not asked here. NaN among the coordinates: both
 * bounds NaN.
 * Source: E. G. Gilbert, D. W. Johnson, S. S. Keerthi, A fast procedure for computing the distance between complex objects
 *         in three-dimensional space (1988); bounds: G. van den Bergen, A fast and robust GJK implementation (1999);
 *         both from memory.
 */
export function convexDistance(a: ConvexSet, b: ConvexSet, upTo: number, out: Nearest, dx = 0, dy = 0, dz = 0): void {
  const s = simplex
  const { w, v } = s
  const slack = roundingSlack(a, b)
  const width = endWidth(a, b)
  s.n = 0
  if (!(slack < Infinity)) {
    notNumbers(out)
    return
  }
  if (dx === 0 && dy === 0 && dz === 0) {
    dx = a.points[0] - b.points[0]
    dy = a.points[1] - b.points[1]
    dz = a.points[2] - b.points[2]
    if (dx === 0 && dy === 0 && dz === 0) dx = 1
  }
  let lower = 0
  let upper = Infinity
  for (let round = 0; round < rounds; round++) {
    const at = 3 * s.n
    supportOf(a, -dx, -dy, -dz, s.a, at)
    supportOf(b, dx, dy, dz, s.b, at)
    const wx = s.a[at] - s.b[at]
    const wy = s.a[at + 1] - s.b[at + 1]
    const wz = s.a[at + 2] - s.b[at + 2]
    w[at] = wx
    w[at + 1] = wy
    w[at + 2] = wz
    const bound = (dx * wx + dy * wy + dz * wz) / Math.sqrt(dx * dx + dy * dy + dz * dz) - slack
    if (bound > lower) lower = bound
    if (lower >= upTo) {
      if (s.n === 0) {
        s.n = 1
        s.weight[0] = 1
      }
      finish(s, lower, 'upTo', 'none', out)
      return
    }
    // Not while nothing parts them: deep in each other, the origin may lie close to the first few points found.
    if (lower > 0 && upper - lower <= width) break
    if (isKnown(w, s.n, wx, wy, wz)) break
    s.n++
    if (!toNearest(s)) {
      finishInside(a, b, s, slack, out)
      return
    }
    const next = Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2])
    // A better direction need not come measurably nearer: over a wide face 1e-9 rad moves the bound, not the distance.
    if (next <= slack || next > upper + slack) break
    upper = next
    dx = v[0]
    dy = v[1]
    dz = v[2]
  }
  finish(s, lower, 'converged', 'none', out)
  if (out.atMost <= slack) {
    out.contact = 'touch'
    out.atLeast = 0
  } else if (out.atMost - out.atLeast > width) finishByFaces(a, b, upTo, s, out)
}

/** Coordinates that are not numbers: neither is the answer, and no caller can take it for one. */
function notNumbers(out: Nearest): void {
  out.atLeast = out.atMost = Number.NaN
  out.stopped = 'limit'
  out.contact = 'none'
}

/** A point found again: the plane bound is as good as this direction gives. */
function isKnown(w: Float64Array, n: number, x: number, y: number, z: number): boolean {
  for (let i = 0; i < 3 * n; i += 3) if (w[i] === x && w[i + 1] === y && w[i + 2] === z) return true
  return false
}

/**
 * Four points of the difference enclose the origin. Overlap is proved where the origin is farther from all four planes
 * than rounding reaches; else the common point only counts as touching, and only if the witnesses do coincide.
 */
function finishInside(a: ConvexSet, b: ConvexSet, s: Simplex, slack: number, out: Nearest): void {
  refineInside(s)
  finish(s, 0, 'converged', 'overlap', out)
  if (depthInTetrahedron(s.w) > slack) {
    out.atMost = 0
    return
  }
  out.contact = 'touch'
  if (out.atMost > slack) {
    out.contact = 'none'
    finishByFaces(a, b, Infinity, s, out)
  }
}

/** Distance of the origin to the nearest face plane of a tetrahedron that encloses it, less what flat faces lose to rounding. */
function depthInTetrahedron(w: Float64Array): number {
  let depth = Infinity
  for (let f = 0; f < 4; f++) {
    const i = 3 * f
    const j = 3 * ((f + 1) & 3)
    const k = 3 * ((f + 2) & 3)
    const ux = w[j] - w[i]
    const uy = w[j + 1] - w[i + 1]
    const uz = w[j + 2] - w[i + 2]
    const vx = w[k] - w[i]
    const vy = w[k + 1] - w[i + 1]
    const vz = w[k + 2] - w[i + 2]
    const nx = uy * vz - uz * vy
    const ny = uz * vx - ux * vz
    const nz = ux * vy - uy * vx
    const uv = Math.sqrt((ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz))
    const wi = Math.sqrt(w[i] * w[i] + w[i + 1] * w[i + 1] + w[i + 2] * w[i + 2])
    const volume = Math.abs(nx * w[i] + ny * w[i + 1] + nz * w[i + 2]) - 8 * epsilon * uv * wi
    const area = Math.sqrt(nx * nx + ny * ny + nz * nz) + 4 * epsilon * uv
    depth = Math.min(depth, volume / area)
  }
  return depth
}
