import type { Bay } from '../bay/schema.ts'
import type { Ledger } from './answer.ts'

/** What `check` answers as JSON; the command prints it, the window shows it. */
export interface CheckAnswer extends Ledger {
  readonly command: 'check'
  readonly bay: { readonly name: string; readonly sha256: string }
}

/** @param sha256 of the bay file's bytes, lower-case hexadecimal; core reads no files */
export function checkAnswer(bay: Bay, sha256: string, ledger: Ledger): CheckAnswer {
  const { candidate, verdict, pairs, leftOut, unrouted, exempt } = ledger
  return { command: 'check', bay: { name: bay.name, sha256 }, candidate, verdict, pairs, leftOut, unrouted, exempt }
}
