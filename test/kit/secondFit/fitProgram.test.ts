import { expect, test } from 'vitest'
import { seeded } from '../random.ts'
import { solveProgram } from './fitProgram.ts'

/** Greatest c·x by the Lagrangian of the multipliers: an upper bound for any weights that are not negative. */
function dual(
  c: Float64Array,
  rows: { a: Float64Array; b: number }[],
  low: Float64Array,
  high: Float64Array,
  w: Float64Array,
): number {
  let bound = 0
  const slope = c.slice()
  rows.forEach(({ a, b }, i) => {
    bound -= w[i] * b
    for (let j = 0; j < c.length; j++) slope[j] += w[i] * a[j]
  })
  return slope.reduce((sum, s, j) => sum + s * (s > 0 ? high[j] : low[j]), bound)
}

test('600 random programs: the point meets the rows and its value meets the bound of the multipliers (seed 7)', () => {
  const random = seeded(7)
  let solved = 0
  let none = 0
  for (let run = 0; run < 600; run++) {
    const n = 2 + random.int(5)
    const low = Float64Array.from({ length: n }, () => random.real(-50, 0))
    const high = low.map((x) => x + random.real(1, 80))
    const c = low.map(() => random.real(-1, 1))
    const rows = Array.from({ length: random.int(40) }, () => ({
      a: low.map(() => (random.chance(0.4) ? 0 : random.real(-1, 1))),
      b: random.real(-60, 5),
    }))
    const { x, weights, infeasible } = solveProgram(c, rows, low, high)
    const value = x.reduce((sum, v, j) => sum + c[j] * v, 0)
    if (infeasible) {
      none++
      // Farkas: the weighted rows cannot be met anywhere in the box.
      expect(dual(new Float64Array(n), rows, low, high, weights)).toBeLessThan(0)
      continue
    }
    solved++
    for (const { a, b } of rows) expect(a.reduce((sum, v, j) => sum + v * x[j], -b)).toBeGreaterThan(-1e-7)
    expect(dual(c, rows, low, high, weights) - value).toBeLessThan(1e-7)
    expect(dual(c, rows, low, high, weights) - value).toBeGreaterThan(-1e-7)
  }
  expect(solved).toBeGreaterThan(150)
  expect(none).toBeGreaterThan(20)
})
