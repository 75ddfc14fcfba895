import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bendCoefficient, craneFriction, craneOfQuarters, idelchikBend, rennelsBend } from './bendLoss.ts'
import type { Friction } from './friction.ts'

const smooth: Friction = { atLeast: 0.018, atMost: 0.018, methods: ['a', 'b'] }

// E5.1: Crane TP-410 table of f_T for nominal sizes, which prints 0.019, 0.018 and 0.018/0.017.
test.each([
  [52.5, 0.01892],
  [62.7, 0.01814],
  [77.9, 0.01725],
])('Crane’s friction in a bore of %d mm: %d', (bore, expected) => {
  expect(Math.abs(craneFriction(bore) / expected - 1)).toBeLessThan(0.01)
})

describe('Crane TP-410, sheet A-29', () => {
  test.each([
    [1, 0.3628],
    [1.5, 0.254],
    [2, 0.2177],
    [3, 0.2177],
  ])('a quarter turn at radius/bore %d (E5.2)', (ratio, expected) => {
    expect(Math.abs(craneOfQuarters(craneFriction(62.7), ratio, 90) / expected - 1)).toBeLessThan(0.01)
  })
  // E5.3
  test.each([
    [45, 0.178397],
    [180, 0.399206],
  ])('%d° at radius/bore 1.5 and f_T 0.018', (angle, expected) => {
    expect(Math.abs(craneOfQuarters(0.018, 1.5, angle) / expected - 1)).toBeLessThan(5e-6)
  })
  test('near an open library’s smoothed fit of the same table (E5.4)', () => {
    expect(Math.abs(craneOfQuarters(craneFriction(402), 4.975, 30) / 0.0932191 - 1)).toBeLessThan(0.02)
  })
  test.each([1, 1.5, 2, 3, 4, 6, 8, 10, 12, 14, 16, 20])('the table’s own row at radius/bore %d', (ratio) => {
    const rows = { 1: 20, 1.5: 14, 2: 12, 3: 12, 4: 14, 6: 17, 8: 24, 10: 30, 12: 34, 14: 38, 16: 42, 20: 50 }
    expect(craneOfQuarters(1, ratio, 90)).toBeCloseTo(rows[ratio as keyof typeof rows], 12)
  })
})

// E5.5, Idelchik, and E5.6, an open library's Rennels & Hudson: λ = f = 0.018.
test.each([
  [1, 0.2384, 0.3134],
  [1.5, 0.214, 0.2254],
  [2, 0.2052, 0.2038],
  [3, 0.2063, 0.2065],
])('a quarter turn at radius/bore %d: Idelchik %d, Rennels & Hudson %d', (ratio, idelchik, rennels) => {
  expect(idelchikBend(ratio, 90, 0.018)).toBeCloseTo(idelchik, 4)
  expect(rennelsBend(ratio, 90, 0.018)).toBeCloseTo(rennels, 4)
})

test('how far the methods lie apart is said: 50 % at radius/bore 1, 20 % at 1.5 (E5)', () => {
  const spread = (ratio: number) => {
    const { atLeast, atMost } = bendCoefficient(62.7, ratio * 62.7, 90, smooth)
    return atMost / atLeast - 1
  }
  expect(spread(1)).toBeCloseTo(0.52, 1)
  expect(spread(1.5)).toBeCloseTo(0.19, 1)
  expect(bendCoefficient(62.7, 62.7, 90, smooth).methods).toEqual(['Idelchik', 'Crane TP-410'])
})

test('Crane is not followed outside its table', () => {
  const { methods } = bendCoefficient(50, 30, 90, smooth)
  expect(methods).not.toContain('Crane TP-410')
  expect(bendCoefficient(50, 1100, 90, smooth).methods).not.toContain('Crane TP-410')
})

test('a bend of no angle costs nothing', () => {
  expect(bendCoefficient(60, 90, 0, smooth)).toMatchObject({ atLeast: 0, atMost: 0 })
})

/** Even between two ends: generated doubles crowd at 0. */
const even = (low: number, high: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((k) => low + (k / 1_000_000) * (high - low))

test('the band grows with the angle up to a quarter turn, and with friction, without a jump (seed 33)', () => {
  const ratios = even(0.5, 25)
  const angles = even(0, 359.9)
  const factors = even(0.005, 0.1)
  fc.assert(
    fc.property(ratios, angles, factors, (ratio, angle, f) => {
      const at = (turned: number, factor: number) => {
        const band = { ...smooth, atLeast: factor, atMost: factor }
        return bendCoefficient(60, 60 * ratio, turned, band)
      }
      const [here, further, rougher] = [at(angle, f), at(angle + 0.01, f), at(angle, f * 1.1)]
      for (const end of ['atLeast', 'atMost'] as const) {
        expect(here[end]).toBeGreaterThanOrEqual(0)
        // Rennels & Hudson’s own formula falls by a hair towards a half turn.
        if (angle < 90) expect(further[end]).toBeGreaterThanOrEqual(here[end] - 1e-12)
        // The steepest is Rennels’ root of the sine at no angle at all: √sin(0.005°).
        expect(further[end] - here[end]).toBeLessThan(0.05)
        expect(rougher[end]).toBeGreaterThanOrEqual(here[end] - 1e-12)
      }
    }),
    { seed: 33, numRuns: 2000 },
  )
})
