import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { keepOutIdOf } from '../ledger/names.ts'
import { bayOf, shownLedger, type WindowState } from '../state/windowState.ts'

/** The tightest gap of what is dragged just now, as the newest ledger has it; null while nothing is. */
export function heldPair(state: WindowState): LedgerPair | null {
  const { held } = state
  const ledger = held && shownLedger(state)?.ledger
  if (!held || !ledger) return null
  const bay = bayOf(state)
  const isOf = ({ keepOut, between }: LedgerPair) =>
    between === undefined && (held.side === 'part' || keepOutIdOf(bay, keepOut) === held.key)
  // The ledger's smallest margin comes first.
  return ledger.pairs.find(isOf) ?? null
}
