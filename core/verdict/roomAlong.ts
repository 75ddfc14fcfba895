import { distance, dot, scale, sub, type Vec3 } from '../shape/vec.ts'
import type { LedgerPair } from './answer.ts'

/** Gaps that open or close by less than half of the way are of no use to aim by. */
const leastShare = 0.5

/**
 * How far the part may go along a direction until the pair's margin is exactly 0; negative where it has to go back.
 * To first order in the way: exact between two planes, and nearer with every ledger on the way elsewhere. Something to aim
 * at and no proof: the ledger of the place decides.
 * @param way unit, bay frame; for a keep-out that moves past a part that stays, the other way round
 * @returns mm; null where the two meet, or where the way goes past rather than towards
 */
export function roomAlong(
  { gap, margin, onPart, onKeepOut }: Pick<LedgerPair, 'gap' | 'margin' | 'onPart' | 'onKeepOut'>,
  way: Vec3,
): number | null {
  const apart = distance(onPart, onKeepOut)
  if (gap <= 0 || apart <= 0) return null
  const closing = dot(way, scale(sub(onKeepOut, onPart), 1 / apart))
  return Math.abs(closing) < leastShare ? null : margin / closing
}
