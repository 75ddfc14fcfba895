import { tightestAt } from '../state/motion.ts'
import type { Motion } from '../state/windowState.ts'

/** One move takes this long, ms. */
const moveTime = 1400
/** Nearer than this to the tightest place it has stopped there already. */
const near = 1e-3

/** Where the motion is after some time, and whether it stops there: at the tightest place and at both ends. */
export function playedOn(
  { path, least, at }: Pick<Motion, 'path' | 'least' | 'at'>,
  way: 1 | -1,
  milliseconds: number,
): { readonly at: number; readonly stops: boolean } {
  const next = at + (way * milliseconds) / moveTime
  const tightest = least ? tightestAt(least) : null
  if (tightest !== null && way * (tightest - at) > near && way * (next - tightest) >= 0)
    return { at: tightest, stops: true }
  const end = way > 0 ? path.moves.length : 0
  return way * (next - end) >= 0 ? { at: end, stops: true } : { at: next, stops: false }
}
