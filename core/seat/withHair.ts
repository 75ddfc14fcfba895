import { askedBy } from '../bay/defaults.ts'
import type { Bay } from '../bay/schema.ts'

/** mm; ten times what the search for a way asks for. */
export const hair = 0.05

/**
 * The bay with a hair more clearance wherever as much is wanted on the way as at the seat: a search for a way, and moves in
 * rounded numbers, need something to live on.
 * @param need wanted on the way, mm
 */
export function withHair(bay: Bay, need: number, room = hair): Bay {
  const keepOuts = bay.keepOuts.map((keepOut) => {
    const { required } = askedBy(keepOut)
    const least = Math.min(need, required) + room
    return least > required ? { ...keepOut, clearance: least } : keepOut
  })
  return { ...bay, keepOuts }
}
