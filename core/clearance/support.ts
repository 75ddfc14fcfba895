import type { Cylinder, Polytope } from '../shape/form.ts'

/**
 * What the convex kernel works on: the convex hull of `count` points, thickened by one flat disc of `radius`
 * spanned by the orthonormal `u`, `v`. Radius 0: polytope, triangle, segment, point. One point and a radius: disc.
 * Two points and a radius, disc square to their line: cylinder. One shape of record for all of them keeps the kernel
 * fast (the engine sees one layout only) and lets a caller refill the same record for triangle after triangle.
 */
export interface ConvexSet {
  /** x, y, z after each other, mm; may be longer than 3·count. */
  points: Float64Array
  count: number
  radius: number
  ux: number
  uy: number
  uz: number
  vx: number
  vy: number
  vz: number
  /** No coordinate of the set is larger than this, mm; rounding slack is counted from it. */
  reach: number
}

/** An empty set to be refilled with `setTriangle`, `setSegment` or `setDisc`. */
export function emptySet(): ConvexSet {
  return { points: new Float64Array(9), count: 0, radius: 0, ux: 0, uy: 0, uz: 0, vx: 0, vy: 0, vz: 0, reach: 0 }
}

/** NaN where one of the numbers is: it must not be lost on the way to the answer. */
function largest(points: Float64Array, length: number): number {
  let reach = 0
  for (let i = 0; i < length; i++) reach = Math.max(reach, Math.abs(points[i]))
  return reach
}

/** The set of a convex body; vertices are shared, not copied. A set made once may be used again and again. */
export function setOf(body: Polytope | Cylinder): ConvexSet {
  return body.kind === 'polytope' ? setPolytope(emptySet(), body) : setRod(emptySet(), body)
}

/** `set` is for polytopes only from then on: its points are the body's own and must not be written to. */
function setPolytope(set: ConvexSet, { vertices }: Polytope): ConvexSet {
  set.points = vertices
  set.count = vertices.length / 3
  set.reach = largest(vertices, vertices.length)
  return set
}

function setRod(set: ConvexSet, { from, to, radius }: Cylinder): ConvexSet {
  setSegment(set, from[0], from[1], from[2], to[0], to[1], to[2])
  setDiscFrame(set, radius, to[0] - from[0], to[1] - from[1], to[2] - from[2])
  return set
}

/** Room for the set of one convex body after another: making sets anew costs more than most searches. */
export class BodySet {
  private readonly polytope = emptySet()
  private readonly rod = emptySet()

  /** As `setOf`, good until the next call. */
  of(body: Polytope | Cylinder): ConvexSet {
    return body.kind === 'polytope' ? setPolytope(this.polytope, body) : setRod(this.rod, body)
  }
}

/** Refills `set` as the triangle whose nine coordinates start at `corners[at]`. */
export function setTriangle(set: ConvexSet, corners: ArrayLike<number>, at = 0): ConvexSet {
  const { points } = set
  for (let i = 0; i < 9; i++) points[i] = corners[at + i]
  set.count = 3
  set.radius = 0
  set.reach = largest(points, 9)
  return set
}

/** Refills `set` as a segment; equal ends make it a point. */
export function setSegment(
  set: ConvexSet,
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
): ConvexSet {
  const { points } = set
  points[0] = ax
  points[1] = ay
  points[2] = az
  points[3] = bx
  points[4] = by
  points[5] = bz
  set.count = 2
  set.radius = 0
  set.reach = largest(points, 6)
  return set
}

/** Refills `set` as the flat disc about a centre, square to (nx, ny, nz), which need not be unit but is not zero. */
export function setDisc(
  set: ConvexSet,
  cx: number,
  cy: number,
  cz: number,
  nx: number,
  ny: number,
  nz: number,
  radius: number,
): ConvexSet {
  set.points[0] = cx
  set.points[1] = cy
  set.points[2] = cz
  set.count = 1
  set.reach = largest(set.points, 3)
  setDiscFrame(set, radius, nx, ny, nz)
  return set
}

/** Thickens `set` by a disc square to (nx, ny, nz): a segment along it becomes a cylinder. */
export function setDiscFrame(set: ConvexSet, radius: number, nx: number, ny: number, nz: number): void {
  // Scaled first, so that neither 1e-6 nor 1e6 mm long axes lose digits; the smallest component is farthest from the axis.
  const size = Math.max(Math.abs(nx), Math.abs(ny), Math.abs(nz))
  const x = nx / size
  const y = ny / size
  const z = nz / size
  let ux = 0
  let uy = 0
  let uz = 0
  if (Math.abs(x) <= Math.abs(y) && Math.abs(x) <= Math.abs(z)) {
    uy = z
    uz = -y
  } else if (Math.abs(y) <= Math.abs(z)) {
    ux = -z
    uz = x
  } else {
    ux = y
    uy = -x
  }
  const u = Math.sqrt(ux * ux + uy * uy + uz * uz)
  ux /= u
  uy /= u
  uz /= u
  const vx = y * uz - z * uy
  const vy = z * ux - x * uz
  const vz = x * uy - y * ux
  const v = Math.sqrt(vx * vx + vy * vy + vz * vz)
  set.radius = radius
  set.ux = ux
  set.uy = uy
  set.uz = uz
  set.vx = vx / v
  set.vy = vy / v
  set.vz = vz / v
  set.reach += radius
}

/** Writes the point of `set` farthest along (dx, dy, dz) to out[at…at + 2]; no need for a unit direction. */
export function supportOf(set: ConvexSet, dx: number, dy: number, dz: number, out: Float64Array, at: number): void {
  const { points } = set
  const end = 3 * set.count
  let best = points[0] * dx + points[1] * dy + points[2] * dz
  let k = 0
  for (let i = 3; i < end; i += 3) {
    const d = points[i] * dx + points[i + 1] * dy + points[i + 2] * dz
    if (d > best) {
      best = d
      k = i
    }
  }
  out[at] = points[k]
  out[at + 1] = points[k + 1]
  out[at + 2] = points[k + 2]
  if (set.radius > 0) addRim(set, dx, dy, dz, out, at)
}

/**
 * Works in the disc's own (u, v): for a direction nearly along the axis the in-plane part is rounding noise, and
 * d − (d·axis)·axis would leave the plane of the disc by up to its radius.
 */
function addRim(set: ConvexSet, dx: number, dy: number, dz: number, out: Float64Array, at: number): void {
  const p = set.ux * dx + set.uy * dy + set.uz * dz
  const q = set.vx * dx + set.vy * dy + set.vz * dz
  const l = Math.sqrt(p * p + q * q)
  if (!(l > 0)) return
  const s = (set.radius * p) / l
  const t = (set.radius * q) / l
  out[at] += s * set.ux + t * set.vx
  out[at + 1] += s * set.uy + t * set.vy
  out[at + 2] += s * set.uz + t * set.vz
}

/**
 * Farthest point of a convex body along a direction.
 * @param body frame of the caller, mm
 * @param out  receives x, y, z at 0, 1, 2
 * Edge cases: square to a face any point of it; along a cylinder's axis a point of its end disc.
 */
export function support(body: Polytope | Cylinder, dx: number, dy: number, dz: number, out: Float64Array): void {
  supportOf(setOf(body), dx, dy, dz, out, 0)
}
