import type { Bounds } from '../../shape/form.ts'
import { along, mix, type Vec3 } from '../../shape/vec.ts'
import { emptyPointDistance, pointToBody } from './distancePoint.ts'
import { emptyContact, type Segment, segmentToBody } from './distanceSegment.ts'
import { holds } from './cell.ts'
import type { Ball, RoomKeeper } from './keepers.ts'

/** Of a bend the distance may be known this much too high only, mm: twice what its spans allow. */
const bendSlack = 0.2

/** A stretch of a straight: shares 0 … 1 of it. */
type Stretch = readonly [start: number, end: number]

/** What of the stretches lies outside of shares of the same line. */
function outside(within: Stretch | null, stretches: readonly Stretch[]): readonly Stretch[] {
  if (!within) return stretches
  const [enters, leaves] = within
  return stretches.flatMap(([start, end]) => {
    if (leaves <= start || enters >= end) return [[start, end] as Stretch]
    const before: Stretch[] = enters > start ? [[start, enters]] : []
    const after: Stretch[] = leaves < end ? [[leaves, end]] : []
    return [...before, ...after]
  })
}

/** Shares of the line a–b that lie within a box; null where none do. */
function inBox(a: Vec3, b: Vec3, { min, max }: Bounds): Stretch | null {
  let [enters, leaves] = [-Infinity, Infinity]
  for (let k = 0; k < 3; k++) {
    const v = b[k] - a[k]
    if (v === 0) {
      if (a[k] < min[k] || a[k] > max[k]) return null
      continue
    }
    const [p, q] = [(min[k] - a[k]) / v, (max[k] - a[k]) / v]
    enters = Math.max(enters, Math.min(p, q))
    leaves = Math.min(leaves, Math.max(p, q))
  }
  return enters < leaves ? [enters, leaves] : null
}

/** Shares of the line a–b that lie within a ball; null where none do. */
function inBall(a: Vec3, b: Vec3, { at, radius }: Ball): Stretch | null {
  const v = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  const w = [a[0] - at[0], a[1] - at[1], a[2] - at[2]]
  const vv = v[0] * v[0] + v[1] * v[1] + v[2] * v[2]
  const vw = v[0] * w[0] + v[1] * w[1] + v[2] * w[2]
  const beyond = w[0] * w[0] + w[1] * w[1] + w[2] * w[2] - radius * radius
  if (vv === 0) return beyond < 0 ? [-Infinity, Infinity] : null
  const root = vw * vw - vv * beyond
  if (!(root > 0)) return null
  return [(-vw - Math.sqrt(root)) / vv, (-vw + Math.sqrt(root)) / vv]
}

/** What of the straight a–b lies outside of balls grown by `by`. */
export function stretchesOutside(balls: readonly Ball[], a: Vec3, b: Vec3, by: number): readonly Stretch[] {
  let stretches: readonly Stretch[] = [[0, 1]]
  for (const { at, radius } of balls) stretches = outside(inBall(a, b, { at, radius: radius + by }), stretches)
  return stretches
}

const contact = emptyContact()
const segment: Segment = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }

/** A keeper's least room beside the stretches of a–b that it counts on, or `best` where that is less. Proved. */
function besideKeeper(keeper: RoomKeeper, a: Vec3, b: Vec3, all: readonly Stretch[], best: number): number {
  const { body, keep, blocks } = keeper
  let stretches = all
  for (const block of blocks) stretches = outside(inBox(a, b, block), stretches)
  for (const [start, end] of stretches) {
    const limit = best + keep + (body.kind === 'tube' ? bendSlack : 1e-9)
    if (!(limit > 0)) return best
    const [p, q] = [mix(a, b, start), mix(a, b, end)]
    segment.ax = p[0]
    segment.ay = p[1]
    segment.az = p[2]
    segment.bx = q[0]
    segment.by = q[1]
    segment.bz = q[2]
    if (!segmentToBody(body, segment, limit, contact)) continue
    best = Math.min(best, Math.max(contact.atLeast, 0) - keep)
  }
  return best
}

/** Straights longer than this are asked piece by piece, mm: the boxes of a tree fit short ones better. */
const longest = 60

/**
 * Lower bound on the room of a centreline along the straight a–b, mm.
 * @param open boxes in which any room that is not negative counts as `upTo`
 * @param upTo more is told as this
 */
export function roomAlong(
  keepers: readonly RoomKeeper[],
  a: Vec3,
  b: Vec3,
  open: readonly Bounds[],
  upTo: number,
  count: (distances: number) => void,
): number {
  const parts = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) / longest))
  const all: readonly Stretch[] = Array.from({ length: parts }, (_, i) => [i / parts, (i + 1) / parts])
  let counted = all
  for (const box of open) counted = outside(inBox(a, b, box), counted)
  let best = upTo
  for (const keeper of keepers) best = besideKeeper(keeper, a, b, counted, best)
  count(keepers.length * parts)
  if (counted === all) return best
  // In the open boxes only what is negative counts.
  let whole = Math.min(best, 0)
  for (const keeper of keepers) whole = besideKeeper(keeper, a, b, all, whole)
  return whole < 0 ? whole : best
}

const there = emptyPointDistance()

interface Beside {
  readonly room: number
  readonly way: Vec3
  readonly obstacle: number
}

/** Room beside each keeper that counts at a point and has no more than `upTo` of it, least first. */
export function besides(keepers: readonly RoomKeeper[], point: Vec3, upTo: number): Beside[] {
  const found: Beside[] = []
  for (const { body, keep, obstacle, blocks } of keepers) {
    if (blocks.some((block) => holds(block, point))) continue
    pointToBody(body, point[0], point[1], point[2], upTo + keep, there)
    if (there.atMost - keep > upTo) continue
    found.push({ room: there.atMost - keep, way: [there.nx, there.ny, there.nz], obstacle })
  }
  return found.sort((a, b) => a.room - b.room)
}

const steps = 8

/**
 * Moves a point to where it has more room, by `reach` at most: away from what is nearest until something else is as near,
 * then away from both. A guide only.
 * @param wanted so much is enough, mm
 */
export function roomier(keepers: readonly RoomKeeper[], point: Vec3, reach: number, wanted: number): Vec3 {
  let at = point
  let left = reach
  for (let step = 0; step < steps && left > 1e-4 * reach; step++) {
    const sides = besides(keepers, at, wanted + 2 * reach)
    if (sides.length === 0 || sides[0].room >= wanted) return at
    const [nearest] = sides
    const level = sides.filter(({ room }) => room < nearest.room + 1e-3 * reach)
    const sum = level.reduce<Vec3>((total, { way }) => along(total, way, 1), [0, 0, 0])
    const long = Math.hypot(...sum)
    if (!(long > 0.2)) return at
    const way: Vec3 = [sum[0] / long, sum[1] / long, sum[2] / long]
    const gain = way[0] * nearest.way[0] + way[1] * nearest.way[1] + way[2] * nearest.way[2]
    let far = Math.min(left, (wanted - nearest.room) / Math.max(gain, 1e-3))
    for (const other of sides) {
      const rate = gain - (way[0] * other.way[0] + way[1] * other.way[1] + way[2] * other.way[2])
      if (rate > 1e-6 && !level.includes(other)) far = Math.min(far, (other.room - nearest.room) / rate)
    }
    const next = along(at, way, far)
    const room = besides(keepers, next, wanted + 2 * reach)[0]?.room ?? Infinity
    if (!(room > nearest.room)) {
      left /= 4
      continue
    }
    at = next
    left -= far
  }
  return at
}
