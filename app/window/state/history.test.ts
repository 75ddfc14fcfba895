import { describe, expect, test } from 'vitest'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { withEntry, withField } from './edit.ts'
import { did, historyOf, mostSteps, redone, sealed, stepLabels, steppedTo, undone } from './history.ts'

const bay = sampleBay() as Bay
const deep = (depth: number) => withField(bay, ['candidates', 0, 'core', 'depth'], depth)

describe('history', () => {
  test('undo gives back the very bay from before, redo the very bay from after', () => {
    const once = did(historyOf(bay), deep(91), 'depth 91', null)
    const twice = did(once, deep(92), 'depth 92', null)
    expect(undone(twice).present).toBe(once.present)
    expect(undone(undone(twice)).present).toBe(bay)
    expect(redone(undone(twice)).present).toBe(twice.present)
    expect(undone(historyOf(bay)).present).toBe(bay)
  })

  test('steps of one key are undone together, others are not', () => {
    let history = did(historyOf(bay), deep(91), 'depth 91', 'a')
    history = did(history, deep(92), 'depth 92', 'a')
    history = did(history, deep(93), 'depth 93', 'b')
    expect(history.past.map((step) => step.label)).toEqual(['depth 92', 'depth 93'])
    expect(undone(undone(history)).present).toBe(bay)
  })

  test('a step after an undo does not join the one that was undone, and drops what could be redone', () => {
    const before = did(historyOf(bay), deep(91), 'depth 91', 'a')
    const history = did(undone(did(before, deep(92), 'depth 92', 'b')), deep(95), 'depth 95', 'a')
    expect(history.future).toEqual([])
    expect(history.past).toHaveLength(2)
  })

  test('any step can be gone to by its number, and all others stay', () => {
    let history = historyOf(bay)
    for (const depth of [91, 92, 93, 94]) history = did(history, deep(depth), `depth ${depth}`, null)
    const labels = stepLabels(history)
    expect(labels).toEqual(['depth 91', 'depth 92', 'depth 93', 'depth 94'])
    for (const done of [0, 3, 1, 4, 2]) {
      history = steppedTo(history, done)
      expect(history.present.candidates[0].core.depth).toBe(done === 0 ? bay.candidates[0].core.depth : 90 + done)
      expect(history.past).toHaveLength(done)
      expect(stepLabels(history)).toEqual(labels)
    }
    expect(steppedTo(history, -1).present).toBe(bay)
    expect(steppedTo(history, 99).past).toHaveLength(4)
  })

  test('the bay that was saved can be come back to: later changes of the same field are a step of their own', () => {
    const before = did(historyOf(bay), deep(91), 'depth 91', 'a')
    const after = did(sealed(before), deep(92), 'depth 92', 'a')
    expect(undone(after).present).toBe(before.present)
    expect(sealed(historyOf(bay)).past).toEqual([])
  })

  test('is bounded: of very many steps the oldest are forgotten', () => {
    let history = historyOf(bay)
    for (let i = 0; i < mostSteps + 50; i++) history = did(history, deep(100 + i), `step ${i}`, null)
    expect(history.past).toHaveLength(mostSteps)
    expect(history.past[0].label).toBe('step 50')
  })

  test('what changes nothing is no step', () => {
    const history = historyOf(bay)
    expect(
      did(history, withField(bay, ['candidates', 0, 'core', 'depth'], bay.candidates[0].core.depth), 'x', null),
    ).toBe(history)
  })
})

describe('edits', () => {
  test('everything beside the path stays the same object', () => {
    const edited = deep(123)
    expect(edited.candidates[0].core.depth).toBe(123)
    expect(edited.keepOuts).toBe(bay.keepOuts)
    expect(edited.candidates[0].tanks).toBe(bay.candidates[0].tanks)
    expect(bay.candidates[0].core.depth).not.toBe(123)
  })

  test('optional fields appear and go away again', () => {
    const path = ['candidates', 0, 'limits', 'depth', 'max']
    const limited = withField(bay, path, 100)
    expect(limited.candidates[0].limits?.depth?.max).toBe(100)
    expect(withField(limited, path, undefined).candidates[0].limits?.depth).not.toHaveProperty('max')
  })

  test('entries are put in and taken out of lists', () => {
    const path = ['candidates', 0, 'pipes', 0, 'path']
    const before = bay.candidates[0].pipes![0].path
    const longer = withEntry(bay, path, before.length, [1, 2, 3])
    expect(longer.candidates[0].pipes![0].path.at(-1)).toEqual([1, 2, 3])
    expect(longer.candidates[0].pipes![0].path).toHaveLength(before.length + 1)
    expect(withField(longer, [...path, before.length], undefined).candidates[0].pipes![0].path).toEqual(before)
  })
})
