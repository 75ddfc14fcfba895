import type { Bay } from '../../../core/bay/schema.ts'

/**
 * What was done, as former and later values of the bay. Bays share everything that an edit did not touch, so a thousand
 * steps cost little more than one.
 */
export interface History {
  readonly past: readonly Step[]
  readonly present: Bay
  readonly future: readonly Step[]
}

/** The bay on the other side of a step, and what the step was. */
export interface Step {
  readonly bay: Bay
  readonly label: string
  /** Steps of one key that follow each other become one: typing and stepping in one visit to one field. */
  readonly merge: string | null
}

/** Steps that can be taken back; of more, the oldest are forgotten. More than a day's work, and no endless memory. */
export const mostSteps = 1000

export const historyOf = (present: Bay): History => ({ past: [], present, future: [] })

/** @param merge see `Step`; the merged step keeps the bay from before its first change and takes the newest label */
export function did(history: History, bay: Bay, label: string, merge: string | null): History {
  if (bay === history.present) return history
  const last = history.past.at(-1)
  const joins = merge !== null && last?.merge === merge && history.future.length === 0
  const past = joins
    ? [...history.past.slice(0, -1), { ...last, label }]
    : [...history.past, { bay: history.present, label, merge }]
  return { past: past.slice(-mostSteps), present: bay, future: [] }
}

/** What follows is a step of its own, so that the bay as it is now, which was saved, can be come back to. */
export function sealed(history: History): History {
  const last = history.past.at(-1)
  if (!last || last.merge === null) return history
  return { ...history, past: [...history.past.slice(0, -1), { ...last, merge: null }] }
}

export function undone(history: History): History {
  const last = history.past.at(-1)
  if (!last) return history
  const redo: Step = { bay: history.present, label: last.label, merge: null }
  return { past: history.past.slice(0, -1), present: last.bay, future: [redo, ...history.future] }
}

export function redone(history: History): History {
  const [next, ...future] = history.future
  if (!next) return history
  const undo: Step = { bay: history.present, label: next.label, merge: null }
  return { past: [...history.past, undo], present: next.bay, future }
}

/**
 * The history as it is with so many steps done, of all that are known: 0 is before the first one. Steps in between are
 * taken back or done again in their order, so that every one of them can be come back to.
 */
export function steppedTo(history: History, done: number): History {
  let at = history
  while (at.past.length > done && at.past.length > 0) at = undone(at)
  while (at.past.length < done && at.future.length > 0) at = redone(at)
  return at
}

/** Labels of all steps in their order, done or not. */
export const stepLabels = ({ past, future }: History): readonly string[] => [...past, ...future].map((s) => s.label)
