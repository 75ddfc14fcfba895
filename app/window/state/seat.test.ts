import { describe, expect, test } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { good } from '../../../core/fault.ts'
import type { SeatAnswer } from '../../../core/seat/answer.ts'
import { poseOf, endOf } from '../../../core/seat/move.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { addMove, adoptWay, beginWay, changeMove, earlier, isOwn, removeMove } from '../seat/offeringEdits.ts'
import { withField } from './edit.ts'
import { asksForSeat, foundAnswer, foundStanding, wayShown, waysIn } from './seat.ts'
import type { OneSearch } from './searches.ts'
import { bayOf, bayOpened, candidateIn, createWindowStore, doEdit, undo, type WindowStore } from './windowState.ts'

const opened = (start: Bay = sampleBay()) => {
  const store = createWindowStore()
  store.setState((state) => bayOpened(state, { token: 't', name: 'my', writable: true }, { bay: start, meshes: [] }))
  return store
}
const offeringIn = (store: WindowStore) => candidateIn(store.getState())?.offering
const endIn = (store: WindowStore) => {
  const offering = offeringIn(store)
  if (!offering) throw new Error('no way in')
  return endOf(offering).at.map((x) => Number(x.toFixed(6)))
}
const up = { shift: [0, 0, 300] as const, pivot: [0, 0, 0] as const, axis: [0, 1, 0] as const, angle: 0 }

function foundFor(store: WindowStore): OneSearch<'seat'> {
  const state = store.getState()
  const candidate = candidateIn(state)
  const bay = bayOf(state)
  if (!candidate || !bay) throw new Error('no candidate')
  const { at, turn, id } = candidate
  const path = { start: { at: [at[0], at[1], at[2] - 300] as const, turn }, moves: [up], least: null }
  const answer = { candidate: id, answer: 'proved', path, fewest: null } as unknown as SeatAnswer
  const sought = { kind: 'seat', bay, candidate: id, request: { need: 3 } } as const
  return { found: { sought, outcome: good(answer), milliseconds: 1, trace: [] }, running: null }
}

describe('a way in of one’s own', () => {
  test('begun, added to, put in another order and taken out ends at the seat each time; each is one step back', () => {
    const store = opened()
    const seat = candidateIn(store.getState())?.at
    const steps = [
      () => beginWay(store),
      () => addMove(store, 1),
      () => changeMove(store, 1, 'Turn', { angle: 12, grip: [45, 0, 90] }),
      () => earlier(store, 1),
      () => removeMove(store, 0),
    ]
    const before: unknown[] = []
    for (const step of steps) {
      before.push(offeringIn(store))
      expect(step()).toBe(true)
      expect(endIn(store)).toEqual(seat)
    }
    expect(offeringIn(store)?.moves.length).toBe(1)
    expect(removeMove(store, 0)).toBe(true)
    expect(offeringIn(store)).toBeUndefined()
    undo(store)
    for (const former of before.reverse()) {
      undo(store)
      expect(offeringIn(store)).toEqual(former)
    }
  })

  test('goes along with the candidate, in the same step', () => {
    const store = opened()
    beginWay(store)
    const former = offeringIn(store)
    const edit = (value: number) => ({
      name: 'up',
      label: 'up',
      undo: 'step' as const,
      apply: (bay: Bay) =>
        withField(withField(bay, ['candidates', 0, 'at', 2], value), ['candidates', 0, 'turn'], [0, 5, 0]),
    })
    expect(doEdit(store, edit(150)).ok).toBe(true)
    const { at, turn } = candidateIn(store.getState()) ?? { at: [], turn: [0, 0, 0] as const }
    expect(endIn(store)).toEqual(at)
    const offering = offeringIn(store)
    if (!offering) throw new Error('no way in')
    const [end, seat] = [endOf(offering).turn, poseOf({ at: [0, 0, 0], turn }).turn]
    for (const [i, x] of end.entries()) expect(x).toBeCloseTo(seat[i], 9)
    undo(store)
    expect(offeringIn(store)).toEqual(former)
  })
})

describe('ways that were found', () => {
  test('stay good when one is adopted, and are out of date for anything else', () => {
    const store = opened()
    const search = foundFor(store)
    expect(foundStanding(search, store.getState())).toBe('fresh')
    const answer = foundAnswer(search, store.getState())
    if (!answer?.path) throw new Error('nothing found')
    adoptWay(store, answer.path)
    const candidate = candidateIn(store.getState())
    expect(candidate && isOwn(candidate, answer.path)).toBe(true)
    expect(foundStanding(search, store.getState())).toBe('fresh')
    expect(waysIn(store.getState(), search).map(({ kind, isOld }) => [kind, isOld])).toEqual([
      ['own', false],
      ['widest', false],
    ])
    store.setState({ seatNeed: 5 })
    expect(foundStanding(search, store.getState())).toBe('outOfDate')
    store.setState({ seatNeed: 3 })
    const wider = {
      name: 'w',
      label: 'w',
      undo: 'step' as const,
      apply: (bay: Bay) => withField(bay, ['keepOuts', 0, 'clearance'], 1.5),
    }
    doEdit(store, wider)
    expect(foundStanding(search, store.getState())).toBe('outOfDate')
    expect(waysIn(store.getState(), search)[1].isOld).toBe(true)
    expect(
      foundStanding({ ...search, running: { sought: search.found?.sought, trace: [] } as never }, store.getState()),
    ).toBe('working')
  })

  test('the own way is looked at first, a chosen one before it, and nothing where there is nothing', () => {
    const store = opened()
    const search = foundFor(store)
    expect(wayShown(waysIn(store.getState(), search), null)?.kind).toBe('widest')
    beginWay(store)
    const ways = waysIn(store.getState(), search)
    expect(wayShown(ways, null)?.kind).toBe('own')
    expect(wayShown(ways, 'widest')?.kind).toBe('widest')
    expect(wayShown(ways, 'fewest')?.kind).toBe('own')
    expect(wayShown([], 'own')).toBe(null)
  })
})

test('the seat is asked after where it is looked at, or where there is something to judge', () => {
  const store = opened()
  expect(asksForSeat(store.getState())).toBe(false)
  store.setState({ stage: 'seat' })
  expect(asksForSeat(store.getState())).toBe(true)
  store.setState({ stage: 'gaps' })
  beginWay(store)
  expect(asksForSeat(store.getState())).toBe(true)
})
