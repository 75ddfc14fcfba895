import { expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { isCutBy } from './section.ts'

test('a box is cut just where corners lie on both sides: 1,000 random boxes and planes (seed 8)', () => {
  const random = seeded(8)
  let cut = 0
  for (let i = 0; i < 1000; i++) {
    const [a, b] = [random.point(100), random.point(100)]
    const [min, max] = [Math.min, Math.max].map((pick) => [0, 1, 2].map((k) => pick(a[k], b[k]))) as never[]
    const plane = { normal: random.unit(), offset: random.real(-120, 120) }
    const heights = Array.from({ length: 8 }, (_, n) =>
      [0, 1, 2].reduce((sum, k) => sum + plane.normal[k] * ((n >> k) & 1 ? max[k] : min[k]), 0),
    )
    const both = heights.some((h) => h < plane.offset) && heights.some((h) => h > plane.offset)
    expect(isCutBy({ bounds: { min, max } }, plane)).toBe(both)
    if (both) cut++
  }
  expect(cut).toBeGreaterThan(200)
  expect(cut).toBeLessThan(800)
})

test('a half-space without end is cut by a plane across it, and not by one beside it', () => {
  const bounds = { min: [-Infinity, -Infinity, -Infinity], max: [Infinity, Infinity, -60] } as const
  expect(isCutBy({ bounds }, { normal: [1, 0, 0], offset: 5 })).toBe(true)
  expect(isCutBy({ bounds }, { normal: [0, 0, 1], offset: 5 })).toBe(false)
})
