import type { Candidate } from '../../../core/bay/schema.ts'
import type { LargestAnswer, NothingFits } from '../../../core/largest/largest.ts'
import { words } from '../words.ts'

const { compare: text } = words

/**
 * A core as a share of what nothing exceeds, whole per cent, rounded down: the bound and not the best that was found, so that no
 * candidate is told to have more of the largest than it has.
 */
export function shareOfLargest(
  { depth, width, height }: Candidate['core'],
  answer: LargestAnswer | NothingFits,
): { readonly text: string; readonly value: number | null } {
  if (answer.answer === 'nothing fits') return { text: text.nothingFits, value: null }
  if (!Number.isFinite(answer.upperBound) || answer.upperBound <= 0) return { text: text.noLimit, value: null }
  const share = (depth * width * height) / answer.upperBound
  const percent = `${Math.floor(100 * share + 1e-9)} %`
  const isProved = answer.answer === 'found' && answer.stopped === 'proved'
  return { text: isProved ? text.shareProved(percent) : text.shareAtLeast(percent), value: share }
}
