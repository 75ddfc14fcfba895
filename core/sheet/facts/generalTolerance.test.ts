import { expect, test } from 'vitest'
import { generalTolerance } from './generalTolerance.ts'

test('ISO 2768-1, table 1: ranges begin above their lower end and hold their upper one', () => {
  // A core of 650 mm, classes m and c; exactly 400 mm is the last of "over 120 up to 400".
  expect(generalTolerance(650, 'm')).toBe(0.8)
  expect(generalTolerance(650, 'c')).toBe(2)
  expect(generalTolerance(400, 'm')).toBe(0.5)
  expect(generalTolerance(400.01, 'm')).toBe(0.8)
  expect(generalTolerance(30, 'm')).toBe(0.2)
  expect(generalTolerance(2, 'v')).toBeNull()
  expect(generalTolerance(3000, 'f')).toBeNull()
  expect(generalTolerance(0.4, 'm')).toBeNull()
  expect(generalTolerance(5000, 'm')).toBeNull()
})
