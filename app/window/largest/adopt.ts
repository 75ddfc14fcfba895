import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { LargestAnswer } from '../../../core/largest/largest.ts'
import { withEntry } from '../state/edit.ts'
import { doEdit, type WindowStore } from '../state/windowState.ts'
import { words } from '../words.ts'
import { boundText } from './figures.ts'

/** A candidate of its own from what was found: pipes without a path show as not routed. One step back takes it out. */
export function adopt(store: WindowStore, answer: LargestAnswer, depthText: string): void {
  const { history } = store.getState()
  if (!history) return
  const candidate = adopted(history.present, answer, depthText)
  const done = doEdit(store, {
    name: 'adopt-largest',
    label: words.largest.adopted(candidate.name),
    undo: 'step',
    apply: (bay) => withEntry(bay, ['candidates'], bay.candidates.length, candidate),
  })
  if (done.ok) store.setState({ candidate: candidate.id, selected: null })
}

/** The candidate as it is put into the bay: id and name that are not taken yet, and where it comes from. */
export function adopted({ candidates }: Bay, answer: LargestAnswer, depthText: string): Candidate {
  const { pipes: former, ...candidate } = answer.candidate
  const own = candidates.find(({ id }) => id === candidate.id)
  const from = own?.name ?? candidate.name
  // The core that was found holds while pipes are edited: those of now go with it.
  const pipes = own ? own.pipes?.map((pipe) => ({ ...pipe, path: [] })) : former
  const name = words.largest.candidateName(depthText)
  const base = `largest-${Math.round(answer.core.depth)}`
  return {
    ...candidate,
    ...(pipes && { pipes }),
    id: unlike(
      candidates.map(({ id }) => id),
      (n) => (n === 1 ? base : `${base}-${n}`),
    ),
    name: unlike(
      candidates.map((other) => other.name),
      (n) => (n === 1 ? name : `${name} ${n}`),
    ),
    note: words.largest.candidateNote(from, boundText(answer)),
  }
}

function unlike(taken: readonly string[], nth: (n: number) => string): string {
  for (let n = 1; ; n++) if (!taken.includes(nth(n))) return nth(n)
}
