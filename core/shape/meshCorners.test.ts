import { expect, test } from 'vitest'
import { meshCorners, meshSize } from './meshCorners.ts'

const bounds = { min: [0, -1, 2], max: [1, 3, 4] } as const

test('eight corners and three sizes, in mm', () => {
  const corners = meshCorners(bounds, 'cm')
  expect(new Set(corners.map(String)).size).toBe(8)
  expect(corners[0]).toEqual([0, -10, 20])
  expect(corners[7]).toEqual([10, 30, 40])
  expect(meshSize(bounds, 'cm')).toEqual([10, 40, 20])
  expect(meshSize(bounds, 'inch')).toEqual([25.4, 101.6, 50.8])
})
