import { ShapeUtils, Vector2 } from 'three'
import { GrowingIndices } from './growing.ts'

/** More corners than any face of a real part has; cutting ears takes up to the square of their number. */
export const mostCorners = 10_000

/**
 * Cuts the faces of a file into triangles.
 *
 * Loaders that fan every face are right for convex ones only: an L-shaped face of area 10 fans to triangles of total
 * area 18. Here a triangle passes, a convex quadrilateral is cut along its shorter diagonal, all else goes through an
 * ear-cutting library in the face's own plane, and the result's area is compared with the face's: a face that crosses
 * itself has no such triangles and is refused.
 */
export class FaceCutter {
  readonly triangles = new GrowingIndices()
  /** Faces of more than three corners that are not flat within 1e-6 of their size. */
  bentFaces = 0
  private readonly at: (vertex: number, axis: number) => number

  /** @param at coordinate of a vertex, any unit */
  constructor(at: (vertex: number, axis: number) => number) {
    this.at = at
  }

  /** @param corners vertex indices in range, in order; false: the face crosses itself */
  add(corners: readonly number[]): boolean {
    if (corners.length === 3) {
      this.triangles.push3(corners[0], corners[1], corners[2])
      return true
    }
    const loop = corners.filter((v, i) => v !== corners[(i + 1) % corners.length])
    if (loop.length < 3) return true
    if (loop.length === 3) return this.add(loop)
    const normal = this.normal(loop)
    const size = Math.hypot(...normal)
    // A face without area: its triangles have none either and are dropped and counted later.
    if (!(size > 0)) return this.fan(loop)
    if (this.depth(loop, normal, size) > 1e-6 * Math.sqrt(size)) this.bentFaces++
    if (loop.length === 4 && this.addConvexQuad(loop, normal)) return true
    return this.addByEars(loop, normal)
  }

  private fan(loop: readonly number[]): true {
    for (let i = 1; i + 1 < loop.length; i++) this.triangles.push3(loop[0], loop[i], loop[i + 1])
    return true
  }

  /** Twice the vector area (Newell): right for any closed loop, flat or not. */
  private normal(loop: readonly number[]): [number, number, number] {
    const n: [number, number, number] = [0, 0, 0]
    for (let i = 1; i + 1 < loop.length; i++) {
      const t = this.cross(loop[0], loop[i], loop[i + 1])
      for (let k = 0; k < 3; k++) n[k] += t[k]
    }
    return n
  }

  private cross(a: number, b: number, c: number): [number, number, number] {
    const at = this.at
    const ux = at(b, 0) - at(a, 0)
    const uy = at(b, 1) - at(a, 1)
    const uz = at(b, 2) - at(a, 2)
    const vx = at(c, 0) - at(a, 0)
    const vy = at(c, 1) - at(a, 1)
    const vz = at(c, 2) - at(a, 2)
    return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
  }

  /** How far the corners lie apart along the normal. */
  private depth(loop: readonly number[], n: readonly number[], size: number): number {
    let low = Number.POSITIVE_INFINITY
    let high = Number.NEGATIVE_INFINITY
    for (const v of loop) {
      const d = (n[0] * this.at(v, 0) + n[1] * this.at(v, 1) + n[2] * this.at(v, 2)) / size
      low = Math.min(low, d)
      high = Math.max(high, d)
    }
    return high - low
  }

  private addConvexQuad([a, b, c, d]: readonly number[], n: readonly number[]): boolean {
    const faces = (p: number, q: number, r: number) => {
      const t = this.cross(p, q, r)
      return t[0] * n[0] + t[1] * n[1] + t[2] * n[2] > 0
    }
    if (!(faces(a, b, c) && faces(b, c, d) && faces(c, d, a) && faces(d, a, b))) return false
    if (this.distance(a, c) <= this.distance(b, d)) {
      this.triangles.push3(a, b, c)
      this.triangles.push3(a, c, d)
    } else {
      this.triangles.push3(a, b, d)
      this.triangles.push3(b, c, d)
    }
    return true
  }

  private distance(a: number, b: number): number {
    return Math.hypot(this.at(a, 0) - this.at(b, 0), this.at(a, 1) - this.at(b, 1), this.at(a, 2) - this.at(b, 2))
  }

  private addByEars(loop: readonly number[], n: readonly number[]): boolean {
    // Dropping the normal's largest axis keeps the coordinates as they are; the order of the other two keeps the turn.
    const drop = [0, 1, 2].reduce((best, k) => (Math.abs(n[k]) > Math.abs(n[best]) ? k : best), 0)
    const [u, v] = n[drop] > 0 ? [(drop + 1) % 3, (drop + 2) % 3] : [(drop + 2) % 3, (drop + 1) % 3]
    const flat = loop.map((p) => new Vector2(this.at(p, u) - this.at(loop[0], u), this.at(p, v) - this.at(loop[0], v)))
    const area = ShapeUtils.area(flat)
    const cuts = ShapeUtils.triangulateShape([...flat], [])
    let covered = 0
    for (const [i, j, k] of cuts) covered += Math.abs(ShapeUtils.area([flat[i], flat[j], flat[k]]))
    if (Math.abs(covered - area) > 1e-9 * area) return false
    for (const [i, j, k] of cuts) {
      const turned = ShapeUtils.area([flat[i], flat[j], flat[k]]) < 0
      this.triangles.push3(loop[i], loop[turned ? k : j], loop[turned ? j : k])
    }
    return true
  }
}
