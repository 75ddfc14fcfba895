import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { pairKey } from '../state/pairs.ts'

export interface Row {
  readonly id: string
  readonly pair: LedgerPair
  readonly other: string
  readonly part: string
}

/**
 * The rows of a ledger; one whose figures and names are what they were is the very same object as before. While a corner
 * is dragged most rows are, and only the others are made anew.
 */
export function steadyRows(
  pairs: readonly LedgerPair[],
  namesOf: (pair: LedgerPair) => Pick<Row, 'other' | 'part'>,
  before: readonly Row[],
): Row[] {
  const known = new Map(before.map((row) => [row.id, row]))
  return pairs.map((pair) => {
    const row = { id: pairKey(pair), pair, ...namesOf(pair) }
    const former = known.get(row.id)
    return former && isSame(former, row) ? former : row
  })
}

/** Of plain data: numbers, texts, lists and records. */
function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false
  const keys = Object.keys(one)
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => isSame((one as Record<string, unknown>)[key], (other as Record<string, unknown>)[key]))
  )
}
