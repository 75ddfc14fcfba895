import { expect, test } from 'vitest'
import { conformityProbability, normalProbability, normalQuantile } from './normal.ts'

// JCGM 106:2012 table 1, values from memory and recomputed (checks C4.5).
test.each([
  [0.8, 0.84],
  [0.9, 1.28],
  [0.95, 1.64],
  [0.99, 2.33],
  [0.999, 3.09],
])('C4.5: one-sided probability %d has z %d', (probability, z) => {
  expect(Math.abs(normalQuantile(probability) - z)).toBeLessThanOrEqual(0.005)
})

// Checks C4.2: Φ(1.645) and Φ(2).
test('C4.2: Φ(1.645) = 0.95002, Φ(2) = 0.97725', () => {
  expect(normalProbability(1.645)).toBeCloseTo(0.95002, 5)
  expect(normalProbability(2)).toBeCloseTo(0.97725, 5)
})

// JCGM 106:2012 section 7, the Zener diode example (from memory; checks C4.3).
test('C4.3: upper limit −5.40 V, found −5.47 V, u 0.05 V: Φ(1.40) = 0.9192', () => {
  expect(conformityProbability(-5.4, -5.47, 0.05)).toBeCloseTo(0.9192, 4)
})

test('the two formulas meet at 3, and the tails mirror each other', () => {
  expect(normalProbability(3 + 1e-12)).toBeCloseTo(normalProbability(3 - 1e-12), 12)
  expect(normalProbability(-3 - 1e-12)).toBeCloseTo(normalProbability(-3 + 1e-12), 12)
  for (const x of [0.1, 1, 2.9, 3.1, 5, 8]) expect(normalProbability(x) + normalProbability(-x)).toBeCloseTo(1, 14)
})

test('the quantile undoes the probability', () => {
  for (const z of [-6, -3, -1.5, 0, 0.3, 1.645, 3, 4]) expect(normalQuantile(normalProbability(z))).toBeCloseTo(z, 10)
  expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY)
  expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY)
  expect(normalQuantile(1.1)).toBeNaN()
  expect(normalProbability(Number.NaN)).toBeNaN()
})
