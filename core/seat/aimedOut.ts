import type { Pose } from '../shape/vec.ts'
import { aim } from './aim.ts'
import { connect } from './connect.ts'
import type { SeatSearch } from './search.ts'
import type { Step } from './steps.ts'

/** Aimed a little above the margin that is wanted, so that the whole push keeps it, mm. */
const above = 0.15

/**
 * The part turned and shifted at a pose until a push out is clear, and the way there: through slots that only one angle fits.
 * @param way number of the push's direction
 * @returns null where that does not come off
 */
export function aimedOut(
  search: SeatSearch,
  pose: Pose,
  way: number,
  margin: number,
  options: { readonly free?: readonly boolean[]; readonly rounds?: number } = {},
): Step[] | null {
  const { work, subject, exits } = search
  const aimed = aim(subject, pose, exits.push(pose, way), { ...options, target: margin + above, work })
  if (!aimed || aimed.inset > 0 || aimed.margin < margin) return null
  const push = exits.push(aimed.pose, way)
  if (!search.isClear(aimed.pose, push, margin)) return null
  const there = connect(search, pose, aimed.pose, margin, false)
  return there && [...there, push]
}
