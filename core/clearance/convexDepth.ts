import { length, type Vec3 } from '../shape/vec.ts'
import { DifferenceHull } from './differenceHull.ts'
import { endWidth, roundingSlack } from './nearest.ts'
import { type CylinderDepth, parallelCylinderDepth } from './parallelCylinders.ts'
import { emptySimplex, type Simplex, toNearest } from './simplex.ts'
import type { ConvexSet } from './support.ts'

/** How deep two convex sets overlap, mm, and where. */
export interface ConvexDepth {
  readonly atLeast: number
  readonly atMost: number
  /** Unit: moving the first set this way by the depth parts them. */
  readonly direction: Vec3
  /** Deepest points, each on the surface of its own set; apart by the depth along `direction`. */
  readonly onA: Vec3
  readonly onB: Vec3
  readonly stopped: 'converged' | 'limit'
}

/** Each round adds one support point. Cylinders almost equally deep all round (nearly coaxial ones) need the most. */
const rounds = 8000
/** From this round on cylinders may end at the coarse width: halving it again would cost half as many rounds once more. */
const fairRounds = 1500

/** Width at which the bounds may end, mm. Polytopes end exactly, whatever is asked. */
function depthWidth(a: ConvexSet, b: ConvexSet, round: number): number {
  const exact = endWidth(a, b)
  if (a.radius + b.radius === 0) return exact
  return Math.max(exact, round < fairRounds ? 1e-7 + 2e-10 * (a.reach + b.reach) : 1e-6 + 1e-9 * (a.reach + b.reach))
}

/**
 * Least translation that parts two convex sets which have a common point.
 * @param a, b  sets with volume, in one frame near the origin, mm
 * @returns bounds on its length. Upper: how far a must move along `direction` until a plane parts
 * them, and what rounding can do. Lower: the hull of support points of a − b holds the ball of that radius about the origin.
 * Edge cases: merely touching (or apart by rounding) gives atLeast 0 and an atMost within rounding of 0.
 * Error: 1e-9 mm + 1e-12 of the coordinates for polytopes; 1e-7 mm + 2e-10 of them where a cylinder takes part (ten times
 * that where very many directions are as deep), unless stopped is 'limit'.
 * Source: G. van den Bergen, Proximity queries and penetration depth computation on 3D game objects (2001), from memory;
 *         exact sides: J. R. Shewchuk, Adaptive precision floating-point arithmetic (1997), by robust-predicates.
 */
export function convexDepth(a: ConvexSet, b: ConvexSet): ConvexDepth {
  const slack = roundingSlack(a, b)
  let width = depthWidth(a, b, 0)
  const closed: CylinderDepth | undefined = parallelCylinderDepth(a, b, width)
  if (closed) return closed
  const hull = new DifferenceHull(a, b)
  if (!hull.begin()) return flat(hull, slack)
  let atMost = Infinity
  let outward: Vec3 = [1, 0, 0]
  let atLeast = 0
  // Faces whose direction brings no point beyond them: they still bound the depth from below while they stand.
  let aside: number[] = []
  for (let round = 0; round < rounds; round++) {
    if (round === fairRounds) width = depthWidth(a, b, round)
    const f = hull.takeNearest()
    aside = aside.filter((g) => hull.isAlive(g))
    const lower =
      aside.reduce((least, g) => Math.min(least, hull.reachOf[g]), f < 0 ? Infinity : hull.reachOf[f]) - slack
    if (lower > atLeast) atLeast = lower
    // Of sets that merely touch, the hull must reach the origin too, for the witnesses to meet.
    const done = atMost - atLeast <= width && lower >= -2 * slack
    if (done || f < 0 || hull.reachOf[f] - slack > atMost) {
      hull.putBack(f)
      break
    }
    const n: Vec3 = [hull.normal[3 * f], hull.normal[3 * f + 1], hull.normal[3 * f + 2]]
    const p = hull.addSupport(n[0], n[1], n[2])
    const h = n[0] * hull.w[3 * p] + n[1] * hull.w[3 * p + 1] + n[2] * hull.w[3 * p + 2] + slack
    if (h < atMost && (n[0] !== 0 || n[1] !== 0 || n[2] !== 0)) {
      atMost = h
      outward = n
    }
    const seen = hull.faceSeenBy(p, f)
    if (seen < 0) {
      hull.forgetLast()
      aside.push(f)
    } else if (hull.takeIn(seen)) hull.putBack(f)
    else break
  }
  atMost = Math.max(atMost, 0)
  const { onA, onB } = deepest(hull, aside, atMost + width, a.radius + b.radius > 0)
  const direction: Vec3 = [-outward[0], -outward[1], -outward[2]]
  const stopped = atMost - atLeast <= depthWidth(a, b, fairRounds) ? 'converged' : 'limit'
  return { atLeast: Math.min(atLeast, atMost), atMost, direction, onA, onB, stopped }
}

/**
 * Point of the hull's surface nearest the origin, as its two witnesses; only faces within `reach` can hold it. On round
 * sets several faces may be as near, some of them chords not yet pushed out to the surface: the one that a plane in its
 * own direction leaves least room beyond is taken, so that the witnesses lie on the solids.
 */
function deepest(
  hull: DifferenceHull,
  aside: readonly number[],
  reach: number,
  round: boolean,
): { onA: Vec3; onB: Vec3 } {
  const s = emptySimplex()
  let least = Infinity
  let onA: Vec3 = [0, 0, 0]
  let onB: Vec3 = [0, 0, 0]
  // `toNearest` leaves out the edge without the last corner, so each corner is the last once.
  const look = (f: number): void => {
    const beyond = round ? hull.roomBeyond(f) : 0
    for (let last = 0; last < 3; last++) {
      s.n = 3
      for (let c = 0; c < 3; c++) copyPoint(hull, hull.corner[3 * f + ((last + 1 + c) % 3)], s, c)
      toNearest(s)
      const cost = length([s.v[0], s.v[1], s.v[2]]) + beyond
      if (cost >= least) continue
      least = cost
      onA = weighted(s, s.a)
      onB = weighted(s, s.b)
    }
  }
  aside.forEach(look)
  for (let f = hull.takeNearest(); f >= 0 && (hull.reachOf[f] <= reach || least === Infinity); f = hull.takeNearest())
    look(f)
  return { onA, onB }
}

function copyPoint(hull: DifferenceHull, point: number, s: Simplex, slot: number): void {
  for (let k = 0; k < 3; k++) {
    s.w[3 * slot + k] = hull.w[3 * point + k]
    s.a[3 * slot + k] = hull.a[3 * point + k]
    s.b[3 * slot + k] = hull.b[3 * point + k]
  }
}

function weighted(s: Simplex, from: Float64Array): Vec3 {
  const sum = [0, 0, 0]
  for (let i = 0; i < s.n; i++) for (let k = 0; k < 3; k++) sum[k] += s.weight[i] * from[3 * i + k]
  return [sum[0], sum[1], sum[2]]
}

/** Sets whose difference has no volume in double precision: nothing to part, nothing proved deeper than 0. */
function flat(hull: DifferenceHull, slack: number): ConvexDepth {
  const p: Vec3 = [hull.a[0], hull.a[1], hull.a[2]]
  const q: Vec3 = [hull.b[0], hull.b[1], hull.b[2]]
  const x = Math.max(hull.w[0], 0) + slack
  return { atLeast: 0, atMost: x, direction: [-1, 0, 0], onA: p, onB: q, stopped: 'limit' }
}
