import { along, dot, length, sub, type Vec3 } from '../../shape/vec.ts'
import type { LedgerPair } from '../../verdict/answer.ts'

/** The ends of a row's dimension: its witnesses; where two overlap, from the part the way out, as far as it is deep. */
export function gapEnds({ onPart, onKeepOut, overlap }: LedgerPair): readonly [Vec3, Vec3] {
  const isDeep = overlap?.direction !== undefined && overlap.depth > 0
  return [onPart, isDeep ? along(onPart, overlap.direction as Vec3, overlap.depth) : onKeepOut]
}

export type Side = 'left' | 'right' | 'below' | 'above'
const sides: readonly Side[] = ['left', 'right', 'below', 'above']

/** Of a gap, so much lies along the side's own direction at least: it is then seen at its true length, or nearly. */
const square = 0.94

export interface SideGap {
  readonly side: Side
  readonly pair: LedgerPair
}

/**
 * The nearest keep-out on each side of the candidate as a drawing shows it: the row of the ledger with the least gap
 * among those whose gap points that way. A side that nothing faces squarely has none.
 * @param right @param up unit vectors of the drawing, bay frame
 */
export function sideGaps(pairs: readonly LedgerPair[], right: Vec3, up: Vec3): readonly SideGap[] {
  const nearest = new Map<Side, LedgerPair>()
  for (const pair of pairs) {
    const side = pair.between ? null : sideOf(pair, right, up)
    const before = side && nearest.get(side)
    if (side && (!before || nearness(pair) < nearness(before))) nearest.set(side, pair)
  }
  return sides.flatMap((side) => {
    const pair = nearest.get(side)
    return pair ? [{ side, pair }] : []
  })
}

/** A deeper overlap comes before a shallow one, and both before a gap. */
const nearness = ({ gap, overlap }: LedgerPair): number => (overlap && overlap.depth > 0 ? -overlap.depth : gap)

function sideOf(pair: LedgerPair, right: Vec3, up: Vec3): Side | null {
  const [from, to] = gapEnds(pair)
  const apart = sub(to, from)
  const size = length(apart)
  if (size === 0) return null
  // The way out of an overlap leads away from the keep-out.
  const sign = pair.overlap?.direction && pair.overlap.depth > 0 ? -1 : 1
  const [x, y] = [(sign * dot(apart, right)) / size, (sign * dot(apart, up)) / size]
  if (x >= square) return 'right'
  if (x <= -square) return 'left'
  if (y >= square) return 'above'
  return y <= -square ? 'below' : null
}

/** The rows with the smallest margins, keep-outs only: what is held against a joined part is no room to be had. */
export const tightestOf = (pairs: readonly LedgerPair[], count: number): readonly LedgerPair[] =>
  pairs.filter(({ between }) => !between).slice(0, count)
