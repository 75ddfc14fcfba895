import { describe, expect, test } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { pipedBay } from '../../../test/kit/pipedBay.ts'
import { withField } from './edit.ts'
import { followed } from './follow.ts'
import { asksTheSame, pipeIn, pipePath, stageIn } from './pipes.ts'
import { bayOf, bayOpened, createWindowStore, doEdit, undo } from './windowState.ts'

const bay = pipedBay()
const hotPath = ['candidates', 0, 'pipes', 0]
const opened = (start: Bay) => {
  const store = createWindowStore()
  store.setState((state) => bayOpened(state, { token: 't', name: 'my', writable: true }, { bay: start, meshes: [] }))
  return store
}

describe('routes that were found', () => {
  const same = (path: readonly (string | number)[], value: unknown, routed = ['hot']) =>
    asksTheSame(bay, withField(bay, path, value), 'wide', routed)

  test('stay good while only the ways of the pipes change that were routed', () => {
    expect(same([...hotPath, 'path'], [[1, 2, 3]])).toBe(true)
    expect(same([...hotPath, 'bendRadius'], 90)).toBe(true)
    expect(same(['candidates', 0, 'pipes', 1, 'path'], [[1, 2, 3]])).toBe(false)
    expect(same(['candidates', 0, 'pipes', 1, 'path'], [[1, 2, 3]], ['hot', 'cold'])).toBe(true)
  })

  test('are out of date for anything else', () => {
    expect(same([...hotPath, 'outsideDiameter'], 60)).toBe(false)
    expect(same([...hotPath, 'joints'], { from: { kind: 'weld' } })).toBe(false)
    expect(same(['candidates', 0, 'at', 0], 5)).toBe(false)
    expect(same(['keepOuts', 0, 'clearance'], 5)).toBe(false)
    expect(same(['candidates', 0, 'pipes'], undefined)).toBe(false)
    expect(asksTheSame(bay, bay, 'wide', ['hot'])).toBe(true)
  })
})

describe('a candidate that is moved', () => {
  const up = (whole: Bay) => withField(whole, ['candidates', 0, 'at', 2], 197)

  test('takes the corner beside its tank along in the very same step', () => {
    const store = opened(bay)
    doEdit(store, { name: 'up', label: 'up', undo: 'step', apply: up })
    const path = bayOf(store.getState())!.candidates[0].pipes![0].path
    expect(path.map(([, , z]) => z)).toEqual([40, 190, 197])
    expect(store.getState().history!.past).toHaveLength(1)
    undo(store)
    expect(bayOf(store.getState())).toBe(bay)
  })

  test('leaves pipes alone that the edit itself changes, and bays in which no candidate moves', () => {
    const both = withField(up(bay), [...hotPath, 'path', 2, 2], 180)
    expect(followed(bay, both)).toBe(both)
    const other = withField(bay, ['keepOuts', 0, 'clearance'], 5)
    expect(followed(bay, other)).toBe(other)
    const named = withField(bay, ['candidates', 0, 'name'], 'Another')
    expect(followed(bay, named)).toBe(named)
  })
})

describe('the Pipes stage', () => {
  test('is that of the gaps where a candidate has no pipes', () => {
    const store = opened(withField(bay, ['candidates', 0, 'pipes'], undefined))
    store.setState({ stage: 'pipes' })
    expect(stageIn(store.getState())).toBe('gaps')
    expect(pipeIn(store.getState())).toBeNull()
  })

  test('shows the pipe that was chosen, else the first', () => {
    const store = opened(bay)
    expect(pipeIn(store.getState())?.id).toBe('hot')
    store.setState({ pipe: 'cold', stage: 'pipes' })
    expect(stageIn(store.getState())).toBe('pipes')
    expect(pipePath(store.getState())).toEqual(['candidates', 0, 'pipes', 1])
    store.setState({ pipe: 'gone' })
    expect(pipeIn(store.getState())?.id).toBe('hot')
  })
})
