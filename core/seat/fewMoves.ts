import { dot, turned, unit, type Pose, type Vec3 } from '../shape/vec.ts'
import { aimedOut } from './aimedOut.ts'
import type { SeatSearch } from './search.ts'
import { after, axes, isShift, isSomething, motionOf, shareOfStep, shiftStep, type Step, turnStep } from './steps.ts'

/** A pose that was reached, the steps to it, and how far its best push out is from clear, mm. */
interface Reached {
  readonly pose: Pose
  readonly steps: readonly Step[]
  readonly inset: number
  readonly way: number
}

/** Longest shift, mm, and widest turn, degrees, that are tried. */
const longest = 400
const widest = 50
const shiftShares = [1, 0.75, 0.5, 0.25]
const turnShares = [1, 0.66, 0.33]
const beam = 24
const depth = 2
const aimedFrom = 16

/**
 * A way out of few moves, looked for in order and without chance: from the seat every shift and turn that a person would try,
 * to contact and to shares of it, a straight push out after each; then on from the most promising ones.
 * @param until work done in all at which it gives up
 */
export function fewMoves(search: SeatSearch, margin: number, until: number): Step[] | null {
  const { seat } = search.subject
  const push = search.exits.shot(seat, margin)
  if (push) return [push]
  const seen = new Set([keyOf(seat)])
  let front: Reached[] = [{ pose: seat, steps: [], inset: Infinity, way: -1 }]
  for (let level = 0; level < depth && front.length > 0; level++) {
    const next: Reached[] = []
    for (const from of front)
      for (const step of stepsFrom(search, from)) {
        if (search.work.isOver(until)) return null
        const found = follow(search, from, step, margin, seen, next)
        if (found) return found
      }
    next.sort((a, b) => a.inset - b.inset)
    for (const { pose, steps, way, inset } of next.slice(0, aimedFrom)) {
      if (search.work.isOver(until)) return null
      const out = inset < Infinity ? aimedOut(search, pose, way, margin) : null
      if (out) return [...steps, ...out]
    }
    front = spread(next)
  }
  return null
}

/** One step to contact and to shares of it; the way out where a push is clear from there. */
function follow(
  search: SeatSearch,
  { pose, steps }: Reached,
  whole: Step,
  margin: number,
  seen: Set<string>,
  next: Reached[],
): Step[] | null {
  const { share } = search.advancer.advance(motionOf(whole, pose), margin)
  const most = shareOfStep(whole, share)
  if (!isSomething(most, 4, 1.7)) return null
  for (const part of isShift(whole) ? shiftShares : turnShares) {
    const step = shareOfStep(most, part)
    const there = after(pose, step)
    const key = keyOf(there)
    if (seen.has(key)) continue
    seen.add(key)
    const push = search.exits.shot(there, margin)
    if (push) return [...steps, step, push]
    next.push({ pose: there, steps: [...steps, step], ...search.score(there, margin) })
  }
  return null
}

function stepsFrom({ pivots }: SeatSearch, { pose, steps }: Reached): Step[] {
  const last = steps.at(-1)
  const again = (way: Vec3) => last && isShift(last) && Math.abs(dot(unit(last.shift), way)) > 0.99
  const shifts = shiftWays(pose).filter((way) => !again(way))
  return [
    ...shifts.map((way) => shiftStep(way, longest)),
    ...axes.flatMap((axis) => [1, -1].flatMap((s) => pivots.map((pivot) => turnStep(axis, pivot, s * widest)))),
  ]
}

/** The bay's axes, the part's own where they differ, and halfway between the bay's. */
function shiftWays({ turn }: Pose): Vec3[] {
  const both = axes.flatMap((axis): Vec3[] => [axis, [-axis[0], -axis[1], -axis[2]]])
  const own = both.map((way) => turned(turn, way)).filter((way) => !both.some((known) => dot(known, way) > 0.9999))
  const slants = [
    [0, 2],
    [0, 1],
    [1, 2],
  ].flatMap(([i, j]) =>
    [1, -1].flatMap((s) =>
      [1, -1].map((t) => {
        const way = [0, 0, 0]
        way[i] = s * Math.SQRT1_2
        way[j] = t * Math.SQRT1_2
        return way as unknown as Vec3
      }),
    ),
  )
  return [...both, ...own, ...slants]
}

/** The best half, and the rest of the beam from all over, so that not all of them come from one corner. */
function spread(sorted: readonly Reached[]): Reached[] {
  const best = sorted.slice(0, beam / 2)
  const rest = sorted.slice(beam / 2)
  const stride = Math.max(1, Math.floor(rest.length / (beam / 2)))
  return [...best, ...rest.filter((_, i) => i % stride === 0).slice(0, beam / 2)]
}

/** Poses within about 12 mm and 4° of each other count as one. */
function keyOf({ at, turn: m }: Pose): string {
  const lean = [m[7] - m[5], m[2] - m[6], m[3] - m[1]]
  return [...at.map((x) => Math.round(x / 12)), ...lean.map((x) => Math.round(x / 0.12))].join()
}
