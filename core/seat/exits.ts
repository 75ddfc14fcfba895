import { dot, turned, unit, type Pose, type Vec3 } from '../shape/vec.ts'
import type { Advancer } from './advance.ts'
import { motionOf, type Step, shiftStep } from './steps.ts'
import type { SeatSubject } from './subject.ts'

/** Beyond the last keep-out, mm: so much light is between them at the start. */
const beyond = 20
/** Pushes are given in whole steps of this, mm. */
const whole = 10

const tenths = (x: number): number => Math.round(10 * x) / 10 + 0

/** Straight pushes out of the bay: the test of every search whether it is out. */
export class Exits {
  readonly directions: readonly Vec3[]
  private readonly advancer: Advancer
  private readonly subject: Pick<SeatSubject, 'pieces'>
  private readonly corners: readonly Vec3[]
  /** How far the bounded keep-outs reach along each direction, mm. */
  private readonly reach: readonly number[]
  /** The pair that stopped the last push that way. */
  readonly hints: number[]

  constructor(subject: Pick<SeatSubject, 'pieces' | 'keepOuts' | 'seat'>, advancer: Advancer) {
    this.subject = subject
    this.advancer = advancer
    this.directions = waysOut(subject.seat).filter((way) => isOpen(subject, way))
    this.corners = cornersOfBay(subject)
    this.reach = this.directions.map((way) => farthest(this.corners, way))
    this.hints = this.directions.map(() => 0)
  }

  /** The first straight push that takes the part from a pose out of everything, with `margin` all the way; null without one. */
  shot(pose: Pose, margin: number): Step | null {
    for (let i = 0; i < this.directions.length; i++) {
      const push = this.push(pose, i)
      if (this.advancer.isClear(motionOf(push, pose), margin, this.hints[i])) return push
      this.hints[i] = this.advancer.stoppedBy
    }
    return null
  }

  /** The push along one of the directions that ends beyond all bounded keep-outs, whether it is clear or not. */
  push(pose: Pose, i: number): Step {
    return this.pushOf(pose, this.directions[i], this.reach[i])
  }

  /** The same along any direction. */
  pushAlong(pose: Pose, way: Vec3): Step {
    return this.pushOf(pose, way, farthest(this.corners, way))
  }

  private pushOf(pose: Pose, way: Vec3, reach: number): Step {
    const amount = reach - leastAlong(this.subject, pose, way) + beyond
    const push = shiftStep(way, Math.max(whole, whole * Math.ceil(amount / whole)))
    // Slanted pushes in numbers that can be told, too: they turn by less than a thousandth of what lies beyond.
    return { ...push, shift: push.shift.map(tenths) as unknown as Vec3 }
  }
}

/** Along the axes and halfway between them, the seat's own axes where it is tilted, and forward in small steps of up and down. */
export function waysOut(seat: Pose): Vec3[] {
  const ways: Vec3[] = []
  const add = (way: Vec3) => {
    const u = unit(way)
    if (!ways.some((known) => dot(known, u) > 0.9995)) ways.push(u)
  }
  const square: Vec3[] = [
    [0, 0, 1],
    [0, 0, -1],
    [-1, 0, 0],
    [0, -1, 0],
    [0, 1, 0],
    [1, 0, 0],
  ]
  for (const way of square) add(way)
  for (const way of square.slice(0, 3)) add(turned(seat.turn, way))
  for (const z of [1, -1]) for (const x of [1, 0.35, 2.5]) add([-x, 0, z])
  for (const y of [0.4, -0.4, 1, -1]) add([-1, y, 0])
  for (const z of [1, -1]) for (const y of [1, -1]) add([0, y, z])
  for (const z of [1, -1]) add([1, 0, z])
  return ways
}

const farthest = (corners: readonly Vec3[], way: Vec3): number =>
  corners.reduce((most, corner) => Math.max(most, dot(corner, way)), -Infinity)

/** Whether a way can be gone for ever without coming nearer to a half-space: floors and walls have no far side. */
const isOpen = ({ keepOuts }: Pick<SeatSubject, 'keepOuts'>, way: Vec3): boolean =>
  keepOuts.every(({ obstacles }) =>
    obstacles.every((each) => each.kind !== 'halfSpace' || dot(each.form.normal, way) >= -1e-9),
  )

/**
 * Whether the part at a pose is out of the bay: it could go off along one of some directions for ever. A plane square to it lies
 * between the part and all bounded keep-outs, and it leads into no half-space.
 * @param ofBounded of the bounded keep-outs alone, wherever the half-spaces are
 */
export function isBeyond(
  subject: Pick<SeatSubject, 'pieces' | 'keepOuts'>,
  pose: Pose,
  ways: readonly Vec3[],
  ofBounded = false,
): boolean {
  const corners = cornersOfBay(subject)
  return ways.some(
    (way) => (ofBounded || isOpen(subject, way)) && leastAlong(subject, pose, way) >= farthest(corners, way),
  )
}

/** Corners of the boxes about all bounded keep-outs. */
export function cornersOfBay({ keepOuts }: Pick<SeatSubject, 'keepOuts'>): Vec3[] {
  return keepOuts.flatMap(({ obstacles }) =>
    obstacles.flatMap(({ kind, box }): Vec3[] => {
      if (kind === 'halfSpace') return []
      return [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [box[i & 1 ? 3 : 0], box[i & 2 ? 4 : 1], box[i & 4 ? 5 : 2]])
    }),
  )
}

/** Least coordinate of the part along a direction at a pose, by the boxes of its pieces: no more than the true one, mm. */
export function leastAlong({ pieces }: Pick<SeatSubject, 'pieces'>, pose: Pose, way: Vec3): number {
  const own = turnedInto(pose, way)
  let least = Infinity
  for (const { low, high } of pieces) {
    let sum = 0
    for (let k = 0; k < 3; k++) sum += own[k] * (own[k] > 0 ? low[k] : high[k])
    if (sum < least) least = sum
  }
  return least + dot(pose.at, way)
}

const turnedInto = ({ turn: m }: Pose, [x, y, z]: Vec3): Vec3 => [
  m[0] * x + m[3] * y + m[6] * z,
  m[1] * x + m[4] * y + m[7] * z,
  m[2] * x + m[5] * y + m[8] * z,
]
