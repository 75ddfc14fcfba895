import type { LedgerPair } from '../../../core/verdict/answer.ts'

/** The name by which a row of the ledger is known while gaps change. */
export const pairKey = ({ part, keepOut, between }: Pick<LedgerPair, 'part' | 'keepOut' | 'between'>): string =>
  `${part} ${keepOut}${between ? ' parts' : ''}`

/** Rows by their names: many look for the chosen one, and at every change of anything. */
const known = new WeakMap<readonly LedgerPair[], ReadonlyMap<string, LedgerPair>>()

/** @param pairs of one ledger */
export function pairNamed(pairs: readonly LedgerPair[], key: string): LedgerPair | null {
  const rows = known.get(pairs) ?? new Map(pairs.map((pair) => [pairKey(pair), pair]))
  known.set(pairs, rows)
  return rows.get(key) ?? null
}
