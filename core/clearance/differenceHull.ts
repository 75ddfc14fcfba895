import { orient3d } from 'robust-predicates'
import { cross, length, scale, type Vec3 } from '../shape/vec.ts'
import { BoundQueue } from './boundQueue.ts'
import { epsilon } from './nearest.ts'
import { type ConvexSet, supportOf } from './support.ts'

/**
 * The convex hull of points of the difference a − b of two convex sets, growing point by point, with the faces in a queue by
 * their distance from the origin. The side that a point lies on is decided exactly, so that the hull stays closed and
 * convex however thin its faces get; only the distances are rounded, and they come with what rounding can do.
 * Faces in the plane of a new point are replaced together with those it sees: no face without area can arise.
 */
export class DifferenceHull {
  points = 0
  w = new Float64Array(3 * 64)
  a = new Float64Array(3 * 64)
  b = new Float64Array(3 * 64)
  private faces = 0
  /** Three points a face, counter-clockwise from outside; neighbour k lies across the edge from corner k to k + 1. */
  corner = new Int32Array(3 * 256)
  private neighbour = new Int32Array(3 * 256)
  private alive = new Uint8Array(256)
  private mark = new Int32Array(256)
  private marked = 0
  /** Outward unit normal; of a face too thin to have one, the direction of its point nearest the origin (or 0). */
  normal = new Float64Array(3 * 256)
  /** Not more than the signed distance of the face from the origin, positive where the origin is on its inner side. */
  reachOf = new Float64Array(256)
  private queue = new BoundQueue()
  private rim: number[] = []
  private stack: number[] = []
  private byStart = new Int32Array(64)

  constructor(
    private readonly first: ConvexSet,
    private readonly second: ConvexSet,
  ) {}

  /** Support point of the difference along a direction, kept as the newest point (dropped again by `forgetLast`). */
  addSupport(dx: number, dy: number, dz: number): number {
    if (3 * this.points + 3 > this.w.length) {
      this.w = doubled(this.w)
      this.a = doubled(this.a)
      this.b = doubled(this.b)
      this.byStart = doubled(this.byStart)
    }
    const at = 3 * this.points
    supportOf(this.first, dx, dy, dz, this.a, at)
    supportOf(this.second, -dx, -dy, -dz, this.b, at)
    for (let k = at; k < at + 3; k++) this.w[k] = this.a[k] - this.b[k]
    return this.points++
  }

  forgetLast(): void {
    this.points--
  }

  /** Exactly decided: positive where point p sees the outer side of the triangle of points i, j, k. */
  private side(i: number, j: number, k: number, p: number): number {
    const { w } = this
    // The predicate is positive where i, j, k look clockwise from p.
    // biome-ignore format: four points, one a line
    return -orient3d(
      w[3 * i], w[3 * i + 1], w[3 * i + 2],
      w[3 * j], w[3 * j + 1], w[3 * j + 2],
      w[3 * k], w[3 * k + 1], w[3 * k + 2],
      w[3 * p], w[3 * p + 1], w[3 * p + 2],
    )
  }

  sees(p: number, face: number): number {
    const { corner } = this
    return this.side(corner[3 * face], corner[3 * face + 1], corner[3 * face + 2], p)
  }

  /** Begins with a tetrahedron of support points. @returns false where the difference has no volume in double precision. */
  begin(): boolean {
    const p = this.addSupport(1, 0, 0)
    const q = this.addSupport(-1, 0, 0)
    const r = this.farthestFromLine(p, q)
    const s = r < 0 ? -1 : this.farthestFromPlane(p, q, r)
    if (s < 0) return false
    if (this.side(p, q, r, s) < 0) this.setTetrahedron(p, q, r, s)
    else this.setTetrahedron(p, r, q, s)
    return true
  }

  /** From point i to point j. */
  private between(i: number, j: number): Vec3 {
    const { w } = this
    return [w[3 * j] - w[3 * i], w[3 * j + 1] - w[3 * i + 1], w[3 * j + 2] - w[3 * i + 2]]
  }

  /** Tries the four directions square to the line p–q; keeps the farthest point found. */
  private farthestFromLine(p: number, q: number): number {
    const e = this.between(p, q)
    const [x, y, z] = e.map(Math.abs)
    const least: Vec3 = x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1]
    const m = cross(e, least)
    const n = cross(e, m)
    let best = -1
    let far = 0
    for (const d of [m, scale(m, -1), n, scale(n, -1)]) {
      const i = this.addSupport(d[0], d[1], d[2])
      const area = length(cross(this.between(p, i), e))
      if (area > far) {
        far = area
        best = i
      }
    }
    return best
  }

  private farthestFromPlane(p: number, q: number, r: number): number {
    const n = cross(this.between(p, q), this.between(p, r))
    let best = -1
    let far = 0
    for (const d of [n, scale(n, -1)]) {
      const i = this.addSupport(d[0], d[1], d[2])
      const volume = Math.abs(this.side(p, q, r, i))
      if (volume > far) {
        far = volume
        best = i
      }
    }
    return best
  }

  /** s lies below the triangle p, q, r, so that each face is counter-clockwise from outside. */
  private setTetrahedron(p: number, q: number, r: number, s: number): void {
    this.addFace(p, q, r, 1, 2, 3)
    this.addFace(q, p, s, 0, 3, 2)
    this.addFace(r, q, s, 0, 1, 3)
    this.addFace(p, r, s, 0, 2, 1)
  }

  private addFace(i: number, j: number, k: number, ij: number, jk: number, ki: number): number {
    if (this.faces === this.alive.length) this.growFaces()
    const f = this.faces++
    const at = 3 * f
    this.corner[at] = i
    this.corner[at + 1] = j
    this.corner[at + 2] = k
    this.neighbour[at] = ij
    this.neighbour[at + 1] = jk
    this.neighbour[at + 2] = ki
    this.alive[f] = 1
    this.measure(f)
    this.putBack(f)
    return f
  }

  private growFaces(): void {
    this.corner = doubled(this.corner)
    this.neighbour = doubled(this.neighbour)
    this.mark = doubled(this.mark)
    this.normal = doubled(this.normal)
    this.reachOf = doubled(this.reachOf)
    this.alive = doubled(this.alive)
  }

  /** Plane of a face. One thinner than 1e-10 of its length has no normal: its edge nearest the origin stands for it. */
  private measure(f: number): void {
    const { w, corner, normal, reachOf } = this
    const i = 3 * corner[3 * f]
    const j = 3 * corner[3 * f + 1]
    const k = 3 * corner[3 * f + 2]
    const ux = w[j] - w[i]
    const uy = w[j + 1] - w[i + 1]
    const uz = w[j + 2] - w[i + 2]
    const vx = w[k] - w[i]
    const vy = w[k + 1] - w[i + 1]
    const vz = w[k + 2] - w[i + 2]
    const nx = uy * vz - uz * vy
    const ny = uz * vx - ux * vz
    const nz = ux * vy - uy * vx
    const n = Math.sqrt(nx * nx + ny * ny + nz * nz)
    const uv = Math.sqrt((ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz))
    if (!(n > 1e-10 * uv)) {
      reachOf[f] = Infinity
      this.measureEdge(f, i, j)
      this.measureEdge(f, j, k)
      this.measureEdge(f, k, i)
      return
    }
    normal[3 * f] = nx / n
    normal[3 * f + 1] = ny / n
    normal[3 * f + 2] = nz / n
    const p = Math.sqrt(w[i] * w[i] + w[i + 1] * w[i + 1] + w[i + 2] * w[i + 2])
    reachOf[f] = (nx * w[i] + ny * w[i + 1] + nz * w[i + 2]) / n - 8 * epsilon * (uv / n) * p
  }

  private measureEdge(f: number, i: number, j: number): void {
    const { w, normal } = this
    const x = w[j] - w[i]
    const y = w[j + 1] - w[i + 1]
    const z = w[j + 2] - w[i + 2]
    const ee = x * x + y * y + z * z
    const t = Math.min(1, Math.max(0, ee > 0 ? -(w[i] * x + w[i + 1] * y + w[i + 2] * z) / ee : 0))
    const px = w[i] + t * x
    const py = w[i + 1] + t * y
    const pz = w[i + 2] + t * z
    const d = Math.sqrt(px * px + py * py + pz * pz)
    if (d >= this.reachOf[f]) return
    this.reachOf[f] = d
    normal[3 * f] = d > 0 ? px / d : 0
    normal[3 * f + 1] = d > 0 ? py / d : 0
    normal[3 * f + 2] = d > 0 ? pz / d : 0
  }

  /** How far the sets reach beyond the plane of a face. */
  roomBeyond(f: number): number {
    const { normal } = this
    const p = 3 * this.addSupport(normal[3 * f], normal[3 * f + 1], normal[3 * f + 2])
    this.forgetLast()
    return (
      normal[3 * f] * this.w[p] +
      normal[3 * f + 1] * this.w[p + 1] +
      normal[3 * f + 2] * this.w[p + 2] -
      this.reachOf[f]
    )
  }

  isAlive(f: number): boolean {
    return this.alive[f] === 1
  }

  /** Face f or one beside it that strictly sees point p; −1 if none does. */
  faceSeenBy(p: number, f: number): number {
    if (this.sees(p, f) > 0) return f
    for (let k = 3 * f; k < 3 * f + 3; k++) if (this.sees(p, this.neighbour[k]) > 0) return this.neighbour[k]
    return -1
  }

  /**
   * Takes the newest point into the hull.
   * @param seen  a face that the point sees strictly
   * @returns false where the faces around it do not close (cannot happen while sides are decided exactly)
   */
  takeIn(seen: number): boolean {
    const p = this.points - 1
    const { rim, stack, mark, neighbour, corner, byStart } = this
    rim.length = 0
    stack.length = 0
    const round = ++this.marked
    mark[seen] = round
    stack.push(seen)
    while (stack.length > 0) {
      const f = stack.pop() as number
      this.alive[f] = 0
      for (let e = 0; e < 3; e++) {
        const g = neighbour[3 * f + e]
        if (mark[g] === round) continue
        if (this.sees(p, g) >= 0) {
          mark[g] = round
          stack.push(g)
        } else rim.push(f, e, g)
      }
    }
    const from = this.faces
    for (let i = 0; i < rim.length; i += 3) byStart[corner[3 * rim[i] + rim[i + 1]]] = -1
    for (let i = 0; i < rim.length; i += 3) {
      const u = corner[3 * rim[i] + rim[i + 1]]
      if (byStart[u] >= 0) return false
      byStart[u] = from + i / 3
    }
    for (let i = 0; i < rim.length; i += 3) {
      const f = rim[i]
      const e = rim[i + 1]
      const g = rim[i + 2]
      const u = this.corner[3 * f + e]
      const v = this.corner[3 * f + ((e + 1) % 3)]
      const added = this.addFace(u, v, p, g, byStart[v], -1)
      for (let k = 0; k < 3; k++)
        if (this.corner[3 * g + k] === v && this.corner[3 * g + ((k + 1) % 3)] === u) this.neighbour[3 * g + k] = added
    }
    for (let f = from; f < this.faces; f++) this.neighbour[3 * this.neighbour[3 * f + 1] + 2] = f
    return true
  }

  /** Takes the face of least `reachOf` from the queue, −1 when none is left; `putBack` undoes it. */
  takeNearest(): number {
    while (this.queue.take()) if (this.alive[this.queue.first] === 1) return this.queue.first
    return -1
  }

  putBack(f: number): void {
    if (f >= 0 && this.alive[f] === 1) this.queue.push(this.reachOf[f], f, 0)
  }
}

function doubled<T extends Float64Array | Int32Array | Uint8Array>(from: T): T {
  const to = new (from.constructor as new (length: number) => T)(2 * from.length)
  to.set(from)
  return to
}
