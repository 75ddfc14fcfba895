import type { Command } from 'commander'
import type { Fault } from '../../core/fault.ts'
import { faultTexts } from '../wording.ts'
import type { Io } from './io.ts'
import type { Searcher } from './searches.ts'

/** What the exit status says. */
export const answered = { good: 0, notGood: 1, badInput: 2, cancelled: 130 } as const

/**
 * One command of the program, in a file of its own: it adds itself with its options and its help to `program`.
 * @param ends takes the exit status once the answer is out
 * @param search where what takes long is computed
 */
export type AddCommand = (program: Command, io: Io, ends: (status: number) => void, search: Searcher) => void

/** Says what is wrong with the input, a sentence a line, on stderr. */
export function refuse(io: Io, faults: readonly Fault[]): number {
  io.err(`${faultTexts(faults).join('\n')}\n`)
  return answered.badInput
}

export const jsonText = (answer: object): string => `${JSON.stringify(answer, null, 2)}\n`
