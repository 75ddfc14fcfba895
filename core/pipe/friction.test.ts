import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { churchill, colebrook, friction } from './friction.ts'

// Checks E4.1–E4.6: Colebrook and Churchill 1977, four figures each, held to half a unit of the last.
describe.each<[re: number, rough: number, colebrook: number, churchill: number]>([
  [1e4, 0, 0.03088, 0.031],
  [1e5, 0, 0.01799, 0.01787],
  [1e5, 1e-3, 0.02217, 0.02234],
  [1e5, 1e-2, 0.0385, 0.03873],
  [1e6, 1e-4, 0.01344, 0.01351],
])('Re %d, roughness %d of the bore', (re, rough, ofColebrook, ofChurchill) => {
  test('Colebrook and Churchill', () => {
    expect(Math.abs(colebrook(re, rough) - ofColebrook)).toBeLessThan(5.1e-6)
    expect(Math.abs(churchill(re, rough) - ofChurchill)).toBeLessThan(5.1e-6)
  })
  test('the band holds both, with their names', () => {
    const { atLeast, atMost, methods } = friction(re, rough)
    expect([atLeast, atMost]).toEqual([colebrook(re, rough), churchill(re, rough)].sort((a, b) => a - b))
    expect([...methods].sort()).toEqual(['Churchill 1977', 'Colebrook–White'])
  })
})

test('to all figures of an open library of fluid dynamics (E4.3)', () => {
  expect(colebrook(1e5, 1e-4)).toBeCloseTo(0.018513866, 9)
  expect(churchill(1e5, 1e-4)).toBeCloseTo(0.018462625, 9)
})

test.each([0, 1e-4, 1e-2])('laminar flow: 64/Re, whatever the wall (E4.7; roughness %d)', (rough) => {
  const { atLeast, atMost, methods } = friction(1000, rough)
  expect(Math.abs(atLeast / 0.064 - 1)).toBeLessThan(1e-4)
  expect(Math.abs(atMost / 0.064 - 1)).toBeLessThan(1e-4)
  expect(methods).toContain('Hagen–Poiseuille')
})

test('between laminar and turbulent the band holds either flow', () => {
  const { atLeast, atMost } = friction(3000, 1e-4)
  expect(atLeast).toBeLessThanOrEqual(64 / 3000)
  expect(atMost).toBeGreaterThanOrEqual(colebrook(3000, 1e-4))
})

/** Even between two ends: generated doubles crowd at 0. */
const even = (low: number, high: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((k) => low + (k / 1_000_000) * (high - low))
const anyReynolds = even(-3, 9).map((x) => 10 ** x)
const anyRough = even(0, 0.1)

test('Colebrook’s equation is met to rounding (seed 31)', () => {
  const missed = (re: number, rough: number) => {
    const x = 1 / Math.sqrt(colebrook(re, rough))
    return Math.abs(x + 2 * Math.log10(rough / 3.7 + (2.51 * x) / re)) / x
  }
  fc.assert(
    fc.property(
      even(3.3, 9).map((x) => 10 ** x),
      anyRough,
      (re, rough) => missed(re, rough) < 1e-13,
    ),
    { seed: 31, numRuns: 3000 },
  )
})

test('more flow never costs less, a rougher wall never less: f·Re² and f grow (seed 32)', () => {
  let sides = 0
  fc.assert(
    fc.property(anyReynolds, even(1, 3), anyRough, anyRough, (re, more, a, b) => {
      const [slow, fast] = [friction(re, a), friction(re * more, a)]
      if (re < 2300 && re * more > 2300) sides++
      const slack = 1 - 1e-12
      expect(fast.atLeast * more * more).toBeGreaterThanOrEqual(slow.atLeast * slack)
      expect(fast.atMost * more * more).toBeGreaterThanOrEqual(slow.atMost * slack)
      const [smooth, rough] = [friction(re, Math.min(a, b)), friction(re, Math.max(a, b))]
      expect(rough.atLeast).toBeGreaterThanOrEqual(smooth.atLeast * slack)
      expect(rough.atMost).toBeGreaterThanOrEqual(smooth.atMost * slack)
    }),
    { seed: 32, numRuns: 3000 },
  )
  expect(sides).toBeGreaterThan(20)
})
