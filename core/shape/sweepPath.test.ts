import { expect, test } from 'vitest'
import { withPathCoordinate } from './sweepPath.ts'
import type { Vec3 } from './vec.ts'

const path: Vec3[] = [
  [0, 0, 5],
  [10, 20, 5],
  [40, 20, 5],
]

test('the coordinate along up is one for all', () => {
  expect(withPathCoordinate({ path, up: [0, 0, -2] }, 1, 2, 9).map(([, , z]) => z)).toEqual([9, 9, 9])
})
test('the others belong to their point', () => {
  expect(withPathCoordinate({ path, up: [0, 0, 1] }, 1, 0, 9)).toEqual([path[0], [9, 20, 5], path[2]])
})
test('with an up that leans every coordinate belongs to its point', () => {
  expect(withPathCoordinate({ path, up: [0, 1, 1] }, 0, 2, 9)).toEqual([[0, 0, 9], path[1], path[2]])
})
