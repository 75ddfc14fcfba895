import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Point } from './dimension.ts'
import { spread } from './spread.ts'

// WCAG 2.2, success criterion 2.5.8: circles of 24 CSS pixels about the middles of targets do not meet.
const apart = 24
const distance = ([ax, ay]: Point, [bx, by]: Point) => Math.hypot(ax - bx, ay - by)

test('marks that stand apart stay, and of those on one spot the first stays', () => {
  const wide: Point[] = [
    [0, 0],
    [100, 0],
    [100, 24],
  ]
  expect(spread(wide, apart)).toEqual(wide)
  const [first, second] = spread(
    [
      [7, 9],
      [7, 9],
    ],
    apart,
  )
  expect(first).toEqual([7, 9])
  expect(distance(first, second)).toBe(apart)
})

test('no two of twelve marks come nearer than asked, however near their places are, and none goes far', {
  timeout: 30_000,
}, () => {
  const place = fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 }))
  let moved = 0
  fc.assert(
    fc.property(fc.array(place, { minLength: 2, maxLength: 12 }), (places) => {
      const at = spread(places, apart)
      for (const [i, one] of at.entries()) {
        if (distance(one, places[i]) > 0) moved++
        expect(distance(one, places[i])).toBeLessThanOrEqual(3 * Math.SQRT2 * apart)
        for (const other of at.slice(i + 1)) expect(distance(one, other)).toBeGreaterThanOrEqual(apart - 1e-9)
      }
    }),
    { seed: 41, numRuns: 300 },
  )
  expect(moved).toBeGreaterThan(300)
})
