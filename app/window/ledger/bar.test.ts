import { describe, expect, test } from 'vitest'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { barOf, barScale } from './bar.ts'
import { askedGlance, gapGlance, gapShown } from './figures.ts'

const pair = (fields: Partial<LedgerPair>): LedgerPair => ({
  part: 'core',
  keepOut: 'beam',
  role: 'safety',
  gap: 12,
  error: 0,
  tolerance: 1,
  uncertainty: 2,
  required: 10,
  margin: -1,
  verdict: 'unproved',
  onPart: [0, 0, 0],
  onKeepOut: [12, 0, 0],
  ...fields,
})

describe('bars', () => {
  const scale = barScale([pair({}), pair({ required: 20 })])

  test('the mark of the required clearance lies in the hatched part just when the row is open', () => {
    // Proved: 14 − 3 ≥ 10. Open: 10 lies between 9 and 15. Proved short: 6 + 3 < 10.
    for (const [gap, side] of [
      [14, 1],
      [12, 0],
      [6, -1],
    ] as const) {
      const bar = barOf(pair({ gap }), scale)
      expect(Math.sign((bar.from > bar.required ? 1 : 0) - (bar.to < bar.required ? 1 : 0))).toBe(side)
    }
  })

  test('bars of one ledger share a scale', () => {
    const [a, b] = [
      barOf(pair({ gap: 10, error: 0, tolerance: 0, uncertainty: 0 }), scale),
      barOf(pair({ required: 20 }), scale),
    ]
    expect(a.solid * 2).toBeCloseTo(b.required, 12)
  })

  test('an overlap goes left of zero, and what does not fit is cut', () => {
    const fouled = pair({ gap: 0, verdict: 'fouls', overlap: { depth: 8, kind: 'exact' } })
    const with8 = barScale([fouled])
    const bar = barOf(fouled, with8)
    expect(bar.overlap).toBeGreaterThan(0.1)
    expect(bar.zero).toBeCloseTo(bar.overlap, 12)
    expect(barOf(pair({ gap: 1000 }), scale)).toMatchObject({ to: 1, cut: true })
  })
})

describe('figures at a glance', () => {
  test('gaps are rounded down, what is asked is rounded up', () => {
    expect(gapGlance(6.99, 'mm')).toBe('6.9')
    expect(askedGlance(2.41, 'mm')).toBe('2.5')
    expect(askedGlance(10, 'mm')).toBe('10')
    expect(askedGlance(100, 'mm')).toBe('100')
    expect(gapGlance(19.05, 'inch')).toBe('3/4')
    expect(gapGlance(-3.01, 'mm')).toBe('−3.1')
  })
  test('an overlap shows as a negative gap', () => {
    expect(gapShown(pair({ gap: 0, overlap: { depth: 4, kind: 'atLeast' } }))).toBe(-4)
    expect(gapShown(pair({ gap: 0, overlap: { depth: 0, kind: 'exact' } }))).toBe(0)
  })
})
