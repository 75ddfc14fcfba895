import { dot, length, scale, sub, unit } from '../shape/vec.ts'
import { connect } from './connect.ts'
import type { SeatSearch } from './search.ts'
import { axes, isShift, posesAlong, shiftStep, type Step, turnStep } from './steps.ts'

/**
 * A way out in fewer and plainer moves: out as soon as a straight push is clear, runs replaced by one or two moves, moves
 * left out, slanted shifts and odd axes replaced by those along the bay's axes. Every change is proved before it is taken.
 * @param steps clear with `margin`, the last one a push out
 * @param until work done in all at which it ends
 */
export function shorten(search: SeatSearch, steps: readonly Step[], margin: number, until: number): readonly Step[] {
  let now = outSoonest(search, steps, margin)
  for (;;) {
    if (search.work.isOver(until)) return now
    const shorter = withRunReplaced(search, now, margin, until) ?? withOneLeftOut(search, now, margin)
    if (!shorter) break
    now = shorter
  }
  return alongAxes(search, now, margin, until)
}

/** Steps with a last push that is as long as it now has to be. */
export function withPush(search: SeatSearch, steps: readonly Step[]): Step[] {
  const poses = posesAlong(search.subject.seat, steps)
  const last = steps.length - 1
  return [...steps.slice(0, last), search.exits.pushAlong(poses[last], unit(steps[last].shift))]
}

export const isWayOut = (search: SeatSearch, steps: readonly Step[], margin: number): boolean =>
  search.areClear(search.subject.seat, steps, margin)

function outSoonest(search: SeatSearch, steps: readonly Step[], margin: number): readonly Step[] {
  const poses = posesAlong(search.subject.seat, steps)
  for (let i = 0; i < steps.length - 1; i++) {
    const push = search.exits.shot(poses[i], margin)
    if (push) return [...steps.slice(0, i), push]
  }
  return steps
}

function withRunReplaced(search: SeatSearch, steps: readonly Step[], margin: number, until: number): Step[] | null {
  const poses = posesAlong(search.subject.seat, steps)
  const last = steps.length - 1
  for (let span = last; span >= 2; span--)
    for (let i = 0; i + span <= last; i++) {
      if (search.work.isOver(until)) return null
      const made = connect(search, poses[i], poses[i + span], margin, true)
      if (made && made.length < span) return [...steps.slice(0, i), ...made, ...steps.slice(i + span)]
    }
  return null
}

function withOneLeftOut(search: SeatSearch, steps: readonly Step[], margin: number): Step[] | null {
  for (let i = 0; i < steps.length - 1; i++) {
    const made = withPush(search, [...steps.slice(0, i), ...steps.slice(i + 1)])
    if (isWayOut(search, made, margin)) return made
  }
  return null
}

function alongAxes(search: SeatSearch, steps: readonly Step[], margin: number, until: number): readonly Step[] {
  let now = steps
  for (let i = 0; i < steps.length - 1; i++) {
    for (const plainer of isShift(steps[i]) ? plainShifts(steps[i]) : plainTurns(search, steps[i])) {
      if (search.work.isOver(until)) return now
      const made = withPush(search, [...now.slice(0, i), plainer, ...now.slice(i + 1)])
      if (!isWayOut(search, made, margin)) continue
      now = made
      break
    }
  }
  return now
}

function plainShifts({ shift }: Step): Step[] {
  return axes.flatMap((axis) => {
    const share = dot(shift, axis)
    if (Math.abs(share) < 2 || Math.abs(share) > 0.9999 * length(shift)) return []
    return [1, 1.2, 0.8].map((f) => shiftStep(scale(axis, Math.sign(share)), f * Math.abs(share)))
  })
}

function plainTurns({ pivots }: SeatSearch, step: Step): Step[] {
  if (length(step.shift) > 0) return []
  const best = axes.reduce((a, b) => (Math.abs(dot(step.axis, b)) > Math.abs(dot(step.axis, a)) ? b : a))
  const share = dot(step.axis, best)
  if (Math.abs(share) > 0.9999) return []
  const near = [step.pivot, ...pivots.filter((pivot) => length(sub(pivot, step.pivot)) > 1e-9)]
  return [1, 1.1, 0.9, 1.25, 0.75].flatMap((f) => near.map((pivot) => turnStep(best, pivot, f * share * step.angle)))
}
