import { describe, expect, test } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { noAids } from './aids.ts'
import { comparedIds, isKnownNow } from './compareRoom.ts'
import { withField } from './edit.ts'
import { historyOf } from './history.ts'
import { emptyState } from './windowState.ts'

const first = sampleBay() as Bay
const many = (n: number): Bay => ({
  ...first,
  candidates: Array.from({ length: n }, (_, i) => ({ ...first.candidates[0], id: `c${i}`, name: `C${i}` })),
})
const stateOf = (bay: Bay, candidate = bay.candidates[0].id) => ({ ...emptyState, history: historyOf(bay), candidate })

describe('who is compared', () => {
  test('the first four, with the one that is looked at', () => {
    expect(comparedIds(stateOf(many(3)), noAids)).toEqual(['c0', 'c1', 'c2'])
    expect(comparedIds(stateOf(many(6), 'c5'), noAids)).toEqual(['c0', 'c1', 'c2', 'c5'])
  })

  test('those that were chosen, in the order of the bay; never one alone or one that is gone', () => {
    expect(comparedIds(stateOf(many(6)), { compared: ['c4', 'c1'] })).toEqual(['c1', 'c4'])
    expect(comparedIds(stateOf(many(2)), { compared: ['c1', 'gone'] })).toEqual(['c0', 'c1'])
  })
})

describe('what is known of a candidate', () => {
  const bay = many(2)
  const known = { bay, candidate: bay.candidates[0], need: emptyState.seatNeed, compared: null }
  const edited = (path: (string | number)[], value: unknown) => stateOf(withField(bay, path, value))

  test('stays known while other candidates change, and no longer', () => {
    expect(isKnownNow(known, stateOf(bay))).toBe(true)
    expect(isKnownNow(known, edited(['candidates', 1, 'core', 'depth'], 71))).toBe(true)
    expect(isKnownNow(known, edited(['candidates', 0, 'core', 'depth'], 71))).toBe(false)
    expect(isKnownNow(known, edited(['keepOuts', 0, 'clearance'], 71))).toBe(false)
    expect(isKnownNow(known, { ...stateOf(bay), seatNeed: known.need + 1 })).toBe(false)
    expect(isKnownNow(undefined, stateOf(bay))).toBe(false)
  })
})
