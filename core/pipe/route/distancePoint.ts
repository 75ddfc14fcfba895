import { convexDistance } from '../../clearance/gjk.ts'
import { emptyNearest } from '../../clearance/nearest.ts'
import { emptySet, setSegment } from '../../clearance/support.ts'
import { touch, touchSize } from '../../clearance/tubeDiscs.ts'
import type { Body, CylinderBody, MeshBody, PolytopeBody, TubeBody } from './distanceBodies.ts'
import { isInMesh, onMeshSize, toTree, turnToBay } from './distanceMesh.ts'
import { pointToMesh } from './distanceMeshPoint.ts'

/**
 * Signed distance of a point to a body: negative inside, by the distance to the surface. Lengths mm, bay frame.
 * Of an open mesh nothing is inside.
 */
export interface PointDistance {
  /** Proved; where it is beyond the limit asked for, this is all that was found out. */
  atLeast: number
  atMost: number
  /** Unit, the way out from the body's nearest place to the point; 0, 0, 0 where none was found. */
  nx: number
  ny: number
  nz: number
  /** The convex piece that is nearest: number of the triangle in the mesh's tree, of the span in the tube; else 0. */
  element: number
}

export const emptyPointDistance = (): PointDistance => ({ atLeast: 0, atMost: 0, nx: 0, ny: 0, nz: 0, element: 0 })

/**
 * @param limit  a distance of at least this need not be known any better
 * @param out    receives the answer; `atMost` is Infinity where the limit ended the search
 * Error: rounding (the body's `slack`) between the two bounds; beside the flat end of a tube up to its radius.
 */
export function pointToBody(body: Body, x: number, y: number, z: number, limit: number, out: PointDistance): void {
  out.element = 0
  if (limit > 0) {
    const gap = boxGap(body.box, x, y, z) - body.slack
    if (gap >= limit) {
      beyond(gap, out)
      return
    }
  }
  switch (body.kind) {
    case 'polytope':
      toPolytope(body, x, y, z, limit, out)
      break
    case 'cylinder':
      toCylinder(body, x, y, z, out)
      break
    case 'halfSpace': {
      const { normal: n, point: p } = body.form
      const d = n[0] * (x - p[0]) + n[1] * (y - p[1]) + n[2] * (z - p[2])
      write(out, d - body.slack, d + body.slack, n[0], n[1], n[2])
      break
    }
    case 'mesh':
      toMesh(body, x, y, z, limit, out)
      break
    case 'tube':
      toTube(body, x, y, z, out)
      break
  }
}

export function boxGap(box: Float64Array, x: number, y: number, z: number): number {
  const u = Math.max(box[0] - x, x - box[3], 0)
  const v = Math.max(box[1] - y, y - box[4], 0)
  const w = Math.max(box[2] - z, z - box[5], 0)
  return Math.sqrt(u * u + v * v + w * w)
}

function write(out: PointDistance, atLeast: number, atMost: number, nx: number, ny: number, nz: number): void {
  out.atLeast = atLeast
  out.atMost = atMost
  out.nx = nx
  out.ny = ny
  out.nz = nz
}

const beyond = (atLeast: number, out: PointDistance): void => write(out, atLeast, Infinity, 0, 0, 0)

// Private to one call of `pointToBody`, which calls nothing back.
const probe = emptySet()
const nearest = emptyNearest()
const at = new Float64Array(touchSize)
const inTree = new Float64Array(3)
const onMesh = new Float64Array(onMeshSize)

/** Inside, the nearest face is the nearest surface; outside, the highest face bounds and the convex kernel decides. */
function toPolytope(body: PolytopeBody, x: number, y: number, z: number, limit: number, out: PointDistance): void {
  const { planes, set, slack } = body
  let top = 0
  let height = -Infinity
  for (let i = 0; i < planes.length; i += 4) {
    const h = planes[i] * x + planes[i + 1] * y + planes[i + 2] * z - planes[i + 3]
    if (h <= height) continue
    height = h
    top = i
  }
  if (height <= 0) {
    write(out, height - slack, height + slack, planes[top], planes[top + 1], planes[top + 2])
    return
  }
  if (height - slack >= limit) {
    beyond(height - slack, out)
    return
  }
  setSegment(probe, x, y, z, x, y, z)
  convexDistance(probe, set, limit, nearest, planes[top], planes[top + 1], planes[top + 2])
  const d = nearest.atMost
  if (nearest.stopped === 'upTo') {
    beyond(nearest.atLeast, out)
    return
  }
  if (!(d > slack)) {
    write(out, -slack, slack, planes[top], planes[top + 1], planes[top + 2])
    return
  }
  const { ax, ay, az, bx, by, bz } = nearest
  write(out, Math.max(nearest.atLeast, height - slack), d, (ax - bx) / d, (ay - by) / d, (az - bz) / d)
}

function toCylinder(body: CylinderBody, x: number, y: number, z: number, out: PointDistance): void {
  const { axis, length, slack } = body
  const { from, radius } = body.cylinder
  const gx = x - from[0]
  const gy = y - from[1]
  const gz = z - from[2]
  const h = gx * axis[0] + gy * axis[1] + gz * axis[2]
  const rx = gx - h * axis[0]
  const ry = gy - h * axis[1]
  const rz = gz - h * axis[2]
  const r = Math.sqrt(rx * rx + ry * ry + rz * rz)
  const sign = h > length / 2 ? 1 : -1
  const alongAxis = sign > 0 ? h - length : -h
  const across = r - radius
  const isCorner = alongAxis > 0 && across > 0
  const d = isCorner ? Math.hypot(alongAxis, across) : Math.max(alongAxis, across)
  const a = isCorner ? alongAxis / d : alongAxis > across ? 1 : 0
  const b = r > 0 ? (isCorner ? across / d : 1 - a) / r : 0
  write(
    out,
    d - slack,
    d + slack,
    sign * a * axis[0] + b * rx,
    sign * a * axis[1] + b * ry,
    sign * a * axis[2] + b * rz,
  )
}

function toMesh(body: MeshBody, x: number, y: number, z: number, limit: number, out: PointDistance): void {
  const { form, tree, slack } = body
  toTree(form, tree, x, y, z, inTree)
  const [u, v, w] = inTree
  const inside = isInMesh(tree, u, v, w)
  if (!inside && limit <= 0) {
    beyond(0, out)
    return
  }
  const d = pointToMesh(tree, u, v, w, inside ? Infinity : limit, onMesh)
  if (!inside && d >= limit) {
    beyond(d - slack, out)
    return
  }
  const sign = inside ? -1 : 1
  const scale = d > 0 ? sign / d : 0
  inTree[0] = scale * (u - onMesh[1])
  inTree[1] = scale * (v - onMesh[2])
  inTree[2] = scale * (w - onMesh[3])
  turnToBay(form, inTree)
  write(out, sign * d - slack, sign * d + slack, inTree[0], inTree[1], inTree[2])
  out.element = onMesh[4]
}

function toTube({ tube, spans, slack }: TubeBody, x: number, y: number, z: number, out: PointDistance): void {
  let atLeast = Infinity
  let atMost = Infinity
  for (const span of spans) {
    const d = touch(tube, span, x, y, z, at)
    const line = Math.hypot(x - at[3], y - at[4], z - at[5])
    // Between its end planes the disc through the point is nearest. Beside them the line's distance bounds: the disc's
    // centre is the nearest of the line there, and no point of the tube is farther than the radius from the line.
    const least = line - tube.radius
    if (least < atLeast) atLeast = least
    if (d > atMost || (d === atMost && d > 0)) continue
    atMost = d
    const inside = d === 0
    const scale = inside ? (line > 0 ? 1 / line : 0) : 1 / d
    const from = inside ? 3 : 0
    out.nx = scale * (x - at[from])
    out.ny = scale * (y - at[from + 1])
    out.nz = scale * (z - at[from + 2])
    out.element = span
  }
  out.atLeast = atLeast - slack
  out.atMost = atMost + slack
}
