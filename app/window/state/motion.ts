import type { LeastOnTheWay } from '../../../core/seat/answer.ts'
import type { Motion, WindowState, WindowStore } from './windowState.ts'

/** Moments of the motion that are one when seen. */
const same = 1e-3

export const tightestAt = ({ move, share }: LeastOnTheWay): number => move + share

/** Whether the candidate is drawn anywhere but at its seat. */
export const isAway = ({ motion }: WindowState): boolean => motion !== null && motion.at < motion.path.moves.length

/** The tightest place, where the candidate is drawn just there. */
export function tightestShown({ motion }: WindowState): LeastOnTheWay | null {
  const { least, at } = motion ?? {}
  return least && at !== undefined && Math.abs(at - tightestAt(least)) < same ? least : null
}

/** Puts the candidate at a moment of its way; it stays within the way. */
export function goTo(store: WindowStore, at: number): void {
  store.setState(({ motion }) => ({ motion: motion && { ...motion, at: within(motion, at) } }))
}

const within = ({ path }: Motion, at: number): number => Math.min(path.moves.length, Math.max(0, at))

/** Where something is to be seen on the way: its beginning, each end of a move, and the tightest place. */
export function stopsOf({ path, least }: Motion): number[] {
  const stops = [...path.moves.keys(), path.moves.length, ...(least ? [tightestAt(least)] : [])]
  return [...new Set(stops)].sort((a, b) => a - b)
}

/** The next stop in a direction; where there is none, the end on that side. */
export function nextStop(motion: Motion, way: 1 | -1): number {
  const stops = stopsOf(motion)
  const next =
    way > 0 ? stops.find((stop) => stop > motion.at + same) : stops.findLast((stop) => stop < motion.at - same)
  return next ?? (way > 0 ? motion.path.moves.length : 0)
}
