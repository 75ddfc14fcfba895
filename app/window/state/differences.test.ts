import { expect, test } from 'vitest'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { keepingWords } from '../keepingWords.ts'
import { differences } from './differences.ts'
import { withEntry, withField } from './edit.ts'

const bay = sampleBay() as Bay

test('equal bays differ in nothing, also as copies', () => {
  expect(differences(bay, structuredClone(bay))).toEqual([])
})

test('a figure is told by item and field, with both values', () => {
  const { name, core } = bay.candidates[0]
  expect(differences(bay, withField(bay, ['candidates', 0, 'core', 'depth'], 123))).toEqual([
    { items: [{ list: 'candidates', name }], field: 'core.depth', before: String(core.depth), after: '123' },
  ])
  expect(differences(bay, withField(bay, ['name'], 'Other'))).toEqual([
    { items: [], field: 'name', before: bay.name, after: 'Other' },
  ])
})

test('items are the same by their id: order is no difference, coming and going is one each', () => {
  const [first, ...others] = bay.keepOuts
  expect(differences(bay, { ...bay, keepOuts: [...others, first] })).toEqual([])
  const gone = differences(bay, withField(bay, ['keepOuts', 0], undefined))
  expect(gone).toEqual([{ items: [{ list: 'keepOuts', name: first.name }], field: '', before: true, after: null }])
  const come = differences(bay, withEntry(bay, ['keepOuts'], 0, { ...first, id: 'fresh', name: 'Fresh' }))
  expect(come).toEqual([{ items: [{ list: 'keepOuts', name: 'Fresh' }], field: '', before: null, after: true }])
})

test('long values are cut, and very many differences too', () => {
  const many = { ...bay, keepOuts: Array.from({ length: 500 }, (_, i) => ({ ...bay.keepOuts[0], id: `k${i}` })) }
  const found = differences(bay, many)
  expect(found).toHaveLength(200)
  const [long] = differences(bay, withField(bay, ['name'], 'x'.repeat(5000)))
  expect(String(long.after).length).toBeLessThan(70)
})

test('places are said as people say them', () => {
  const { placeOf } = keepingWords.lost
  const pipe = [
    { list: 'candidates', name: 'Wide 90' },
    { list: 'pipes', name: 'Hot side' },
  ]
  expect(placeOf(pipe, 'bendRadius')).toBe('Candidate Wide 90, pipe Hot side: bend radius')
  expect(placeOf(pipe.slice(0, 1), 'core.depth')).toBe('Candidate Wide 90: core, depth')
  expect(placeOf([], 'name')).toBe('Name')
  expect(placeOf([{ list: 'stock.tubes', name: '57' }], '')).toBe('Stock.tubes 57')
})
