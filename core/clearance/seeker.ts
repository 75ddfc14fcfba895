import type { Cylinder, MeshForm, Polytope } from '../shape/form.ts'
import { add, placed, placedBack, sub, type Vec3 } from '../shape/vec.ts'
import type { MeshTree } from './meshTree.ts'
import { type ConvexSet, emptySet, setDisc, setDiscFrame, setSegment, supportOf } from './support.ts'

/** From the common frame into a tree's and back; the pose may mirror, distances stay. */
export const intoTree = (form: MeshForm, tree: MeshTree, point: Vec3): Vec3 =>
  sub(placedBack(form.pose, point), tree.centre)
export const outOfTree = (form: MeshForm, tree: MeshTree, point: Vec3): Vec3 =>
  placed(form.pose, add(point, tree.centre))

/**
 * A convex set in a tree's frame with what bounds it cheaply. Made once and filled again and again: parts ask in every
 * frame of a drag, and new arrays would cost more than the search.
 */
export class Seeker {
  readonly set: ConvexSet = emptySet()
  /** Least x, y, z, greatest x, y, z, mm. */
  readonly box = new Float64Array(6)
  /**
   * Planes that the set lies behind, four numbers each: n·x ≤ offset, |n| = 1; those from `planeStart` to `planeEnd`
   * count. The first one is turned to where the nearest pair so far points (`face`).
   */
  planes = new Float64Array(64)
  planeStart = 4
  planeEnd = 4
  /** Size of the numbers that were lost when the set was carried into the tree's frame, mm; rounding is counted from it. */
  carried = 0
  private readonly foremost = new Float64Array(3)
  /** Its planes are not carried along before they are needed: a part that its box keeps away does without. */
  private waiting: { body: Polytope; form: MeshForm; tree: MeshTree } | undefined

  /** A convex body, given in the common frame. */
  fill(body: Polytope | Cylinder, form: MeshForm, tree: MeshTree): this {
    const { at } = form.pose
    const [x, y, z] = tree.centre
    this.carried = Math.abs(at[0]) + Math.abs(at[1]) + Math.abs(at[2]) + Math.abs(x) + Math.abs(y) + Math.abs(z)
    this.withoutPlanes()
    if (body.kind === 'cylinder') this.fillCylinder(cylinderInTree(body, form, tree))
    else this.fillPolytope(body, form, tree)
    return this
  }

  /** A single point, tree frame. */
  fillPoint(x: number, y: number, z: number): this {
    setDisc(this.set, x, y, z, 0, 0, 1, 0)
    this.carried = 0
    this.withoutPlanes()
    this.box[0] = this.box[3] = x
    this.box[1] = this.box[4] = y
    this.box[2] = this.box[5] = z
    return this
  }

  private fillPolytope(body: Polytope, form: MeshForm, tree: MeshTree): void {
    const { set, box } = this
    const n = body.vertices.length
    if (set.points.length < n) set.points = new Float64Array(2 * n)
    carryVertices(body.vertices, form, tree, set.points)
    const sum = boxPoints(set.points, n, box)
    set.count = n / 3
    set.radius = 0
    // Not-a-number passes every comparison above unseen; it must come out again.
    set.reach = Math.max(farthestCoordinate(box), 0 * sum)
    // Room now: the first plane may be turned before the others are carried.
    if (this.planes.length < body.planes.length + 4) this.planes = new Float64Array(2 * body.planes.length + 4)
    this.waiting = { body, form, tree }
  }

  private fillCylinder({ from, to, radius }: Cylinder): void {
    const { set, box } = this
    setSegment(set, from[0], from[1], from[2], to[0], to[1], to[2])
    const d = sub(to, from)
    setDiscFrame(set, radius, d[0], d[1], d[2])
    const squared = d[0] * d[0] + d[1] * d[1] + d[2] * d[2]
    for (let k = 0; k < 3; k++) {
      // Half the extent of a disc along an axis: its radius times the sine of the angle between the two.
      const half = radius * Math.sqrt(Math.max(0, 1 - (d[k] * d[k]) / squared)) * (1 + 1e-15)
      box[k] = Math.min(from[k], to[k]) - half
      box[3 + k] = Math.max(from[k], to[k]) + half
    }
    const l = Math.sqrt(squared)
    const [ax, ay, az] = [d[0] / l, d[1] / l, d[2] / l]
    this.addPlanePair(ax, ay, az, from, to, 0)
    this.addPlanePair(set.ux, set.uy, set.uz, from, from, radius)
    this.addPlanePair(set.vx, set.vy, set.vz, from, from, radius)
  }

  /** Planes square to n through `low` and `high`, each `by` further out. */
  private addPlanePair(nx: number, ny: number, nz: number, low: Vec3, high: Vec3, by: number): void {
    const { planes } = this
    const at = this.planeEnd
    planes.set([nx, ny, nz, nx * high[0] + ny * high[1] + nz * high[2] + by], at)
    planes.set([-nx, -ny, -nz, by - (nx * low[0] + ny * low[1] + nz * low[2])], at + 4)
    this.planeEnd = at + 8
  }

  readyPlanes(): void {
    if (!this.waiting) return
    const { body, form, tree } = this.waiting
    this.waiting = undefined
    this.planeEnd = carryPlanes(
      body.planes,
      form,
      tree,
      this.planes,
      4,
      Math.max(1, Math.floor(body.faces.length / enoughPlanes)),
    )
  }

  /** Turns the first plane square to a way out of the set; of any length, no way at all leaves it out. */
  face(x: number, y: number, z: number): void {
    const { planes } = this
    const l = Math.sqrt(x * x + y * y + z * z)
    this.planeStart = l > 0 ? 0 : 4
    if (!(l > 0)) return
    supportOf(this.set, x, y, z, this.foremost, 0)
    planes[0] = x / l
    planes[1] = y / l
    planes[2] = z / l
    planes[3] = planes[0] * this.foremost[0] + planes[1] * this.foremost[1] + planes[2] * this.foremost[2]
  }

  private withoutPlanes(): void {
    this.planeStart = this.planeEnd = 4
    this.waiting = undefined
  }
}

/** Box of points, six numbers; returns the sum of all coordinates, which is no number where one of them is none. */
function boxPoints(points: Float64Array, n: number, box: Float64Array): number {
  let [x0, y0, z0, x1, y1, z1] = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity]
  let sum = 0
  for (let i = 0; i < n; i += 3) {
    const x = points[i]
    const y = points[i + 1]
    const z = points[i + 2]
    sum += x + y + z
    if (x < x0) x0 = x
    if (x > x1) x1 = x
    if (y < y0) y0 = y
    if (y > y1) y1 = y
    if (z < z0) z0 = z
    if (z > z1) z1 = z
  }
  box[0] = x0
  box[1] = y0
  box[2] = z0
  box[3] = x1
  box[4] = y1
  box[5] = z1
  return sum
}

function farthestCoordinate(box: Float64Array): number {
  let reach = 0
  for (let k = 0; k < 6; k++) reach = Math.max(reach, Math.abs(box[k]))
  return reach
}

/** As `intoTree`, without a new array a vertex. */
function carryVertices(vertices: Float64Array, form: MeshForm, tree: MeshTree, out: Float64Array): void {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = form.pose.turn
  const [px, py, pz] = form.pose.at
  const [cx, cy, cz] = tree.centre
  for (let i = 0; i < vertices.length; i += 3) {
    const x = vertices[i] - px
    const y = vertices[i + 1] - py
    const z = vertices[i + 2] - pz
    out[i] = m0 * x + m3 * y + m6 * z - cx
    out[i + 1] = m1 * x + m4 * y + m7 * z - cy
    out[i + 2] = m2 * x + m5 * y + m8 * z - cz
  }
}

/**
 * Of a body of many faces every other plane, or every third and so on, is carried: any choice bounds, and looking at 10,000
 * planes for each box costs far more than the boxes that they keep away.
 */
const enoughPlanes = 128

/** Every `step`th plane. n·x ≤ o with x = R·(y + centre) + at: normal Rᵀn, offset o − n·at − Rᵀn·centre. Returns where it ended. */
function carryPlanes(
  planes: Float64Array,
  form: MeshForm,
  tree: MeshTree,
  out: Float64Array,
  from: number,
  step: number,
): number {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = form.pose.turn
  const [px, py, pz] = form.pose.at
  const [cx, cy, cz] = tree.centre
  let at = from
  for (let i = 0; i < planes.length; i += 4 * step, at += 4) {
    const x = planes[i]
    const y = planes[i + 1]
    const z = planes[i + 2]
    const nx = m0 * x + m3 * y + m6 * z
    const ny = m1 * x + m4 * y + m7 * z
    const nz = m2 * x + m5 * y + m8 * z
    out[at] = nx
    out[at + 1] = ny
    out[at + 2] = nz
    out[at + 3] = planes[i + 3] - (x * px + y * py + z * pz) - (nx * cx + ny * cy + nz * cz)
  }
  return at
}

export function bodyInTree(body: Polytope | Cylinder, form: MeshForm, tree: MeshTree): Polytope | Cylinder {
  if (body.kind === 'cylinder') return cylinderInTree(body, form, tree)
  const vertices = new Float64Array(body.vertices.length)
  const planes = new Float64Array(body.planes.length)
  carryVertices(body.vertices, form, tree, vertices)
  carryPlanes(body.planes, form, tree, planes, 0, 1)
  return { ...body, vertices, planes }
}

const cylinderInTree = (body: Cylinder, form: MeshForm, tree: MeshTree): Cylinder => ({
  ...body,
  from: intoTree(form, tree, body.from),
  to: intoTree(form, tree, body.to),
})

/** A single point as a seeker, tree frame. */
export const pointSeeker = ([x, y, z]: Vec3): Seeker => new Seeker().fillPoint(x, y, z)
