import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { LargestAnswer } from '../../../core/largest/largest.ts'
import type { SeatedCore } from '../../../core/seat/seated.ts'
import { withEntry } from '../state/edit.ts'
import { asOffering } from '../state/offering.ts'
import { doEdit, type WindowStore } from '../state/windowState.ts'
import { words } from '../words.ts'
import { boundText } from './figures.ts'

/** What a new candidate is made of, and what is said of it. */
interface Taken {
  readonly candidate: Candidate
  readonly id: string
  readonly name: string
  readonly note: (from: string) => string
}

/** A candidate of its own from what was found: pipes without a path show as not routed. One step back takes it out. */
export function adopt(store: WindowStore, answer: LargestAnswer, depthText: string): void {
  const { candidateName, candidateNote } = words.largest
  take(store, {
    candidate: answer.candidate,
    id: `largest-${Math.round(answer.core.depth)}`,
    name: candidateName(depthText),
    note: (from) => candidateNote(from, boundText(answer)),
  })
}

/** The same for a core that comes in: it brings its way in along. */
export function adoptSeated(store: WindowStore, { candidate, path }: SeatedCore, depthText: string, bounds: string) {
  const { candidateName, candidateNote } = words.largest.seated
  take(store, {
    candidate: { ...candidate, offering: asOffering(path) },
    id: `comes-in-${Math.round(candidate.core.depth)}`,
    name: candidateName(depthText),
    note: (from) => candidateNote(from, bounds),
  })
}

function take(store: WindowStore, taken: Taken): void {
  const { history } = store.getState()
  if (!history) return
  const candidate = fresh(history.present, taken)
  const done = doEdit(store, {
    name: 'adopt-largest',
    label: words.largest.adopted(candidate.name),
    undo: 'step',
    apply: (bay) => withEntry(bay, ['candidates'], bay.candidates.length, candidate),
  })
  if (done.ok) store.setState({ candidate: candidate.id, selected: null })
}

/** The candidate as it is put into the bay: id and name that are not taken yet, and where it comes from. */
function fresh({ candidates }: Bay, taken: Taken): Candidate {
  const { pipes: former, ...candidate } = taken.candidate
  const own = candidates.find(({ id }) => id === candidate.id)
  const from = own?.name ?? candidate.name
  // The core that was found holds while pipes are edited: those of now go with it.
  const pipes = (own ? own.pipes : former)?.map((pipe) => ({ ...pipe, path: [] }))
  return {
    ...candidate,
    ...(pipes && { pipes }),
    id: unlike(
      candidates.map(({ id }) => id),
      (n) => (n === 1 ? taken.id : `${taken.id}-${n}`),
    ),
    name: unlike(
      candidates.map((other) => other.name),
      (n) => (n === 1 ? taken.name : `${taken.name} ${n}`),
    ),
    note: taken.note(from),
  }
}

function unlike(taken: readonly string[], nth: (n: number) => string): string {
  for (let n = 1; ; n++) if (!taken.includes(nth(n))) return nth(n)
}
