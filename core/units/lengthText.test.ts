import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readLength } from './length.ts'
import { formatGap, formatLength, formatStep, formatStepText, formatUncertainty } from './lengthText.ts'
import type { LengthFormat, PeopleUnits } from './lengthText.ts'

test.each<[mm: number, units: PeopleUnits, format: LengthFormat, text: string]>([
  [120.65, 'inch', {}, '4 3/4″'],
  [120.65, 'mm', {}, '120.7 mm'],
  [120.65, 'mm', { decimals: 2 }, '120.65 mm'],
  [120.65, 'mm', { decimals: 2, bare: true }, '120.65'],
  [120.65, 'inch', { decimals: 3 }, '4.750″'],
  [0, 'inch', {}, '0″'],
  [-0.01, 'mm', {}, '0.0 mm'],
  [-12.7, 'inch', {}, '−1/2″'],
  [1.190625, 'inch', { fraction: 64 }, '3/64″'],
  [1.190625, 'inch', { fraction: 16 }, '1/16″'],
  [25.3, 'inch', { fraction: 16 }, '1″'],
  [1e7, 'mm', { decimals: 0 }, '10000000 mm'],
])('%d mm in %s %j is written %j', (mm, units, format, text) => {
  expect(formatLength(mm, units, format)).toBe(text)
})

test('a gap is rounded down and an uncertainty up, exact values staying as they are', () => {
  expect(formatGap(9.99, 'mm')).toBe('9.9 mm')
  expect(formatGap(-0.01, 'mm')).toBe('−0.1 mm')
  expect(formatGap(12.1, 'mm')).toBe('12.1 mm')
  expect(formatUncertainty(1.1, 'mm', { decimals: 2 })).toBe('1.10 mm')
  expect(formatUncertainty(0.0001, 'mm', { decimals: 3 })).toBe('0.001 mm')
  expect(formatGap(120.6, 'inch')).toBe('4 23/32″')
  expect(formatUncertainty(120.66, 'inch')).toBe('4 25/32″')
})

test('where asked to, dust of arithmetic is no step, except at zero, where it is the sign', () => {
  // As they stand in the ledger of a bay whose gap is 72.5 and whose margin is 54.
  const figure = { decimals: 2, passDust: true }
  expect(formatGap(72.49999999999999, 'mm', figure)).toBe('72.50 mm')
  expect(formatGap(72.49999999999999, 'mm', { decimals: 2 })).toBe('72.49 mm')
  expect(formatGap(67.5 - 3.4e-12 - 3.5 - 10, 'mm', figure)).toBe('54.00 mm')
  expect(formatUncertainty(3.5 + 3.4e-12, 'mm', { passDust: true })).toBe('3.5 mm')
  expect(formatUncertainty(3.5 + 3.4e-12, 'mm')).toBe('3.6 mm')
  expect(formatGap(25.4 - 1e-9, 'inch', { passDust: true })).toBe('1″')
  expect(formatGap(9.99 - 1e-5, 'mm', figure)).toBe('9.98 mm')
  expect(formatUncertainty(9.99 + 1e-5, 'mm', figure)).toBe('10.00 mm')
  expect(formatGap(-1e-12, 'mm', figure)).toBe('−0.01 mm')
  expect(formatUncertainty(1e-12, 'mm', { decimals: 3, passDust: true })).toBe('0.001 mm')
})

test('the rounding can be stated', () => {
  expect(formatStepText('inch', { fraction: 64 })).toBe('1/64″')
  expect(formatStepText('mm', { decimals: 2 })).toBe('0.01 mm')
  expect(formatStep('inch')).toBe(25.4 / 32)
})

test('what is not a number is shown as such', () => {
  expect(formatLength(Number.NaN, 'mm')).toBe('–')
  expect(formatGap(Number.NEGATIVE_INFINITY, 'inch')).toBe('−∞')
})

const formats: [PeopleUnits, LengthFormat][] = [
  ['mm', { decimals: 0 }],
  ['mm', {}],
  ['mm', { decimals: 3 }],
  ['inch', { fraction: 16 }],
  ['inch', { fraction: 32, bare: true }],
  ['inch', { fraction: 64 }],
  ['inch', { decimals: 4 }],
]
const readBack = (text: string, units: PeopleUnits): number => {
  const read = readLength(text, units)
  if (!read.ok) throw new Error(`${text}: ${read.faults[0].code}`)
  return read.value
}

// Values on and just beside the grid are where a direction of rounding goes wrong; half of the runs are such.
const nearGrid = (units: PeopleUnits, format: LengthFormat) =>
  fc.tuple(fc.integer({ min: -200000, max: 200000 }), fc.constantFrom(0, 1, -1, 3)).map(([n, ulps]) => {
    const on = n * formatStep(units, format)
    return on + ulps * Math.abs(on) * Number.EPSILON
  })

test.each(formats)(
  'written and read again in %s %j: within the rounding, and never more than it shows (seed 23)',
  (units, format) => {
    const lengths = fc.oneof(fc.double({ min: -20000, max: 20000, noNaN: true }), nearGrid(units, format))
    fc.assert(
      fc.property(lengths, (mm) => {
        const step = formatStep(units, format)
        const nearest = readBack(formatLength(mm, units, format), units)
        const gap = readBack(formatGap(mm, units, format), units)
        const uncertainty = readBack(formatUncertainty(mm, units, format), units)
        // 1e-10: the comparison itself rounds; step / 2 at 20,000 mm is 2.5e-5 at the finest.
        expect(Math.abs(nearest - mm)).toBeLessThanOrEqual(step / 2 + 1e-10)
        expect(gap).toBeLessThanOrEqual(mm)
        expect(gap).toBeGreaterThan(mm - step - 1e-10)
        expect(uncertainty).toBeGreaterThanOrEqual(mm)
        expect(uncertainty).toBeLessThan(mm + step + 1e-10)
        expect(formatLength(nearest, units, format)).toBe(formatLength(mm, units, format))
      }),
      { seed: 23, numRuns: 2000 },
    )
  },
)
