import { describe, expect, test } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { pipedBay } from '../../../test/kit/pipedBay.ts'
import { withField } from './edit.ts'
import { historyOf } from './history.ts'
import { type Found, isOfNow, noSearches, type SearchState } from './searches.ts'
import { isStale } from './stale.ts'
import { emptyState, type WindowState } from './windowState.ts'

const bay = pipedBay() as Bay
const candidate = bay.candidates[0].id
const stateOf = (of: Bay, more: Partial<WindowState> = {}): WindowState => ({
  ...emptyState,
  history: historyOf(of),
  candidate,
  ...more,
})
const edited = (path: (string | number)[], value: unknown) => withField(bay, path, value)
const found = <K extends 'largest' | 'seat'>(kind: K, request: object): SearchState => ({
  ...noSearches,
  [kind]: {
    running: null,
    found: {
      sought: { kind, bay, candidate, request },
      outcome: { ok: true, value: {} },
      milliseconds: 1,
      trace: [],
    } as unknown as Found<K>,
  },
})

describe('an answer of a bay that is no more', () => {
  const largest = found('largest', { holds: false })

  test('the largest core outlives an edit of a pipe, and no edit that can change it', () => {
    const { sought } = largest.largest.found!
    expect(isOfNow(sought, stateOf(edited(['candidates', 0, 'pipes', 0, 'wall'], 2.25)))).toBe(true)
    expect(isOfNow(sought, stateOf(edited(['candidates', 0, 'name'], 'Another')))).toBe(true)
    expect(isOfNow(sought, stateOf(edited(['candidates', 0, 'core', 'depth'], 77)))).toBe(false)
    expect(isOfNow(sought, stateOf(edited(['keepOuts', 0, 'clearance'], 77)))).toBe(false)
  })

  test('is told as such where the computing was stopped, and only there: else the new one is under way', () => {
    const other = edited(['keepOuts', 0, 'clearance'], 77)
    for (const stage of ['core', 'gaps', 'pipes'] as const) {
      expect(isStale(stateOf(other, { stopped: true }), largest, stage)).toBe(true)
      expect(isStale(stateOf(other), largest, stage)).toBe(false)
    }
    const pipe = edited(['candidates', 0, 'pipes', 0, 'wall'], 2.25)
    expect(isStale(stateOf(pipe, { stopped: true }), largest, 'core')).toBe(false)
    expect(isStale(stateOf(pipe, { stopped: true }), largest, 'pipes')).toBe(true)
  })

  test('ways in that were found wait for a press after any edit that counts', () => {
    const seat = found('seat', { need: emptyState.seatNeed })
    expect(isStale(stateOf(bay), seat, 'seat')).toBe(false)
    expect(isStale(stateOf(edited(['candidates', 0, 'core', 'depth'], 77)), seat, 'seat')).toBe(true)
    expect(isStale(stateOf(bay, { seatNeed: emptyState.seatNeed + 1 }), seat, 'seat')).toBe(true)
  })

  test('nothing is old that was never there', () => {
    for (const stage of ['measure', 'core', 'gaps', 'pipes', 'seat'] as const) {
      expect(isStale(stateOf(bay), noSearches, stage)).toBe(false)
      expect(isStale({ ...stateOf(bay), candidate: null, stopped: true }, noSearches, stage)).toBe(false)
    }
  })
})
