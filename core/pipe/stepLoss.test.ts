import { expect, test } from 'vitest'
import { stepCoefficient } from './stepLoss.ts'

test('sudden widening 50 → 63.5: Borda–Carnot (E3.4)', () => {
  const step = stepCoefficient(50, 63.5, 0)
  expect(step?.what).toBe('widening')
  expect(step?.atMost).toBeCloseTo(0.144399, 6)
})

test('sudden narrowing 63.5 → 50 lies between Weisbach (E3.5) and Idelchik', () => {
  const step = stepCoefficient(63.5, 50, 0)
  expect(step?.what).toBe('narrowing')
  expect(step?.atLeast).toBeCloseTo(0.189999, 6)
  // Idelchik, diagram 4-9 (from memory): 0.5 (1 − 0.62)^(3/4)
  expect(step?.atMost).toBeCloseTo(0.5 * 0.379998 ** 0.75, 5)
  expect(step?.methods).toEqual(['Weisbach', 'Idelchik'])
})

test('no change of bore is no step', () => {
  expect(stepCoefficient(60, 60, 0)).toBeNull()
})

test('a slender cone costs less than the step at the lower end, a blunt one as much', () => {
  const sudden = stepCoefficient(50, 63.5, 0)
  const slender = stepCoefficient(50, 63.5, 60)
  // Half angle atan(6.75/60): Crane TP-410, sheet A-26 (from memory): 2.6 sin(θ/2)
  expect(slender?.atLeast).toBeCloseTo(2.6 * Math.sin(Math.atan(6.75 / 60)) * 0.144399, 6)
  expect(slender?.atMost).toBe(sudden?.atMost)
  expect(slender?.methods).toEqual(['Crane TP-410', 'Borda–Carnot'])
  expect(stepCoefficient(50, 63.5, 5)).toEqual(sudden)
})
