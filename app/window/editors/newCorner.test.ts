import { expect, test } from 'vitest'
import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { newCorner } from './newCorner.ts'

const bay = sampleBay() as Bay
const pipe = (path: Pipe['path']): Pipe => ({
  ...(bay.candidates[0].pipes as Pipe[])[0],
  from: 'turbo',
  to: 'tank-left:in',
  path,
})
const port = bay.ports!.find(({ id }) => id === 'turbo')!.at

test('a new corner stands half-way between its neighbours, the port being one of them', () => {
  expect(
    newCorner(
      bay,
      pipe([
        [0, 0, 0],
        [10, 20, 31],
      ]),
      1,
    ),
  ).toEqual([5, 10, 16])
  expect(newCorner(bay, pipe([[0, 0, 0]]), 0)).toEqual(port.map((x) => Math.round(x / 2) + 0))
})

test('beyond the last corner it carries on, and never stands on it', () => {
  expect(
    newCorner(
      bay,
      pipe([
        [0, 0, 0],
        [10, 20, 30],
      ]),
      2,
    ),
  ).toEqual([15, 30, 45])
  const alone = pipe([[7, 8, 9]])
  expect(newCorner(bay, alone, 1)).toEqual([7 + Math.round(2 * alone.bendRadius), 8, 9])
})
