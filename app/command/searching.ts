import type { Bay, Candidate } from '../../core/bay/schema.ts'
import { bad, good, type Outcome } from '../../core/fault.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { candidateOf } from '../../core/verdict/ledger.ts'
import { type OpenBay, openBay } from '../files/bayFolder.ts'
import { type AdoptOptions, adopt, adoptionPath } from './adopt.ts'
import { answered } from './command.ts'
import type { Io } from './io.ts'
import { Progress } from './progress.ts'
import type { SearchAnswer, SearchAsk, Searcher, SearchName } from './searches.ts'

export interface SearchOptions extends AdoptOptions {
  readonly candidate?: string
  readonly seconds: number
  readonly json?: boolean
  readonly units?: PeopleUnits
}

/** What a search starts from. */
export interface Start {
  readonly opened: OpenBay
  readonly bay: Bay
  readonly candidate: Candidate
  readonly units: PeopleUnits
  /** Where the answer is to be written; null where nobody asked. */
  readonly adoption: string | null
}

/** Everything that can be refused before anything is computed. */
export async function started(path: string, options: SearchOptions): Promise<Outcome<Start>> {
  const opened = await openBay(path)
  if (!opened.ok) return opened
  const { bay } = opened.value
  const candidate = candidateOf(bay, options.candidate)
  if (!candidate.ok) return inFile(path, candidate)
  const adoption = await adoptionPath(path, opened.value, options)
  if (!adoption.ok) return adoption
  const units = options.units ?? bay.units
  return good({ opened: opened.value, bay, candidate: candidate.value, units, adoption: adoption.value })
}

/** Searches with progress on stderr, until the answer, the time or Ctrl-C. Null where it was broken off at once. */
export async function watched<N extends SearchName>(
  name: N,
  ask: SearchAsk<N>,
  seconds: number,
  wording: (inHand: number, bound: number) => string,
  io: Io,
  search: Searcher,
): Promise<SearchAnswer<N> | null> {
  const progress = new Progress(io, wording)
  try {
    return await search(name, ask, {
      seconds,
      progress: (inHand, bound) => progress.told(inHand, bound),
      stopping: () => {
        progress.end()
        io.err('Stopping with the best so far … (Ctrl-C again ends at once)\n')
      },
    })
  } finally {
    progress.end()
  }
}

/** The last word where there is no answer to print. */
export function brokenOff(io: Io): number {
  io.err('Ended at once, without an answer.\n')
  return answered.cancelled
}

/**
 * Writes an adopted answer where it was asked for and there is one.
 * @returns the file written; null where nothing was to be written. What could not be adopted is said on stderr.
 */
export async function adopted(
  { bay, adoption }: Start,
  candidate: Candidate | null,
  io: Io,
): Promise<Outcome<string | null>> {
  if (adoption === null) return good(null)
  if (candidate) return adopt(bay, candidate, adoption)
  io.err(`${adoption} is not written: there is nothing that clears to adopt.\n`)
  return good(null)
}

/** Faults of a bay that name the bay's file. */
export const inFile = <T>(file: string, outcome: Outcome<T>): Outcome<T> =>
  outcome.ok ? outcome : bad(...outcome.faults.map((fault) => ({ file, ...fault })))
