import { expect, test } from 'vitest'
import { nearestName } from './nearest.ts'

const fields = ['keepOuts', 'openings', 'ports', 'candidates', 'bendRadius', 'role']

test.each([
  ['keepouts', 'keepOuts'],
  ['keep-outs', 'keepOuts'],
  ['keep_out', 'keepOuts'],
  ['bend radius', 'bendRadius'],
  ['bendradus', 'bendRadius'],
  ['rloe', 'role'],
  ['port', 'ports'],
  ['candiates', 'candidates'],
  ['colour', undefined],
  ['x', undefined],
  ['', undefined],
])('%j is nearest to %j', (word, name) => {
  expect(nearestName(word, fields)).toBe(name)
})
