import { dot, scale, unit } from '../shape/vec.ts'
import type { Move, SeatPath } from './answer.ts'
import { cornersOfBay, isBeyond, leastAlong, waysOut } from './exits.ts'
import { poseOf, startOf } from './move.ts'
import type { SeatSubject } from './subject.ts'

/** Whether moves carry a part alike; where nothing turns it does not matter about what. */
export const isSameMotion = (a: readonly Move[], b: readonly Move[]): boolean =>
  a.length === b.length && a.every((move, n) => motionText(move) === motionText(b[n]))

const motionText = ({ shift, pivot, axis, angle }: Move): string =>
  JSON.stringify(angle === 0 ? [shift] : [shift, pivot, axis, angle])

/** A first move is made longer by whole steps of this, mm, and the part begins at least so far beyond the last keep-out. */
const step = 10

/**
 * The path by given moves to the seat of a part that may be larger than the one they were made for: where it would begin
 * within the bay, its first move is made longer.
 * @returns as given where that does not help, as where the first move turns
 */
export function beginningBeyond(subject: SeatSubject, moves: readonly Move[]): SeatPath {
  const path: SeatPath = { start: startOf(subject.seat, moves), moves }
  const [first, ...rest] = moves
  if (first?.angle !== 0 || first.shift.every((x) => x === 0)) return path
  const out = scale(unit(first.shift), -1)
  if (isBeyond(subject, poseOf(path.start), [...waysOut(subject.seat), out, unit(first.shift)])) return path
  const reach = cornersOfBay(subject).reduce((most, corner) => Math.max(most, dot(corner, out)), -Infinity)
  const short = reach - leastAlong(subject, poseOf(path.start), out)
  const more = step * Math.ceil((short + step) / step)
  const longer = [{ ...first, shift: scale(first.shift, 1 + more / Math.hypot(...first.shift)) }, ...rest]
  return { start: startOf(subject.seat, longer), moves: longer }
}
