import fc from 'fast-check'
import { expect, test } from 'vitest'
import { expandedGuard, marginOf, oneSidedGuard, overallVerdict, verdictOf } from './verdict.ts'
import type { Figures } from './verdict.ts'

const figures = (change: Partial<Figures>): Figures => ({
  gap: 0,
  error: 0,
  tolerance: 0,
  uncertainty: 0,
  required: 0,
  ...change,
})

// Checks C4.4 (and with it the rule C4.1): required 10.0, u 0.793725 (U = 2u), g = 1.645 u = 1.3057.
test.each([
  [12, 'clears'],
  [11, 'unproved'],
  [8.5, 'short'],
] as const)('C4.4: a gap of %d where 10 is required %s', (gap, verdict) => {
  expect(verdictOf(figures({ gap, uncertainty: 2 * 0.793725, required: 10 }), oneSidedGuard(0.95))).toBe(verdict)
})

test('C4.2: the guard band at 95 % is 1.645 u; the default is U', () => {
  expect(oneSidedGuard(0.95)(2 * 0.793725)).toBeCloseTo(1.3056, 3)
  expect(expandedGuard(3)).toBe(3)
})

test('C4.4 with the default guard U = 1.58745: 11.6 clears, 11.5 does not, 8.4 is short, 8.5 is not', () => {
  const at = (gap: number) => verdictOf(figures({ gap, uncertainty: 1.58745, required: 10 }))
  expect([11.6, 11.5, 8.5, 8.4].map(at)).toEqual(['clears', 'unproved', 'unproved', 'short'])
})

test.each<[string, Partial<Figures>, string]>([
  [
    'everything unknown used up exactly',
    { gap: 14, error: 0.5, tolerance: 0.5, uncertainty: 3, required: 10 },
    'clears',
  ],
  ['a hair less', { gap: 13.999, error: 0.5, tolerance: 0.5, uncertainty: 3, required: 10 }, 'unproved'],
  ['at the lower edge', { gap: 6, error: 0.5, tolerance: 0.5, uncertainty: 3, required: 10 }, 'unproved'],
  ['below it', { gap: 5.999, error: 0.5, tolerance: 0.5, uncertainty: 3, required: 10 }, 'short'],
  ['deep overlap', { depth: 4.1, tolerance: 1, uncertainty: 3, required: 10 }, 'fouls'],
  [
    'depth that tolerance and uncertainty explain, and the clearance is short',
    { depth: 4, tolerance: 1, uncertainty: 3, required: 10 },
    'short',
  ],
  ['the same where little is asked', { depth: 4, tolerance: 1, uncertainty: 3, required: 4 }, 'unproved'],
  ['a touch with clearance asked', { depth: 0, required: 5 }, 'short'],
  ['a touch, nothing asked and nothing unknown', { depth: 0, depthAtMost: 0 }, 'clears'],
  ['contact of unknown depth, nothing asked and nothing unknown', { depth: 0 }, 'unproved'],
  ['a touch with nothing asked and some tolerance', { depth: 0, tolerance: 0.1 }, 'unproved'],
  ['the error counts against fouling', { depth: 1, error: 1 }, 'unproved'],
  ['a gap that is not a number', { gap: Number.NaN, required: 5 }, 'unproved'],
  ['a depth that is not a number', { depth: Number.NaN, required: 0 }, 'unproved'],
])('%s', (_, change, verdict) => {
  expect(verdictOf(figures(change))).toBe(verdict)
})

test('margin and verdict agree: it clears exactly where the margin is not negative (seed 30)', () => {
  const mm = fc.integer({ min: 0, max: 3000 }).map((hundredths) => hundredths / 100)
  let clears = 0
  fc.assert(
    fc.property(
      mm,
      fc.double({ min: 0, max: 0.001, noNaN: true }),
      mm,
      mm,
      mm,
      (gap, error, tolerance, uncertainty, required) => {
        const f = { gap: 3 * gap, error, tolerance, uncertainty, required }
        const clear = verdictOf(f) === 'clears'
        if (clear) clears++
        expect(clear).toBe(marginOf(f) >= 0)
        // Less known never makes a better or a firmer verdict.
        const blurred = verdictOf({ ...f, uncertainty: uncertainty + 5 })
        expect([verdictOf(f), 'unproved']).toContain(blurred)
      },
    ),
    { seed: 30, numRuns: 1000 },
  )
  expect(clears).toBeGreaterThan(300)
  expect(clears).toBeLessThan(700)
})

test('the whole is as bad as its worst pair, and never better than what was looked at', () => {
  expect(overallVerdict(['clears', 'clears'], false)).toBe('clears')
  expect(overallVerdict(['clears', 'unproved', 'short'], false)).toBe('short')
  expect(overallVerdict(['short', 'fouls', 'clears'], true)).toBe('fouls')
  expect(overallVerdict(['clears'], true)).toBe('unproved')
  expect(overallVerdict([], false)).toBe('unproved')
})
