import { describe, expect, test } from 'vitest'
import { pipedBay } from '../../test/kit/pipedBay.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { asksTheSameCore } from './asksTheSame.ts'
import { largest } from './largest.ts'

const bay = pipedBay() as Bay
const [candidate] = bay.candidates
const withCandidate = (change: Partial<Candidate>): Bay => ({ ...bay, candidates: [{ ...candidate, ...change }] })
const found = (of: Bay) => {
  const outcome = largest(of, candidate.id, new Map(), { holds: false })
  if (!outcome.ok) throw new Error('the bay can be searched')
  const { answer, upperBound } = outcome.value
  return { answer, upperBound, core: 'core' in outcome.value ? outcome.value.core : null }
}

describe('what the largest core depends on', () => {
  const pipes = candidate.pipes?.map((pipe) => ({ ...pipe, outsideDiameter: pipe.outsideDiameter + 4, path: [] }))
  const idle: [string, Bay][] = [
    ['nothing', bay],
    ['its pipes', withCandidate({ pipes })],
    ['no pipes', withCandidate({ pipes: undefined })],
    ['its name and note', withCandidate({ name: 'Other', note: 'n' })],
    ['ports elsewhere', { ...bay, ports: bay.ports?.map((port) => ({ ...port, at: [9, 9, 9] })) }],
    ['the name and units of the bay', { ...bay, name: 'B', units: 'inch' }],
    ['another candidate', { ...bay, candidates: [candidate, { ...candidate, id: 'other' }] }],
  ]
  test.each(idle)('%s changes nothing in it: the answer is the very same', (_, other) => {
    expect(asksTheSameCore(bay, other, candidate.id)).toBe(true)
    expect(found(other)).toEqual(found(bay))
  })

  const telling: [string, Bay][] = [
    ['a keep-out', { ...bay, keepOuts: bay.keepOuts.map((each) => ({ ...each, clearance: 31 })) }],
    ['its place', withCandidate({ at: [1, 2, 3] })],
    ['its tanks', withCandidate({ tanks: undefined })],
    ['its limits', withCandidate({ limits: { width: { max: 300 } } })],
    ['its mounts', withCandidate({ mounts: [] })],
    ['a field that nobody knows yet', { ...bay, later: 1 } as Bay],
    ['that it is gone', { ...bay, candidates: [] }],
  ]
  test.each(telling)('%s counts', (_, other) => expect(asksTheSameCore(bay, other, candidate.id)).toBe(false))
})
