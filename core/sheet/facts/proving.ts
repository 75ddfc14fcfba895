import type { LedgerPair } from '../../verdict/answer.ts'

/** What would prove a pair that is neither proved to clear nor proved not to; lengths mm. */
export interface Proving {
  /** The largest share of what is held against it. */
  readonly most: 'uncertainty' | 'tolerance' | 'error'
  /** The keep-out's uncertainty has to come down to this, all else as it is; null where not even 0 would do. */
  readonly uncertaintyTo: number | null
  /** The same of how the part is made; movement of ports is no matter of making it. */
  readonly toleranceTo: number | null
  /** Room that it wants as all is now. */
  readonly room: number
}

/**
 * Only the gap itself is taken as it is: what stands against it is looked at one by one, with the ledger's guard band (the
 * whole expanded uncertainty).
 * @returns null where it clears, is proved short or fouls, or where the two meet: no better measuring can prove it then
 */
export function whatProves(pair: LedgerPair): Proving | null {
  const { verdict, overlap, margin, uncertainty, tolerance, movement = 0, error } = pair
  if (verdict !== 'unproved' || overlap || margin >= 0) return null
  const shares = { uncertainty, tolerance, error }
  const most = (['uncertainty', 'tolerance', 'error'] as const).reduce((a, b) => (shares[b] > shares[a] ? b : a))
  const reached = (share: number) => (share + margin > 0 ? share + margin : null)
  return {
    most,
    uncertaintyTo: reached(uncertainty),
    toleranceTo: reached(tolerance - movement),
    room: -margin,
  }
}
