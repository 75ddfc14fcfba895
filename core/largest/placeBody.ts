import { convexDistance } from '../clearance/gjk.ts'
import { emptyNearest } from '../clearance/nearest.ts'
import { emptySet, setDisc, setOf, type ConvexSet } from '../clearance/support.ts'
import type { ConvexForm, Cylinder, Form, Polytope, Solid } from '../shape/form.ts'
import { boundsOf } from '../shape/bounds.ts'
import { type AffineRow, greatestLeast } from './placeRows.ts'
import { placed, placedBack, turned, turnedBack, type Pose, type Vec3 } from '../shape/vec.ts'

/** A convex body ready to be asked for its distance to points. */
export interface PointTarget {
  readonly body: Polytope | Cylinder
  readonly set: ConvexSet
}

/** A rigid convex part in the candidate's own frame: origin at the core's centre, not turned. */
export interface LocalBody extends PointTarget {
  readonly name: string
  readonly tolerance: number
  /** No point of it is farther from the origin, mm. */
  readonly reach: number
}

export function localBody(name: string, solid: Solid, tolerance: number, pose: Pose): LocalBody {
  const [form] = solid.forms
  if (solid.forms.length !== 1 || form.form !== 'convex') throw new Error(`${name} is not one convex body`)
  const body = mapped(
    form.body,
    (v) => placedBack(pose, v),
    (n) => turnedBack(pose.turn, n),
  )
  const { min, max } = boundsOf({ form: 'convex', body })
  const reach = Math.hypot(...[0, 1, 2].map((k) => Math.max(Math.abs(min[k]), Math.abs(max[k]))))
  return { name, body, set: setOf(body), tolerance, reach }
}

/** The body where the candidate stands in a pose, bay frame. */
export function placedSolid({ body }: LocalBody, pose: Pose): Solid {
  const form: ConvexForm = {
    form: 'convex',
    body: mapped(
      body,
      (v) => placed(pose, v),
      (n) => turned(pose.turn, n),
    ),
  }
  return { forms: [form], bounds: boundsOf(form), open: false }
}

/** Signed distances to the convex pieces of a solid, one function each; pieces that are not convex have none. */
export function convexTargets(solid: Solid): ((x: number, y: number, z: number) => number)[] {
  return solid.forms.flatMap((form) => {
    if (form.form === 'halfSpace') {
      const [nx, ny, nz] = form.normal
      const offset = nx * form.point[0] + ny * form.point[1] + nz * form.point[2]
      return [(x: number, y: number, z: number) => nx * x + ny * y + nz * z - offset + 1e-10]
    }
    if (form.form !== 'convex') return []
    const target: PointTarget = { body: form.body, set: setOf(form.body) }
    return [(x: number, y: number, z: number) => signedDistance(target, x, y, z)]
  })
}

function mapped(
  body: Polytope | Cylinder,
  point: (v: Vec3) => Vec3,
  direction: (n: Vec3) => Vec3,
): Polytope | Cylinder {
  if (body.kind === 'cylinder') return { ...body, from: point(body.from), to: point(body.to) }
  const vertices = new Float64Array(body.vertices.length)
  for (let i = 0; i < vertices.length; i += 3)
    vertices.set(point([body.vertices[i], body.vertices[i + 1], body.vertices[i + 2]]), i)
  const planes = new Float64Array(body.planes.length)
  for (let i = 0; i < planes.length; i += 4) {
    const [x, y, z] = direction([body.planes[i], body.planes[i + 1], body.planes[i + 2]])
    let offset = -Infinity
    // Measured on the vertices again: a plane never cuts off a corner by a rounding.
    for (let v = 0; v < vertices.length; v += 3)
      offset = Math.max(offset, x * vertices[v] + y * vertices[v + 1] + z * vertices[v + 2])
    planes.set([x, y, z, offset], i)
  }
  return { ...body, vertices, planes }
}

const near = emptyNearest()
const pointSet = emptySet()

/**
 * Signed distance of a point to a body, mm: negative inside, by the way to its surface. Convex in the point.
 * Rounding is added, never taken off: the answer is an upper bound within 1e-9 mm.
 */
export function signedDistance({ body, set }: PointTarget, x: number, y: number, z: number): number {
  const inside = body.kind === 'polytope' ? beyondPlanes(body, x, y, z) : beyondCylinder(body, x, y, z)
  if (inside <= 0 || body.kind === 'cylinder') return inside + 1e-11
  setDisc(pointSet, x, y, z, 0, 0, 1, 0)
  convexDistance(set, pointSet, Infinity, near)
  return near.atMost + 1e-11
}

function beyondPlanes({ planes }: Polytope, x: number, y: number, z: number): number {
  let most = -Infinity
  for (let i = 0; i < planes.length; i += 4) {
    const d = planes[i] * x + planes[i + 1] * y + planes[i + 2] * z - planes[i + 3]
    if (d > most) most = d
  }
  return most
}

function beyondCylinder({ from, to, radius }: Cylinder, x: number, y: number, z: number): number {
  const [ax, ay, az] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
  const length = Math.hypot(ax, ay, az)
  const [px, py, pz] = [x - from[0], y - from[1], z - from[2]]
  const s = (px * ax + py * ay + pz * az) / length
  const radial = Math.hypot(px - (s * ax) / length, py - (s * ay) / length, pz - (s * az) / length) - radius
  const axial = Math.max(-s, s - length)
  return radial > 0 && axial > 0 ? Math.hypot(radial, axial) : Math.max(radial, axial)
}

/**
 * A point as deep as can be in both of two overlapping polytopes (or a polytope and a half-space): the middle of the
 * largest ball in what they share, up to rounding. Undefined where no two such pieces share one.
 */
export function deepInBoth(part: Solid, keepOut: Solid): Vec3 | undefined {
  const low = Float64Array.from([0, 1, 2], (k) => Math.max(part.bounds.min[k], keepOut.bounds.min[k]))
  const high = Float64Array.from([0, 1, 2], (k) => Math.min(part.bounds.max[k], keepOut.bounds.max[k]))
  if (low.some((x, k) => !(x < high[k]))) return undefined
  const own = part.forms.flatMap((form) => depthRows(form))
  let best: { radius: number; at: Float64Array } = { radius: 0, at: low }
  for (const form of keepOut.forms) {
    const rows = depthRows(form)
    if (rows.length === 0 || own.length === 0) continue
    const { at, bound } = greatestLeast([...own, ...rows], low, high)
    if (bound > best.radius) best = { radius: bound, at }
  }
  return best.radius > 1e-6 ? [best.at[0], best.at[1], best.at[2]] : undefined
}

/** How far a point is inside each face plane. */
function depthRows(form: Form): AffineRow[] {
  if (form.form === 'halfSpace') {
    const { normal: n, point: p } = form
    return [{ slope: Float64Array.from(n, (x) => -x), offset: n[0] * p[0] + n[1] * p[1] + n[2] * p[2] }]
  }
  if (form.form !== 'convex' || form.body.kind !== 'polytope') return []
  const { planes } = form.body
  return Array.from({ length: planes.length / 4 }, (_, i) => ({
    slope: Float64Array.of(-planes[4 * i], -planes[4 * i + 1], -planes[4 * i + 2]),
    offset: planes[4 * i + 3],
  }))
}
