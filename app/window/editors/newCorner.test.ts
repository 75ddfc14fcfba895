import { expect, test } from 'vitest'
import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { pointsOf } from '../pipes/run.ts'
import { newCorner } from './newCorner.ts'

const bay = sampleBay() as Bay
const [candidate] = bay.candidates
const [pipe] = candidate.pipes as Pipe[]

test('a new corner stands half-way between its neighbours, the ends of the pipe being two of them', () => {
  const points = pointsOf(bay, candidate, pipe)!
  expect(points).toHaveLength(pipe.path.length + 2)
  for (const index of points.keys()) {
    if (index === points.length - 1) continue
    const corner = newCorner(points, index)
    for (const k of [0, 1, 2]) {
      expect(Number.isInteger(corner[k])).toBe(true)
      expect(Math.abs(corner[k] - (points[index][k] + points[index + 1][k]) / 2)).toBeLessThanOrEqual(0.5)
    }
  }
})

test('between points that are very near it never stands on one of them', () => {
  const points = [
    [0, 0, 0],
    [0, 0.6, 0],
  ] as const
  expect(newCorner(points, 0)).toEqual([0, 0.3, 0])
})

test('a pipe whose port is not there has no points', () => {
  expect(pointsOf(bay, candidate, { ...pipe, from: 'nowhere' })).toBeNull()
})
