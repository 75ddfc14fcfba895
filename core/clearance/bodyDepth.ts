import type { Cylinder, Polytope } from '../shape/form.ts'

/**
 * How far points lie inside a convex body, mm: the radius of the largest ball about a point in the body, negative
 * outside. All three may stop early: once the depth is known to be no more than `floor`, any number up to that comes back.
 */
export interface BodyDepth {
  at(x: number, y: number, z: number, floor: number): number
  /** No point of the box (least x, y, z, greatest x, y, z from `at` on) is deeper, but for rounding. */
  overBox(boxes: Float64Array, at: number, floor: number): number
  /** No point of the triangle (nine numbers from `at` on) is deeper, but for rounding. */
  overTriangle(corners: Float64Array, at: number, floor: number): number
}

export const bodyDepth = (body: Polytope | Cylinder): BodyDepth =>
  body.kind === 'polytope' ? new PolytopeDepth(body) : new CylinderDepth(body)

/** Distance to the nearest face plane. Over a box or a triangle: plane by plane, at the corner farthest behind each. */
class PolytopeDepth implements BodyDepth {
  private readonly planes: Float64Array

  constructor({ planes }: Polytope) {
    this.planes = planes
  }

  at(x: number, y: number, z: number, floor: number): number {
    const { planes } = this
    let depth = Infinity
    for (let i = 0; i < planes.length && depth > floor; i += 4) {
      const d = planes[i + 3] - (planes[i] * x + planes[i + 1] * y + planes[i + 2] * z)
      if (d < depth) depth = d
    }
    return depth
  }

  overBox(b: Float64Array, at: number, floor: number): number {
    const { planes } = this
    let depth = Infinity
    for (let i = 0; i < planes.length && depth > floor; i += 4) {
      const d = planes[i + 3] - leastOverBox(b, at, planes[i], planes[i + 1], planes[i + 2])
      if (d < depth) depth = d
    }
    return depth
  }

  overTriangle(c: Float64Array, at: number, floor: number): number {
    const { planes } = this
    let depth = Infinity
    for (let i = 0; i < planes.length && depth > floor; i += 4) {
      const d = planes[i + 3] - leastOverTriangle(c, at, planes[i], planes[i + 1], planes[i + 2])
      if (d < depth) depth = d
    }
    return depth
  }
}

/**
 * Distance to the nearest of both end planes and the round side. Over a box or a triangle the side counts as the plane
 * that touches it where the middle is nearest to it: the cylinder lies behind that plane, so nothing is deeper.
 */
class CylinderDepth implements BodyDepth {
  private readonly from: readonly [number, number, number]
  private readonly axis: readonly [number, number, number]
  private readonly length: number
  private readonly radius: number
  /** Unit vector from the axis to the point asked for last; zero on the axis. */
  private nx = 0
  private ny = 0
  private nz = 0
  private off = 0
  private along = 0

  constructor({ from, to, radius }: Cylinder) {
    const [x, y, z] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
    this.length = Math.hypot(x, y, z)
    this.axis = [x / this.length, y / this.length, z / this.length]
    this.from = [from[0], from[1], from[2]]
    this.radius = radius
  }

  at(x: number, y: number, z: number): number {
    this.lookFrom(x, y, z)
    return Math.min(this.radius - this.off, this.along, this.length - this.along)
  }

  overBox(b: Float64Array, at: number): number {
    this.lookFrom((b[at] + b[at + 3]) / 2, (b[at + 1] + b[at + 4]) / 2, (b[at + 2] + b[at + 5]) / 2)
    const [fx, fy, fz] = this.from
    const [ax, ay, az] = this.axis
    const { nx, ny, nz } = this
    const start = ax * fx + ay * fy + az * fz
    return Math.min(
      this.radius - leastOverBox(b, at, nx, ny, nz) + nx * fx + ny * fy + nz * fz,
      -leastOverBox(b, at, -ax, -ay, -az) - start,
      this.length - leastOverBox(b, at, ax, ay, az) + start,
    )
  }

  overTriangle(c: Float64Array, at: number): number {
    const third = 1 / 3
    this.lookFrom(
      (c[at] + c[at + 3] + c[at + 6]) * third,
      (c[at + 1] + c[at + 4] + c[at + 7]) * third,
      (c[at + 2] + c[at + 5] + c[at + 8]) * third,
    )
    const [fx, fy, fz] = this.from
    const [ax, ay, az] = this.axis
    const { nx, ny, nz } = this
    const start = ax * fx + ay * fy + az * fz
    return Math.min(
      this.radius - leastOverTriangle(c, at, nx, ny, nz) + nx * fx + ny * fy + nz * fz,
      -leastOverTriangle(c, at, -ax, -ay, -az) - start,
      this.length - leastOverTriangle(c, at, ax, ay, az) + start,
    )
  }

  /** Where the point lies along the axis, how far off it, and which way. */
  private lookFrom(x: number, y: number, z: number): void {
    const px = x - this.from[0]
    const py = y - this.from[1]
    const pz = z - this.from[2]
    const [ax, ay, az] = this.axis
    const s = px * ax + py * ay + pz * az
    const qx = px - s * ax
    const qy = py - s * ay
    const qz = pz - s * az
    const l = Math.sqrt(qx * qx + qy * qy + qz * qz)
    this.along = s
    this.off = l
    // Near the axis the difference is rounding and would not be square to it: no plane then, which bounds by the radius.
    const isSure = l > 1e-9 * (Math.abs(px) + Math.abs(py) + Math.abs(pz))
    this.nx = isSure ? qx / l : 0
    this.ny = isSure ? qy / l : 0
    this.nz = isSure ? qz / l : 0
  }
}

/** Least n·x over a box. */
const leastOverBox = (b: Float64Array, at: number, nx: number, ny: number, nz: number): number =>
  nx * b[nx > 0 ? at : at + 3] + ny * b[ny > 0 ? at + 1 : at + 4] + nz * b[nz > 0 ? at + 2 : at + 5]

function leastOverTriangle(c: Float64Array, at: number, nx: number, ny: number, nz: number): number {
  const p = nx * c[at] + ny * c[at + 1] + nz * c[at + 2]
  const q = nx * c[at + 3] + ny * c[at + 4] + nz * c[at + 5]
  const r = nx * c[at + 6] + ny * c[at + 7] + nz * c[at + 8]
  return Math.min(p, q, r)
}
