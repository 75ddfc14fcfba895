import { along, dot, mix, type Vec3 } from '../../shape/vec.ts'
import { inLineRad } from './certify.ts'
import { emptyPointDistance, pointToBody } from './distancePoint.ts'
import { emptyContact, type Segment, segmentToBody } from './distanceSegment.ts'
import { certainDistance, isExcused, type Keeper } from './keepers.ts'
import { stretchesOutside } from './passageWay.ts'
import type { RouteProblem } from './problem.ts'

/** The line on which the corner next to an end lies. */
export interface EndLine {
  readonly at: Vec3
  readonly direction: Vec3
  /** Where the straight has left the box, or is proved to be too near to something: the bend has begun by then, mm. */
  readonly clear: number
  /** No corner lies farther out, mm. */
  readonly longest: number
}

/** Beyond rounding, mm. */
const guard = 1e-7
/** Points of an arc are looked at this far apart, radians. */
const arcStep = 0.15

/** One corner of the routes in a cell. Lengths mm, angles radians. */
interface Bend {
  /** The corner in the cell's middle, and how far those of the cell lie from it. */
  readonly corner: Vec3
  readonly reach: number
  /** Away from the end. */
  readonly direction: Vec3
  /** Turned in the middle, and at least and at most in the cell. */
  readonly angle: number
  readonly least: number
  readonly most: number
  /** From the corner to the arc's ends: in the middle, at least and at most. */
  readonly setback: number
  readonly leastSetback: number
  readonly mostSetback: number
}

/**
 * Routes of two bends, corners at s along one end's line and t along the other's, s and t each within bounds.
 *
 * How far a point of the middle's route can lie from the nearest point of another route of the cell, where the corners lie
 * within `e`, `f` of the middle's, and the way between them within the angle δ = asin((e + f)/l) of the middle's:
 * - on what all the cell's routes have straight between the corners: max(e, f);
 * - a corner, to the arc: e + R (1/cos(θ/2) − 1);
 * - a point of an arc: e + R δ (1 + ½/cos²(θ/2) + tan(θ/2)), θ the greatest angle: slid along the arc by R δ where the other
 *   one turns less; moved along the fixed direction with the end of the arc by ½ R/cos²(θ/2) for each radian turned more; and
 *   turned about that direction, with a lever of at most R tan(θ/2) for each radian that the way turns aside.
 * The ends' own deviation adds to e, f and δ. Derived; held to sampled routes by its test.
 */
export class BendCell {
  /** By how much the route of the middle fails, about, mm; 0 or less where it may be one. */
  lacking = 0
  private readonly problem: RouteProblem
  private readonly keepers: readonly Keeper[]
  private readonly from: EndLine
  private readonly to: EndLine
  /** Half of the turn between the ends as a setback: two bends have at least this much together. */
  private readonly leastSetbacks: number
  private readonly there = emptyPointDistance()
  private readonly contact = emptyContact()
  private readonly segment: Segment = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }
  /** What dropped the last cell: its neighbours mostly fail for the same. */
  private last: Keeper | null = null
  private near: readonly Keeper[] = []

  constructor(problem: RouteProblem, keepers: readonly Keeper[], from: EndLine, to: EndLine) {
    this.problem = problem
    this.keepers = keepers
    this.from = from
    this.to = to
    const cosine = -dot(from.direction, to.direction)
    const turn = Math.max(0, Math.acos(Math.min(1, Math.max(-1, cosine))) - 2 * inLineRad)
    this.leastSetbacks = 2 * problem.bendRadius * Math.tan(turn / 4)
  }

  /** Whether it is proved that every route with s in a0 … a1 and t in b0 … b1 fails; else `lacking` says how near it comes. */
  fails(a0: number, a1: number, b0: number, b1: number): boolean {
    const { from, to, problem } = this
    const [s, t] = [(a0 + a1) / 2, (b0 + b1) / 2]
    const first = along(from.at, from.direction, s)
    const second = along(to.at, to.direction, t)
    const [e, f] = [(a1 - a0) / 2 + 1.001 * a1 * inLineRad, (b1 - b0) / 2 + 1.001 * b1 * inLineRad]
    const way: Vec3 = [second[0] - first[0], second[1] - first[1], second[2] - first[2]]
    const apart = Math.hypot(way[0], way[1], way[2])
    const longest = apart + e + f
    this.lacking = 0
    // Both bends and the straight between them have to go between the corners.
    const room = longest - problem.leastStraight
    if (room < this.leastSetbacks - guard) return true
    const turned = apart > (e + f) * 1.001 + 1e-9 ? Math.asin((e + f) / apart) + inLineRad : Math.PI
    const unitWay: Vec3 = apart > 0 ? [way[0] / apart, way[1] / apart, way[2] / apart] : [0, 0, 0]
    const bends = [
      this.bend(first, e, from.direction, dot(from.direction, unitWay), turned, room),
      this.bend(second, f, to.direction, -dot(to.direction, unitWay), turned, room),
    ] as const
    if (this.lacksStraights(a1, b1, bends, room)) return true
    if (a0 - bends[0].mostSetback > from.clear || b0 - bends[1].mostSetback > to.clear) return true
    this.lacking = this.lackingStraights(s, t, bends, apart)
    if (turned >= Math.PI / 2) {
      this.lacking = Math.max(this.lacking, e + f)
      return false
    }
    this.nearby(bends, unitWay)
    return (
      this.middleFails(first, second, apart, bends) ||
      this.arcFails(bends[0], unitWay, turned) ||
      this.arcFails(bends[1], [-unitWay[0], -unitWay[1], -unitWay[2]], turned)
    )
  }

  /** Keeps those that some point of the middle's route, or a corner, may be too near to: all that is asked about. */
  private nearby([first, second]: readonly [Bend, Bend], way: Vec3): void {
    const points = [
      first.corner,
      along(first.corner, first.direction, -first.setback),
      along(first.corner, way, first.setback),
      second.corner,
      along(second.corner, second.direction, -second.setback),
      along(second.corner, way, -second.setback),
    ]
    const low = [0, 1, 2].map((k) => Math.min(...points.map((p) => p[k])))
    const high = [0, 1, 2].map((k) => Math.max(...points.map((p) => p[k])))
    this.near = this.keepers.filter(({ body: { box, slack }, keep }) =>
      [0, 1, 2].every((k) => box[k] - high[k] < keep + slack && low[k] - box[3 + k] < keep + slack),
    )
    const last = this.last
    if (last && this.near.includes(last)) this.near = [last, ...this.near.filter((keeper) => keeper !== last)]
  }

  private bend(corner: Vec3, reach: number, direction: Vec3, cosine: number, turned: number, room: number): Bend {
    const angle = Math.acos(Math.min(1, Math.max(-1, cosine)))
    const roomFor = 2 * Math.atan(Math.max(room, 0) / this.problem.bendRadius)
    const least = Math.max(0, angle - turned)
    const most = Math.min(this.problem.largestAngle, angle + turned, roomFor)
    const setback = (turn: number) => this.problem.bendRadius * Math.tan(Math.min(turn, 3.1) / 2)
    const [leastSetback, mostSetback] = [setback(least), Math.min(setback(most), Math.max(room, 0))]
    return { corner, reach, direction, angle, least, most, setback: setback(angle), leastSetback, mostSetback }
  }

  private lacksStraights(a1: number, b1: number, [first, second]: readonly [Bend, Bend], room: number): boolean {
    const { from, to, largestAngle } = this.problem
    return (
      first.least > largestAngle ||
      second.least > largestAngle ||
      a1 - first.leastSetback < from.leastStraight - guard ||
      b1 - second.leastSetback < to.leastStraight - guard ||
      room < first.leastSetback + second.leastSetback - guard
    )
  }

  private lackingStraights(s: number, t: number, [first, second]: readonly [Bend, Bend], apart: number): number {
    const { from, to, leastStraight, largestAngle, bendRadius } = this.problem
    return Math.max(
      from.leastStraight - s + first.setback,
      to.leastStraight - t + second.setback,
      leastStraight - apart + first.setback + second.setback,
      bendRadius * (Math.max(first.angle, second.angle) - largestAngle),
    )
  }

  /** What is straight between the corners on every route of the cell: too near to something, or out of the box. */
  private middleFails(a: Vec3, b: Vec3, apart: number, [first, second]: readonly [Bend, Bend]): boolean {
    const shortest = apart - first.reach - second.reach
    const [start, end] = [first.mostSetback / shortest, 1 - second.mostSetback / shortest]
    if (!(start < end)) return false
    const moves = Math.max(first.reach, second.reach)
    const [p, q] = [mix(a, b, start), mix(a, b, end)]
    if (this.isOut(p, moves) || this.isOut(q, moves)) return true
    return this.anyKeeper((keeper) => this.straightFails(keeper, p, q, moves))
  }

  private straightFails(keeper: Keeper, p: Vec3, q: Vec3, moves: number): boolean {
    const { segment, contact } = this
    const { body, keep, excused } = keeper
    for (const [start, end] of stretchesOutside(excused, p, q, moves)) {
      const [u, v] = [mix(p, q, start), mix(p, q, end)]
      segment.ax = u[0]
      segment.ay = u[1]
      segment.az = u[2]
      segment.bx = v[0]
      segment.by = v[1]
      segment.bz = v[2]
      if (!segmentToBody(body, segment, keep, contact)) continue
      if (this.isTooNear(keeper, contact.distance, moves)) return true
    }
    return false
  }

  /** The arc at a corner: that corner, and points all along the middle's arc. */
  private arcFails(bend: Bend, way: Vec3, turned: number): boolean {
    const { bendRadius } = this.problem
    const { most, corner, direction, angle, reach, setback } = bend
    const toArc = reach + bendRadius * (1 / Math.cos(most / 2) - 1)
    const before = this.lacking
    if (this.anyKeeper((keeper) => this.pointFails(keeper, corner, toArc))) return true
    // The corner is no point of the route: what it lacks says nothing.
    this.lacking = before
    if (!(angle > 1e-9 && angle < 3)) return false
    const moves = arcMoves(bendRadius, reach, turned, most, bend.mostSetback)
    if (setback > 1e4) return false
    // `way` leads on from the corner, or from the second corner back to the first.
    const sine = Math.sin(angle)
    const cosine = Math.cos(angle)
    const n: Vec3 = [0, 1, 2].map((k) => (way[k] - cosine * direction[k]) / sine) as unknown as Vec3
    const count = Math.ceil(angle / arcStep)
    for (let i = 0; i <= count; i++) {
      const turn = (angle * i) / count
      const [ahead, aside] = [bendRadius * Math.sin(turn) - setback, bendRadius * (1 - Math.cos(turn))]
      const p = [0, 1, 2].map((k) => corner[k] + ahead * direction[k] + aside * n[k]) as unknown as Vec3
      if (this.isOut(p, moves) || this.anyKeeper((keeper) => this.pointFails(keeper, p, moves))) return true
    }
    return false
  }

  private pointFails(keeper: Keeper, p: Vec3, moves: number): boolean {
    const { there } = this
    if (isExcused(keeper, p, moves)) return false
    pointToBody(keeper.body, p[0], p[1], p[2], keeper.keep, there)
    return this.isTooNear(keeper, there.atMost, moves)
  }

  private isTooNear(keeper: Keeper, signed: number, moves: number): boolean {
    const { keep } = keeper
    const distance = certainDistance(keeper, signed)
    if (keep - distance > this.lacking) this.lacking = keep - distance
    return distance + moves < keep - guard
  }

  private isOut([x, y, z]: Vec3, moves: number): boolean {
    const { min, max } = this.problem.box
    const out = Math.max(min[0] - x, x - max[0], min[1] - y, y - max[1], min[2] - z, z - max[2])
    if (out > this.lacking) this.lacking = out
    return out > moves + guard
  }

  private anyKeeper(fails: (keeper: Keeper) => boolean): boolean {
    for (const keeper of this.near) {
      if (!fails(keeper)) continue
      this.last = keeper
      return true
    }
    return false
  }
}

/**
 * How far a point of an arc lies from the nearest point of any other such route, mm: see `BendCell`.
 * @param reach how far the other corner may lie from this one
 * @param turned how far the way on, seen from the end's direction, may turn, radians; the ends' own deviation included
 * @param most the greatest angle of the other bend, radians, and `setback` the length from its corner to its arc
 */
export function arcMoves(bendRadius: number, reach: number, turned: number, most: number, setback: number): number {
  const lever = 1 + 0.5 / Math.cos(most / 2) ** 2 + Math.tan(most / 2)
  return reach + setback * inLineRad + bendRadius * turned * lever
}
