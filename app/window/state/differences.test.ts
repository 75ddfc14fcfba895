import { expect, test } from 'vitest'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { differences } from './differences.ts'
import { withEntry, withField } from './edit.ts'

const bay = sampleBay() as Bay

test('equal bays differ in nothing, also as copies', () => {
  expect(differences(bay, structuredClone(bay))).toEqual([])
})

test('a figure is told by item and field, with both values', () => {
  const { name, core } = bay.candidates[0]
  expect(differences(bay, withField(bay, ['candidates', 0, 'core', 'depth'], 123))).toEqual([
    { place: `candidates, ${name}: core.depth`, before: String(core.depth), after: '123' },
  ])
  expect(differences(bay, withField(bay, ['name'], 'Other'))).toEqual([
    { place: 'name', before: bay.name, after: 'Other' },
  ])
})

test('items are the same by their id: order is no difference, coming and going is one each', () => {
  const [first, ...others] = bay.keepOuts
  expect(differences(bay, { ...bay, keepOuts: [...others, first] })).toEqual([])
  const gone = differences(bay, withField(bay, ['keepOuts', 0], undefined))
  expect(gone).toMatchObject([{ place: `keepOuts, ${first.name}`, after: null }])
  const come = differences(bay, withEntry(bay, ['keepOuts'], 0, { ...first, id: 'fresh', name: 'Fresh' }))
  expect(come).toMatchObject([{ place: 'keepOuts, Fresh', before: null }])
})

test('long values are cut, and very many differences too', () => {
  const many = { ...bay, keepOuts: Array.from({ length: 500 }, (_, i) => ({ ...bay.keepOuts[0], id: `k${i}` })) }
  const found = differences(bay, many)
  expect(found.length).toBeGreaterThan(100)
  expect(found.length).toBeLessThan(600)
  for (const { after } of found) expect(after?.length ?? 0).toBeLessThan(70)
})
