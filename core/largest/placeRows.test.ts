import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { greatestLeast } from './placeRows.ts'

test('500 random row sets: the point is as good as the bound, and no sampled point is better (seed 3)', () => {
  const random = seeded(3)
  for (let run = 0; run < 500; run++) {
    const d = 1 + random.int(4)
    const low = Float64Array.from({ length: d }, () => random.real(-50, 0))
    const high = low.map((x) => x + (random.chance(0.1) ? 0 : random.real(0, 80)))
    const rows = Array.from({ length: 1 + random.int(40) }, () => ({
      slope: Float64Array.from({ length: d }, () => (random.chance(0.2) ? 0 : random.real(-1, 1))),
      offset: random.real(-30, 30),
    }))
    const least = (at: ArrayLike<number>) =>
      Math.min(...rows.map(({ slope, offset }) => slope.reduce((sum, a, k) => sum + a * at[k], offset)))
    const { at, weights, bound } = greatestLeast(rows, low, high)
    expect(least(at)).toBeLessThanOrEqual(bound)
    expect(bound - least(at)).toBeLessThan(1e-8)
    expect(weights.reduce((a, b) => a + b)).toBeCloseTo(1, 12)
    expect(Math.min(...weights)).toBeGreaterThanOrEqual(0)
    for (let i = 0; i < 40; i++) {
      const sample = low.map((x, k) => random.real(x, high[k] + 1e-300))
      expect(least(sample)).toBeLessThanOrEqual(bound)
    }
  }
})

test('equal rows and rows that touch do not make it circle', () => {
  const row = { slope: Float64Array.of(1, 0), offset: 0 }
  const rows = [row, row, { slope: Float64Array.of(-1, 0), offset: 0 }, { slope: Float64Array.of(-1, 0), offset: 0 }]
  const { bound } = greatestLeast(rows, Float64Array.of(-1, -1), Float64Array.of(1, 1))
  expect(Math.abs(bound)).toBeLessThan(1e-12)
})
