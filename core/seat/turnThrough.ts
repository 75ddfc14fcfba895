import { scale, sub, type Pose, type Vec3 } from '../shape/vec.ts'
import { aim } from './aim.ts'
import type { SeatSearch } from './search.ts'
import { after, axes, isSomething, motionOf, shareOfStep, shiftStep, type Step, turnStep } from './steps.ts'

/** Degrees a stretch: the largest first, smaller ones where it does not go on. In all a little over a quarter turn. */
const stretches = [4, 2, 1]
const widest = 104
const rounds = 90
const still = shiftStep([1, 0, 0], 0)
/** The part is brought away from what is nearer than this, mm: not farther, or it would leave the bend again. */
const roomy = 4
/** A shift before the turn goes up to contact, but for this share. */
const short = 0.98
const longest = 3000
const shiftsOnly = [0, 1, 2]

/**
 * A way out that turns the part about one axis, little by little, and keeps it off what it comes near to after each stretch:
 * round bends that leave it a hair. It begins at the seat, or after a shift to contact. A straight push out is tried after each.
 * @param until work done in all at which it gives up
 */
export function turnThrough(search: SeatSearch, margin: number, until: number): Step[] | null {
  for (const axis of [2, 1, 0])
    for (const first of startsOf(search, axis, margin))
      for (const side of [1, -1]) {
        const way = turnedThrough(search, first, axis, side, margin, until)
        if (way) return way
      }
  return null
}

/** Nothing, or a shift square to the axis until something is met. */
function startsOf({ advancer, subject }: SeatSearch, axis: number, margin: number): Step[][] {
  const ways = [0, 1, 2].filter((k) => k !== axis).flatMap((k) => [1, -1].map((s) => scale(axes[k], s)))
  const shifts = ways.map((way) => {
    const whole = shiftStep(way, longest)
    return shareOfStep(whole, short * advancer.advance(motionOf(whole, subject.seat), margin).share)
  })
  return [[], ...shifts.filter((step) => isSomething(step, 5, 1)).map((step) => [step])]
}

function turnedThrough(
  search: SeatSearch,
  first: readonly Step[],
  axis: number,
  side: number,
  margin: number,
  until: number,
): Step[] | null {
  const free = [0, 1, 2, 3, 4, 5].map((k) => shiftsOnly.includes(k) && k !== axis)
  const steps = [...first]
  let pose = first.reduce(after, search.subject.seat)
  for (let turned = 0; turned < widest && !search.work.isOver(until); ) {
    let step: Step | null = null
    for (const angle of stretches)
      if (!step) step = kept(search, pose, turnStep(axes[axis], [0, 0, 0], side * angle), free, margin)
    if (!step) return null
    turned += Math.abs(step.angle)
    steps.push(step)
    pose = after(pose, step)
    const push = search.exits.shot(pose, margin)
    if (push) return [...steps, push]
  }
  return null
}

/** The turn with the shift that keeps the part off what it would come near to; null where that is not clear. */
function kept(search: SeatSearch, pose: Pose, turn: Step, free: readonly boolean[], margin: number): Step | null {
  const { subject, work } = search
  const aimed = aim(subject, after(pose, turn), still, { target: roomy, rounds, work, free })
  if (!aimed || aimed.inset > 0) return null
  const shift: Vec3 = sub(aimed.pose.at, after(pose, turn).at)
  const step = { ...turn, shift }
  return search.isClear(pose, step, margin) ? step : null
}
