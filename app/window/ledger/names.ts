import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'

export { keepOutName, partName, pipeOfPart } from '../../wording/partNames.ts'

/** The id of the keep-out that a row or a drawn solid belongs to, also for a mirror image. */
export function keepOutIdOf(bay: Bay | null, id: string): string | null {
  return bay?.keepOuts.find((keepOut) => keepOut.id === id || `${keepOut.id}-mirror` === id)?.id ?? null
}

/** Both sides of a row: the thing that is there, and the part. */
export function pairNames(
  bay: Bay | null,
  candidate: Candidate | null,
  pair: LedgerPair,
): { other: string; part: string } {
  const other = pair.between ? partName(candidate, pair.keepOut) : keepOutName(bay, pair.keepOut)
  return { other, part: partName(candidate, pair.part) }
}
