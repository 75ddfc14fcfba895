import { convexDistance } from '../../clearance/gjk.ts'
import { emptyNearest } from '../../clearance/nearest.ts'
import { type ConvexSet, emptySet, setSegment } from '../../clearance/support.ts'
import { apart, type Contact, place, type Segment } from './contact.ts'
import type { Body, HalfSpaceBody, MeshBody, PolytopeBody } from './distanceBodies.ts'
import { isInMesh, onMeshSize, segmentToMesh, toTree, triangleNormal, turnToBay } from './distanceMesh.ts'
import { emptyPointDistance, pointToBody } from './distancePoint.ts'
import { segmentToTube } from './distanceTube.ts'

export { emptyContact, type Segment } from './contact.ts'

/** What a segment's point may be looked at, beside its ends. */
const samples = 8

// Private to one call of `segmentToBody`, which calls nothing back.
const probe: ConvexSet = emptySet()
const nearest = emptyNearest()
const ends = new Float64Array(6)
const onMesh = new Float64Array(onMeshSize)
const way = new Float64Array(3)
const there = emptyPointDistance()

/**
 * @param limit what is at least as far is of no interest; above 0
 * @param out   receives the contact where there is one nearer than the limit
 * @returns whether there is one
 */
export function segmentToBody(body: Body, s: Segment, limit: number, out: Contact): boolean {
  if (isBoxBeyond(body.box, s, limit + body.slack)) return false
  switch (body.kind) {
    case 'polytope':
      return isBeforePlane(body, s, limit) ? false : toConvex(body, body.set, s, limit, out)
    case 'cylinder':
      return toConvex(body, body.set, s, limit, out)
    case 'halfSpace':
      return toHalfSpace(body, s, limit, out)
    case 'mesh':
      return toMesh(body, s, limit, out)
    case 'tube':
      return segmentToTube(body, s, limit, out)
  }
}

function isBoxBeyond(box: Float64Array, s: Segment, limit: number): boolean {
  const x = Math.max(box[0] - Math.max(s.ax, s.bx), Math.min(s.ax, s.bx) - box[3], 0)
  const y = Math.max(box[1] - Math.max(s.ay, s.by), Math.min(s.ay, s.by) - box[4], 0)
  const z = Math.max(box[2] - Math.max(s.az, s.bz), Math.min(s.az, s.bz) - box[5], 0)
  return x * x + y * y + z * z >= limit * limit
}

/** The face that both ends are farthest over is written to `way`: a good guess for the way out. */
function isBeforePlane({ planes }: PolytopeBody, s: Segment, limit: number): boolean {
  let height = -Infinity
  for (let i = 0; i < planes.length; i += 4) {
    const x = planes[i]
    const y = planes[i + 1]
    const z = planes[i + 2]
    const h = Math.min(x * s.ax + y * s.ay + z * s.az, x * s.bx + y * s.by + z * s.bz) - planes[i + 3]
    if (h <= height) continue
    height = h
    way[0] = x
    way[1] = y
    way[2] = z
    if (height >= limit) return true
  }
  return false
}

function toConvex(body: Body, set: ConvexSet, s: Segment, limit: number, out: Contact): boolean {
  setSegment(probe, s.ax, s.ay, s.az, s.bx, s.by, s.bz)
  if (body.kind === 'polytope') convexDistance(probe, set, limit, nearest, way[0], way[1], way[2])
  else convexDistance(probe, set, limit, nearest)
  if (nearest.stopped === 'upTo') return false
  if (nearest.contact !== 'none' || !(nearest.atMost > body.slack)) return deepest(body, s, limit, out)
  if (nearest.atMost >= limit) return false
  const { ax, ay, az, bx, by, bz, atMost } = nearest
  apart(out, s, atMost, nearest.atLeast, ax, ay, az, bx, by, bz)
  return true
}

/** The deepest of points along the segment; the first that lies on the surface where none is inside. */
function deepest(body: Body, s: Segment, limit: number, out: Contact): boolean {
  out.distance = Infinity
  out.atLeast = 0
  for (let k = 0; k <= samples; k++) {
    const share = k / samples
    const x = s.ax + share * (s.bx - s.ax)
    const y = s.ay + share * (s.by - s.ay)
    const z = s.az + share * (s.bz - s.az)
    pointToBody(body, x, y, z, limit, there)
    const d = there.atMost
    if (!(d < out.distance)) continue
    out.distance = d
    out.share = share
    out.nx = there.nx
    out.ny = there.ny
    out.nz = there.nz
    out.qx = x - d * there.nx
    out.qy = y - d * there.ny
    out.qz = z - d * there.nz
  }
  // It meets the body between two samples that are outside.
  if (out.distance > 0 && out.distance < Infinity) out.distance = 0
  return out.distance < Infinity
}

function toHalfSpace({ form, slack }: HalfSpaceBody, s: Segment, limit: number, out: Contact): boolean {
  const { normal: n, point: p } = form
  const a = n[0] * (s.ax - p[0]) + n[1] * (s.ay - p[1]) + n[2] * (s.az - p[2])
  const b = n[0] * (s.bx - p[0]) + n[1] * (s.by - p[1]) + n[2] * (s.bz - p[2])
  const d = Math.min(a, b)
  if (d >= limit) return false
  const isFirst = a <= b
  out.distance = d
  out.atLeast = Math.max(0, d - slack)
  out.share = isFirst ? 0 : 1
  out.nx = n[0]
  out.ny = n[1]
  out.nz = n[2]
  out.qx = (isFirst ? s.ax : s.bx) - d * n[0]
  out.qy = (isFirst ? s.ay : s.by) - d * n[1]
  out.qz = (isFirst ? s.az : s.bz) - d * n[2]
  return true
}

function toMesh(body: MeshBody, s: Segment, limit: number, out: Contact): boolean {
  const { form, tree, slack } = body
  toTree(form, tree, s.ax, s.ay, s.az, ends, 0)
  toTree(form, tree, s.bx, s.by, s.bz, ends, 3)
  const d = segmentToMesh(tree, ends[0], ends[1], ends[2], ends[3], ends[4], ends[5], limit, onMesh)
  const meets = d === 0
  if (tree.mesh.closed && (meets || isInMesh(tree, ends[0], ends[1], ends[2]))) return deepest(body, s, limit, out)
  if (meets) throughShell(body, s, out)
  else if (d < limit) awayFromMesh(body, s, d, slack, out)
  return d < limit
}

function awayFromMesh({ form }: MeshBody, s: Segment, d: number, slack: number, out: Contact): void {
  const share = onMesh[0]
  for (let k = 0; k < 3; k++) way[k] = (ends[k] + share * (ends[3 + k] - ends[k]) - onMesh[1 + k]) / d
  turnToBay(form, way)
  out.distance = d
  out.atLeast = Math.max(0, d - slack)
  place(s, share, d, way[0], way[1], way[2], out)
}

/** Through a surface without an inside the shorter way back is the way out: the end nearer to it is the one gone astray. */
function throughShell({ form, tree }: MeshBody, s: Segment, out: Contact): void {
  triangleNormal(tree, onMesh[4], way)
  const height = (k: number) =>
    way[0] * (ends[k] - onMesh[1]) + way[1] * (ends[k + 1] - onMesh[2]) + way[2] * (ends[k + 2] - onMesh[3])
  const a = height(0)
  const b = height(3)
  const isFirst = Math.abs(a) <= Math.abs(b)
  const side = (isFirst ? a : b) > 0 ? -1 : 1
  for (let k = 0; k < 3; k++) way[k] *= side
  turnToBay(form, way)
  out.distance = -Math.abs(isFirst ? a : b)
  out.atLeast = 0
  place(s, isFirst ? 0 : 1, out.distance, way[0], way[1], way[2], out)
}
