import type { Vec3 } from '../../../core/shape/vec.ts'
import { type Faces, type Follower, type FollowingBox, followed } from './fitFrame.ts'
import type { Row } from './fitProgram.ts'

/**
 * A rule that every core must keep: the box that follows it stays at least `apart` from a box that lies in a keep-out (often
 * a single point). Their distance is a convex function of the faces: Σ gap², the gap along an axis being the greater of
 * "obstacle beyond the high side", "obstacle below the low side" and 0.
 */
export interface Rule {
  readonly box: FollowingBox
  /** Obstacle, from its low to its high corner; in the candidate's axes, mm. */
  readonly from: Vec3
  readonly to: Vec3
  readonly apart: number
  readonly keepOut: string
}

/** Faces between two corners. */
export interface FaceBox {
  readonly low: Faces
  readonly high: Faces
}

/** Share of the rounding that bounds give away and answers keep, mm: all arithmetic error lies between. */
const grain = 1e-7
export const kept = 4e-7

/** One way of keeping a rule: the obstacle beyond the high side ('above') or below the low side of an axis. */
export interface Way {
  readonly axis: 0 | 1 | 2
  readonly side: 'above' | 'below'
}
export const ways: readonly Way[] = ([0, 1, 2] as const).flatMap((axis): Way[] => [
  { axis, side: 'above' },
  { axis, side: 'below' },
])

const followerOf = (rule: Rule, { axis, side }: Way): Follower =>
  side === 'above' ? rule.box.high[axis] : rule.box.low[axis]

/** How far the obstacle is out along a way; negative where it is not. */
export function outBy(rule: Rule, way: Way, faces: Faces): number {
  const value = followed(followerOf(rule, way), faces, way.axis)
  return way.side === 'above' ? rule.from[way.axis] - value : value - rule.to[way.axis]
}

/** Least and most of `outBy` in a box of faces: followers never fall when a face rises. */
export function outRange(rule: Rule, way: Way, { low, high }: FaceBox): [number, number] {
  return way.side === 'above'
    ? [outBy(rule, way, high), outBy(rule, way, low)]
    : [outBy(rule, way, low), outBy(rule, way, high)]
}

/** Distance of the two boxes, mm; 0 where they meet. */
export function distanceTo(rule: Rule, faces: Faces): number {
  let squared = 0
  for (const way of ways) {
    const out = outBy(rule, way, faces)
    if (out > 0) squared += out * out
  }
  return Math.sqrt(squared)
}

export type Standing = 'kept' | 'broken' | 'open'

/** Whether a rule is kept by every core of the box, by none, or by some. */
export function standing(rule: Rule, box: FaceBox): Standing {
  const { apart } = rule
  let least = 0
  let most = 0
  for (let axis = 0; axis < 3; axis++) {
    const [above, below] = [outRange(rule, ways[2 * axis], box), outRange(rule, ways[2 * axis + 1], box)]
    const low = Math.max(above[0], below[0], 0)
    const high = Math.max(above[1], below[1], 0)
    least += low * low
    most += high * high
    if (apart <= grain && Math.max(above[0], below[0]) >= 0) return 'kept'
  }
  if (apart > grain) {
    if (least >= apart * apart) return 'kept'
    return Math.sqrt(most) < apart - grain ? 'broken' : 'open'
  }
  return ways.some((way) => outRange(rule, way, box)[1] >= -grain) ? 'open' : 'broken'
}

/** Least that the obstacle must be out along each axis, whatever the other axes give; 0 where they may do it alone. */
export function mustBeOut(rule: Rule, box: FaceBox): [number, number, number] {
  const apart = Math.max(0, rule.apart - grain)
  const most = [0, 1, 2].map((axis) =>
    Math.max(0, outRange(rule, ways[2 * axis], box)[1], outRange(rule, ways[2 * axis + 1], box)[1]),
  )
  return [0, 1, 2].map((axis) => {
    const others = most.reduce((sum, m, k) => (k === axis ? sum : sum + m * m), 0)
    return others >= apart * apart ? 0 : Math.sqrt(apart * apart - others)
  }) as [number, number, number]
}

/** Ways that some core of the box can take. */
export const openWays = (rule: Rule, box: FaceBox): Way[] =>
  ways.filter((way) => outRange(rule, way, box)[1] > (rule.apart <= grain ? -grain : 0))

/**
 * A linear row that every core of the box which keeps the rule also keeps: each squared gap lies under its secant over the
 * box (no higher than needed: beyond `apart` the rule is kept anyway).
 */
export function secantRow(rule: Rule, box: FaceBox): Row {
  const a = new Float64Array(6)
  const apart = Math.max(0, rule.apart - grain)
  const touching = rule.apart <= grain
  let constant = 0
  for (const way of ways) {
    const [least, most] = outRange(rule, way, box)
    if (touching ? most < -grain : most <= 0) continue
    // Touching allowed: shares of the way to "out", together at least 1.
    const from = touching ? 0 : Math.max(0, least) ** 2
    const top = touching ? 0 : Math.min(most, apart)
    const full = touching ? 1 : top * top
    if (top - least < 1e-9) {
      constant += full
      continue
    }
    const slope = (full - from) / (top - least)
    constant += from - slope * least
    addOut(a, rule, way, slope)
    constant += slope * outOffset(rule, way)
  }
  const wanted = touching ? 1 - 1e-9 : apart * apart
  return { a, b: wanted - constant - 1e-9 * (1 + Math.abs(constant)) }
}

/**
 * How far the secants stand above the squared gaps at some faces, told apart by face: cutting the worst face there makes
 * its secant exact.
 */
export function secantErrors(rule: Rule, box: FaceBox, faces: Faces, errors: Float64Array): void {
  const apart = Math.max(0, rule.apart - grain)
  for (const way of ways) {
    const [least, most] = outRange(rule, way, box)
    if (most <= 0) continue
    const top = Math.min(most, Math.max(apart, grain))
    if (top - least < 1e-9) continue
    const from = Math.max(0, least) ** 2
    const out = outBy(rule, way, faces)
    const above = from + ((top * top - from) / (top - least)) * (out - least) - Math.max(0, out) ** 2
    if (above <= 0) continue
    const { onLow, onHigh } = followerOf(rule, way)
    const wide = onLow * (box.high[way.axis] - box.low[way.axis])
    const wideHigh = onHigh * (box.high[3 + way.axis] - box.low[3 + way.axis])
    if (wide + wideHigh <= 0) continue
    errors[way.axis] += (above * wide) / (wide + wideHigh)
    errors[3 + way.axis] += (above * wideHigh) / (wide + wideHigh)
  }
}

/** Adds factor · outBy's slopes to a row. */
function addOut(a: Float64Array, rule: Rule, way: Way, factor: number): void {
  const { onLow, onHigh } = followerOf(rule, way)
  const sign = way.side === 'above' ? -factor : factor
  a[way.axis] += sign * onLow
  a[3 + way.axis] += sign * onHigh
}

const outOffset = (rule: Rule, way: Way): number => {
  const { offset } = followerOf(rule, way)
  return way.side === 'above' ? rule.from[way.axis] - offset : offset - rule.to[way.axis]
}

/** The row "out along this way by at least `by`". */
export function wayRow(rule: Rule, way: Way, by: number): Row {
  const a = new Float64Array(6)
  addOut(a, rule, way, 1)
  return { a, b: by - outOffset(rule, way) }
}

/**
 * A linear row that only cores which keep the rule keep: the tangent of the convex distance. Where the obstacle is not outside
 * at all, the way that costs least.
 */
export function tangentRow(rule: Rule, faces: Faces, cost: (way: Way, missing: number) => number): Row {
  const wanted = rule.apart + kept
  const distance = distanceTo(rule, faces)
  if (distance <= 1e-6) {
    const best = ways.reduce((p, q) => (priceOf(q) < priceOf(p) ? q : p))
    return wayRow(rule, best, wanted)
  }
  const a = new Float64Array(6)
  let b = wanted - distance
  for (const way of ways) {
    const out = outBy(rule, way, faces)
    if (out <= 0) continue
    addOut(a, rule, way, out / distance)
  }
  for (let j = 0; j < 6; j++) b += a[j] * faces[j]
  return { a, b }
  function priceOf(way: Way): number {
    return cost(way, wanted - outBy(rule, way, faces))
  }
}
