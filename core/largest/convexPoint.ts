import { convexDistance } from '../clearance/gjk.ts'
import { emptyNearest } from '../clearance/nearest.ts'
import { type ConvexSet, setOf } from '../clearance/support.ts'
import type { Cylinder, Polytope } from '../shape/form.ts'
import { along, distance, dot, sub, type Vec3 } from '../shape/vec.ts'
import type { TooNear } from './meshPoint.ts'
import { type AffineRow, greatestLeast } from './placeRows.ts'

/** A convex piece of a keep-out, ready to be asked. */
export interface ConvexTarget {
  readonly body: Polytope | Cylinder
  readonly set: ConvexSet
}

const near = emptyNearest()

/**
 * Whether a convex piece of a keep-out is nearer to a part than asked by more than `ignore`, and where. The point comes
 * with a ball that lies in the piece: the flatter the ball, the longer the cut that is made with it holds.
 * @param part bay frame, mm; `set` is the same body for the kernel
 */
export function convexPoint(
  part: { readonly body: Polytope | Cylinder; readonly set: ConvexSet },
  target: ConvexTarget,
  asked: number,
  ignore: number,
): TooNear | undefined {
  convexDistance(part.set, target.set, Math.max(0, asked - ignore), near)
  if (near.stopped === 'upTo') return undefined
  const onPart: Vec3 = [near.ax, near.ay, near.az]
  const touch: Vec3 = [near.bx, near.by, near.bz]
  if (near.contact === 'none' && near.atLeast > 0) {
    const by = asked - near.atLeast
    if (by <= ignore) return undefined
    return { ...ballBehind(target.body, touch, onPart), by, onPart }
  }
  const inside = deepInBoth(part.body, target.body, touch)
  const depth = depthIn(part.body, inside.at)
  const by = asked + Math.max(0, depth)
  return by > ignore ? { ...inside, by } : undefined
}

/** The largest ball in the body that touches its surface at a point, from which `outer` is the way out. */
function ballBehind(body: Polytope | Cylinder, touch: Vec3, outer: Vec3): { at: Vec3; room: number } {
  const gap = distance(touch, outer)
  if (!(gap > 1e-6)) return { at: touch, room: 0 }
  const n: Vec3 = [(outer[0] - touch[0]) / gap, (outer[1] - touch[1]) / gap, (outer[2] - touch[2]) / gap]
  const room = body.kind === 'cylinder' ? cylinderRoom(body, touch, n) : polytopeRoom(body, touch, n)
  if (!(room > 1e-3)) return { at: touch, room: 0 }
  // Measured anew about the middle: whatever rounding did on the way, this ball lies in the body.
  const at = along(touch, n, -room)
  return { at, room: Math.max(0, Math.min(room, depthIn(body, at))) }
}

/** t with: the ball of radius t about touch − t·n stays behind every plane. */
function polytopeRoom({ planes }: Polytope, touch: Vec3, n: Vec3): number {
  let room = 1e4
  for (let i = 0; i < planes.length; i += 4) {
    const beside = 1 - (planes[i] * n[0] + planes[i + 1] * n[1] + planes[i + 2] * n[2])
    if (beside < 1e-9) continue
    const slack = planes[i + 3] - planes[i] * touch[0] - planes[i + 1] * touch[1] - planes[i + 2] * touch[2]
    room = Math.min(room, slack / beside)
  }
  return room
}

function cylinderRoom({ from, to, radius }: Cylinder, touch: Vec3, n: Vec3): number {
  const length = distance(from, to)
  const axis: Vec3 = [(to[0] - from[0]) / length, (to[1] - from[1]) / length, (to[2] - from[2]) / length]
  const h = dot(sub(touch, from), axis)
  const lean = Math.abs(dot(n, axis))
  // On the round side the ball is as wide as the cylinder, but for its ends.
  if (lean < 1e-6) return Math.min(radius, h, length - h)
  const off = Math.sqrt(Math.max(0, dot(sub(touch, from), sub(touch, from)) - h * h))
  return lean > 1 - 1e-9 ? Math.min(length / 2, radius - off) : 0
}

/** How deep a point lies in a body, mm; negative outside. Rounded down. */
export function depthIn(body: Polytope | Cylinder, p: Vec3): number {
  let depth = Infinity
  if (body.kind === 'cylinder') {
    const { from, to, radius } = body
    const length = distance(from, to)
    const axis: Vec3 = [(to[0] - from[0]) / length, (to[1] - from[1]) / length, (to[2] - from[2]) / length]
    const g = sub(p, from)
    const h = dot(g, axis)
    const off = Math.hypot(g[0] - h * axis[0], g[1] - h * axis[1], g[2] - h * axis[2])
    depth = Math.min(radius - off, h, length - h)
  } else {
    const { planes } = body
    for (let i = 0; i < planes.length; i += 4)
      depth = Math.min(depth, planes[i + 3] - planes[i] * p[0] - planes[i + 1] * p[1] - planes[i + 2] * p[2])
  }
  return depth - 1e-11
}

/** A point as deep as can be in both bodies, with the room it has in the keep-out's. */
function deepInBoth(part: Polytope | Cylinder, target: Polytope | Cylinder, common: Vec3): { at: Vec3; room: number } {
  const rows = [...depthRows(part), ...depthRows(target)]
  let at = common
  if (rows.length > 0) {
    const reach = 1e4
    const low = Float64Array.from(common, (x) => x - reach)
    const high = Float64Array.from(common, (x) => x + reach)
    const found = greatestLeast(rows, low, high)
    const deepest: Vec3 = [found.at[0], found.at[1], found.at[2]]
    if (depthIn(part, deepest) >= 0 && depthIn(target, deepest) >= 0) at = deepest
  }
  return { at, room: Math.max(0, depthIn(target, at)) }
}

/** How far a point is behind each face plane; a cylinder counts by planes all round that it lies within. */
function depthRows(body: Polytope | Cylinder): AffineRow[] {
  if (body.kind === 'polytope') {
    const { planes } = body
    return Array.from({ length: planes.length / 4 }, (_, i) => ({
      slope: Float64Array.of(-planes[4 * i], -planes[4 * i + 1], -planes[4 * i + 2]),
      offset: planes[4 * i + 3],
    }))
  }
  const { from, to, radius } = body
  const set = setOf(body)
  const length = distance(from, to)
  const axis: Vec3 = [(to[0] - from[0]) / length, (to[1] - from[1]) / length, (to[2] - from[2]) / length]
  const row = (n: Vec3, through: Vec3, by: number): AffineRow => ({
    slope: Float64Array.of(-n[0], -n[1], -n[2]),
    offset: dot(n, through) + by,
  })
  const around = Array.from({ length: 8 }, (_, i) => {
    const [c, s] = [Math.cos((i * Math.PI) / 4), Math.sin((i * Math.PI) / 4)]
    const n: Vec3 = [c * set.ux + s * set.vx, c * set.uy + s * set.vy, c * set.uz + s * set.vz]
    return row(n, from, radius)
  })
  return [row(axis, to, 0), row([-axis[0], -axis[1], -axis[2]], from, 0), ...around]
}
