import { length, product, sub, unit, type Mat3, type Pose, type Vec3 } from '../shape/vec.ts'
import type { SeatSearch } from './search.ts'
import { after, shiftStep, type Step, turnStep } from './steps.ts'

/** Turn that leads from one pose to another: unit axis in the bay frame and degrees, 0 … 180. */
export function turnBetween(from: Mat3, to: Mat3): { readonly axis: Vec3; readonly angle: number } {
  const back: Mat3 = [from[0], from[3], from[6], from[1], from[4], from[7], from[2], from[5], from[8]]
  const m = product(to, back)
  const sine: Vec3 = [m[7] - m[5], m[2] - m[6], m[3] - m[1]]
  const angle = Math.atan2(length(sine) / 2, (m[0] + m[4] + m[8] - 1) / 2)
  if (angle < 1e-9) return { axis: [0, 0, 1], angle: 0 }
  return { axis: Math.PI - angle < 1e-4 ? halfTurnAxis(m) : unit(sine), angle: (angle * 180) / Math.PI }
}

/** Of half a turn the difference of opposite entries vanishes; R + 1 = 2·u·uᵀ. */
function halfTurnAxis(m: Mat3): Vec3 {
  const k = [0, 1, 2].reduce((most, i) => (m[4 * i] > m[4 * most] ? i : most), 0)
  const column: Vec3 = [m[k], m[3 + k], m[6 + k]]
  return unit(column.map((x, i) => (i === k ? x + 1 : x)) as unknown as Vec3)
}

/**
 * Clear steps from one pose to another: a shift; a turn about one of the named pivots with a shift before or after; where
 * `both` is set also a turn while shifting.
 * @returns null where none of them is clear
 */
export function connect(search: SeatSearch, from: Pose, to: Pose, margin: number, both: boolean): Step[] | null {
  const { axis, angle } = turnBetween(from.turn, to.turn)
  if (angle < 1e-6) {
    const shift = sub(to.at, from.at)
    if (length(shift) < 1e-9) return []
    const step = shiftOf(shift)
    return search.isClear(from, step, margin) ? [step] : null
  }
  for (const pivot of search.pivots) {
    const turn = turnStep(axis, pivot, angle)
    const shift = sub(to.at, after(from, turn).at)
    const first = search.isClear(from, turn, margin)
    if (length(shift) < 1e-6) {
      if (first) return [turn]
      continue
    }
    const step = shiftOf(shift)
    if (first && search.isClear(after(from, turn), step, margin)) return [turn, step]
    if (search.isClear(from, step, margin) && search.isClear(after(from, step), turn, margin)) return [step, turn]
  }
  return both ? turningWhileShifting(search, from, to, axis, angle, margin) : null
}

function turningWhileShifting(
  search: SeatSearch,
  from: Pose,
  to: Pose,
  axis: Vec3,
  angle: number,
  margin: number,
): Step[] | null {
  for (const pivot of search.pivots) {
    const turn = turnStep(axis, pivot, angle)
    const step = { ...turn, shift: sub(to.at, after(from, turn).at) }
    if (search.isClear(from, step, margin)) return [step]
  }
  return null
}

const shiftOf = (shift: Vec3): Step => shiftStep(unit(shift), length(shift))
