import type { Bay, Candidate } from '../bay/schema.ts'

/** What the largest core and the best place do not depend on: words, pipes and what serves them, and the way in. */
const idleInBay: readonly (keyof Bay)[] = [
  'candidates',
  'name',
  'frame',
  'units',
  'openings',
  'ports',
  'benders',
  'stock',
  'conditions',
]
const idleInCandidate: readonly (keyof Candidate)[] = ['name', 'note', 'pipes', 'offering']

/**
 * Whether two bays ask the same of a search for the largest core or the best place, so that an answer of the one holds for the
 * other. Compared by identity, as edits leave what they do not touch the same objects: it may say no of bays that are equal,
 * and never yes of bays that are not. What is not named above counts, fields that come later as well.
 * @param id of the candidate; it has to be in both
 */
export function asksTheSameCore(one: Bay, other: Bay, id: string): boolean {
  if (one === other) return true
  const [before, after] = [one, other].map(({ candidates }) => candidates.find((each) => each.id === id))
  if (!before || !after) return false
  return areSame(one, other, idleInBay) && areSame(before, after, idleInCandidate)
}

function areSame<T extends object>(one: T, other: T, but: readonly (keyof T)[]): boolean {
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])] as (keyof T)[]
  return keys.every((key) => but.includes(key) || Object.is(one[key], other[key]))
}
