import { Advancer } from '../../core/seat/advance.ts'
import type { SeatPath } from '../../core/seat/answer.ts'
import { decide } from '../../core/seat/certify.ts'
import { turnBetween } from '../../core/seat/connect.ts'
import { cornersOfBay, Exits } from '../../core/seat/exits.ts'
import { offeredUp, turnAbout } from '../../core/seat/move.ts'
import { after, axes, motionOf, movesAlong, shareOfStep, type Step } from '../../core/seat/steps.ts'
import type { SeatSubject } from '../../core/seat/subject.ts'
import { Sweeps } from '../../core/seat/sweeps.ts'
import { length, product, scale, sub, type Pose } from '../../core/shape/vec.ts'
import { type Random, seeded } from './random.ts'

export interface PlainSeatRequest {
  readonly seed: number
  readonly stop: () => boolean
}

interface Node {
  readonly pose: Pose
  readonly before: Node | null
  readonly step: Step | null
}

/** No point goes farther than about this in one step, mm. */
const stepLength = 150
/** Widest turns about each axis that are drawn, degrees: as in the product's own tree in space. */
const widest = 40
/** A step is kept from this share on. */
const leastShare = 0.05

/**
 * What anybody would try first, to compare with: a tree of random poses in all six freedoms, grown from the seat. A pose is
 * drawn, the nearest node goes one step straight towards it, turning evenly while it shifts, as far as that is clear; from
 * each new node the straight pushes out are tried. Distances, the proof of each step and the pushes are the product's own,
 * so that only the choice of moves differs.
 * Source: S. M. LaValle, Rapidly-exploring random trees (1998), from memory.
 * @returns a proved path as found; null where it was stopped first
 */
export function plainSeatPath(subject: SeatSubject, { seed, stop }: PlainSeatRequest): SeatPath | null {
  const random = seeded(seed)
  const advancer = new Advancer(subject, new Sweeps())
  const exits = new Exits(subject, advancer)
  const reach = Math.max(...subject.pieces.flatMap(({ low, high }) => [length(low), length(high)]))
  const nodes: Node[] = [{ pose: subject.seat, before: null, step: null }]
  const room = roomOf(subject, reach)
  const margin = 0.005
  const pathOf = (steps: readonly Step[]): SeatPath | null => {
    const path = offeredUp(subject.seat, movesAlong(subject.seat, steps))
    return decide(subject, path) === 'proved' ? path : null
  }
  const atOnce = exits.shot(subject.seat, margin)
  if (atOnce) return pathOf([atOnce])
  while (!stop()) {
    const goal = drawn(random, subject.seat, room)
    const near = nearest(nodes, goal, reach)
    const whole = towards(near.pose, goal, reach)
    const { share } = advancer.advance(motionOf(whole, near.pose), margin)
    if (share < leastShare) continue
    const step = shareOfStep(whole, share)
    const node: Node = { pose: after(near.pose, step), before: near, step }
    nodes.push(node)
    const push = exits.shot(node.pose, margin)
    const path = push && pathOf([...stepsTo(node), push])
    if (path) return path
  }
  return null
}

type Room = readonly (readonly [number, number])[]

/** About the seat as far as the part is long, within the bay's boxes and a little beyond: as the product's own trees draw. */
function roomOf(subject: SeatSubject, reach: number): Room {
  const corners = cornersOfBay(subject)
  return [0, 1, 2].map((k) => {
    const all = corners.map((corner) => corner[k])
    const at = subject.seat.at[k]
    return [
      Math.max(Math.min(at, ...all) - 0.3 * reach, at - 1.3 * reach),
      Math.min(Math.max(at, ...all) + 0.3 * reach, at + 1.3 * reach),
    ] as const
  })
}

function drawn(random: Random, seat: Pose, room: Room): Pose {
  const [x, y, z] = room.map(([low, high]) => random.real(low, high))
  let { turn } = seat
  for (const axis of axes) turn = product(turnAbout(axis, (random.real(-widest, widest) * Math.PI) / 180), turn)
  return { at: [x, y, z], turn }
}

/** Shift and turn in one figure: how far the farthest point may have to go, mm. */
function apart(a: Pose, b: Pose, reach: number): number {
  let trace = 0
  for (let k = 0; k < 9; k++) trace += a.turn[k] * b.turn[k]
  return length(sub(a.at, b.at)) + reach * Math.acos(Math.min(1, Math.max(-1, (trace - 1) / 2)))
}

function nearest(nodes: readonly Node[], goal: Pose, reach: number): Node {
  let [best] = nodes
  let least = Infinity
  for (const node of nodes) {
    const far = apart(node.pose, goal, reach)
    if (far < least) [best, least] = [node, far]
  }
  return best
}

/** Straight, and turning evenly about the part's own middle. */
function towards(from: Pose, goal: Pose, reach: number): Step {
  const share = Math.min(1, stepLength / apart(from, goal, reach))
  const { axis, angle } = turnBetween(from.turn, goal.turn)
  return { shift: scale(sub(goal.at, from.at), share), axis, pivot: [0, 0, 0], angle: angle * share }
}

function stepsTo(node: Node): Step[] {
  const steps: Step[] = []
  for (let at: Node | null = node; at; at = at.before) if (at.step) steps.push(at.step)
  return steps.reverse()
}
