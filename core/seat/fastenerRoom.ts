import { along, dot, squareTo, type Vec3 } from '../shape/vec.ts'

/**
 * Where a fastener may stand in its hole or holes: everything within `round` of what the slots' free travels, half of each
 * either way, span about the middle. In the plane square to the fastener's axis, mm.
 */
export interface FastenerRoom {
  /** Unit. */
  readonly axis: Vec3
  /** Sum of the hole clearances, (hole − fastener) / 2. Below 0: it does not go through. */
  readonly round: number
  /** Half free travels as vectors in the plane, none, one or two. */
  readonly travels: readonly Vec3[]
}

export interface RoomLeft {
  /** From the fastener's place to the edge of the room; below 0 outside, mm. */
  readonly by: number
  /** Unit or zero, in the plane, bay frame: moving the hole this way gains room fastest. */
  readonly towards: Vec3
}

type Flat = readonly [number, number]

/**
 * How much a hole may still shift before its fastener touches.
 * @param offset from fixing to hole, mm; what lies along the axis does not count
 * @returns exact; the room is the same seen from hole or fastener, since it is symmetric
 */
export function roomLeft({ axis, round, travels }: FastenerRoom, offset: Vec3): RoomLeft {
  const [e1, e2] = squareTo(axis)
  const flat = (v: Vec3): Flat => [dot(v, e1), dot(v, e2)]
  const { by, towards } = insideOf(joinedTravels(travels.map(flat)), flat(offset))
  return { by: round + by, towards: along(along([0, 0, 0], e1, towards[0]), e2, towards[1]) }
}

const cross = (a: Flat, b: Flat): number => a[0] * b[1] - a[1] * b[0]

/** Two that run the same way are one. */
function joinedTravels(travels: readonly Flat[]): Flat[] {
  const real = travels.filter(([a, b]) => Math.hypot(a, b) > 0)
  if (real.length < 2) return real
  const [a, b] = real
  if (Math.abs(cross(a, b)) > 1e-9 * Math.hypot(...a) * Math.hypot(...b)) return real
  const sign = a[0] * b[0] + a[1] * b[1] < 0 ? -1 : 1
  return [[a[0] + sign * b[0], a[1] + sign * b[1]]]
}

/** Signed distance to a point, segment or parallelogram about the origin: above 0 inside. */
function insideOf(travels: readonly Flat[], at: Flat): { by: number; towards: Flat } {
  if (travels.length < 2) return toNearest([nearestOn(at, [0, 0], travels[0] ?? [0, 0])], at)
  const [a, b] = travels
  const area = cross(a, b)
  const [alpha, beta] = [cross(at, b) / area, cross(a, at) / area]
  if (Math.abs(alpha) <= 1 && Math.abs(beta) <= 1) {
    const toA = ((1 - Math.abs(alpha)) * Math.abs(area)) / Math.hypot(...b)
    const toB = ((1 - Math.abs(beta)) * Math.abs(area)) / Math.hypot(...a)
    return toA < toB ? { by: toA, towards: inward(b, alpha, a) } : { by: toB, towards: inward(a, beta, b) }
  }
  const edges: [Flat, Flat][] = [
    [a, b],
    [[-a[0], -a[1]], b],
    [b, a],
    [[-b[0], -b[1]], a],
  ]
  return toNearest(
    edges.map(([middle, half]) => nearestOn(at, middle, half)),
    at,
  )
}

/** Square to an edge, away from the side that `share` of `across` lies on. */
function inward(edge: Flat, share: number, across: Flat): Flat {
  const size = Math.hypot(...edge)
  const normal: Flat = [-edge[1] / size, edge[0] / size]
  const out = (normal[0] * across[0] + normal[1] * across[1]) * (share < 0 ? -1 : 1)
  return out > 0 ? [-normal[0], -normal[1]] : normal
}

function nearestOn(at: Flat, middle: Flat, half: Flat): Flat {
  const squared = half[0] ** 2 + half[1] ** 2
  const share = squared === 0 ? 0 : ((at[0] - middle[0]) * half[0] + (at[1] - middle[1]) * half[1]) / squared
  const t = Math.min(1, Math.max(-1, share))
  return [middle[0] + t * half[0], middle[1] + t * half[1]]
}

function toNearest(points: readonly Flat[], at: Flat): { by: number; towards: Flat } {
  let best: { by: number; towards: Flat } = { by: -Infinity, towards: [0, 0] }
  for (const point of points) {
    const [x, y] = [point[0] - at[0], point[1] - at[1]]
    const far = Math.hypot(x, y)
    if (-far > best.by) best = { by: -far, towards: far === 0 ? [0, 0] : [x / far, y / far] }
  }
  return best
}
