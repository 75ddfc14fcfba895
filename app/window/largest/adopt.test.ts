import { expect, test } from 'vitest'
import { checkBay } from '../../../core/bay/read.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import type { LargestAnswer } from '../../../core/largest/largest.ts'
import { bayOpened, createWindowStore, undo } from '../state/windowState.ts'
import { adopt } from './adopt.ts'

const bay = sampleBay()
const [first] = bay.candidates
const core = { depth: 76, width: 500, height: 210 }
const answer: LargestAnswer = {
  answer: 'found',
  core,
  at: [-60, 0, 180],
  turn: [0, 0, 0],
  value: 76 * 500 * 210,
  upperBound: 76 * 500 * 210 * 1.0005,
  within: 0.001,
  stopped: 'proved',
  holds: [],
  candidate: { ...first, core, at: [-60, 0, 180], pipes: first.pipes?.map((pipe) => ({ ...pipe, path: [] })) },
}

function openedStore() {
  const store = createWindowStore()
  const file = { token: 't', name: 'my.bay.json', writable: true }
  store.setState((state) => bayOpened(state, file, { bay, meshes: [] }))
  return store
}

test('an adopted core is a candidate of its own, chosen, readable, and one step', () => {
  const store = openedStore()
  adopt(store, answer, '76')
  const { history, candidate } = store.getState()
  const added = history?.present.candidates.at(-1)
  expect(history?.past.length).toBe(1)
  expect(candidate).toBe('largest-76')
  expect(added).toMatchObject({ id: 'largest-76', name: 'Largest 76 deep', core })
  expect(added?.note).toMatch(new RegExp(`${first.name}.*at most 7\\.98\\d L, proved within 0\\.1 %`))
  expect(added?.pipes?.every(({ path }) => path.length === 0)).toBe(true)
  expect(history && checkBay(history.present).ok).toBe(true)
  undo(store)
  expect(store.getState().history?.present).toBe(bay)
  expect(store.getState().candidate).toBe(first.id)
})

test('adopted twice, both have names of their own', () => {
  const store = openedStore()
  adopt(store, answer, '76')
  adopt(store, answer, '76')
  expect(store.getState().history?.present.candidates.slice(-2)).toMatchObject([
    { id: 'largest-76', name: 'Largest 76 deep' },
    { id: 'largest-76-2', name: 'Largest 76 deep 2' },
  ])
})
