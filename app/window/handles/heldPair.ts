import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { keepOutIdOf, pipeOfPart } from '../ledger/names.ts'
import { bayOf, candidateIn, shownLedger, type WindowState } from '../state/windowState.ts'

/** The tightest gap of what is dragged just now, as the newest ledger has it; null while nothing is. */
export function heldPair(state: WindowState): LedgerPair | null {
  const { held } = state
  const ledger = held && shownLedger(state)?.ledger
  if (!held || !ledger) return null
  const bay = bayOf(state)
  const candidate = candidateIn(state)
  const isOf = ({ part, keepOut, between }: LedgerPair) => {
    if (held.side === 'keepOut') return between === undefined && keepOutIdOf(bay, keepOut) === held.key
    if (!held.key.startsWith('pipe-')) return between === undefined
    return [part, keepOut].some((name) => pipeOfPart(candidate, name)?.id === held.key.slice('pipe-'.length))
  }
  // The ledger's smallest margin comes first.
  return ledger.pairs.find(isOf) ?? null
}
