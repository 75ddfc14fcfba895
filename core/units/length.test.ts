import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Outcome } from '../fault.ts'
import { readLength } from './length.ts'
import type { LengthUnit } from './length.ts'

const value = (outcome: Outcome<number>) => (outcome.ok ? outcome.value : outcome.faults[0].code)

// 1 in = 25.4 mm exactly (international inch), so each value below is a decimal worked by hand.
test.each<[text: string, unit: LengthUnit, mm: number]>([
  ['120', 'mm', 120],
  ['120 mm', 'inch', 120],
  ['12 cm', 'mm', 120],
  ['1.2 m', 'mm', 1200],
  ['12,5', 'mm', 12.5],
  ['12,5 cm', 'mm', 125],
  ['0,125', 'mm', 0.125],
  ['1234,567', 'mm', 1234.567],
  ['.5', 'mm', 0.5],
  [',5', 'mm', 0.5],
  ['5.', 'mm', 5],
  ['-3', 'mm', -3],
  ['\u22123', 'mm', -3],
  ['+3', 'mm', 3],
  ['- 3', 'mm', -3],
  ['4 3/4"', 'mm', 120.65],
  ['4 3/4', 'inch', 120.65],
  ['4-3/4 in', 'mm', 120.65],
  ['4.75"', 'mm', 120.65],
  ['4¾', 'inch', 120.65],
  ['4 ¾″', 'mm', 120.65],
  ['4-¾"', 'mm', 120.65],
  ['4 3⁄4"', 'mm', 120.65],
  ['19.9995"', 'mm', 507.9873],
  ['1/3"', 'mm', 25.4 / 3],
  ['½', 'inch', 12.7],
  ['½"', 'mm', 12.7],
  ['3/64"', 'mm', 1.190625],
  ['7/4"', 'mm', 44.45],
  ['-4 3/4"', 'mm', -120.65],
  ["3'", 'mm', 914.4],
  ['3 ft', 'mm', 914.4],
  ['3.5 ft', 'mm', 1066.8],
  ['3\' 6 1/2"', 'mm', 1079.5],
  ['3\'-6 1/2"', 'mm', 1079.5],
  ["3'-6", 'mm', 1079.5 - 12.7],
  ['3\'6"', 'mm', 1066.8],
  ['3′ 6½″', 'mm', 1079.5],
  ['3 ft 6 1/2 in', 'mm', 1079.5],
  ['3 feet 6 inches', 'mm', 1066.8],
  ['-3\' 6"', 'mm', -1066.8],
  ["6 1/2''", 'mm', 165.1],
  ['26 3/8" - 12 mm', 'mm', 657.925],
  ['26 3/8" \u2212 12 mm', 'inch', 657.925],
  ['26"-12mm', 'mm', 648.4],
  ["3' - 12 mm", 'mm', 902.4],
  ["3'-12 mm", 'mm', 902.4],
  ['0.1 + 0.2', 'mm', 0.3],
  ['100 + 20 - 3,5', 'mm', 116.5],
  ['4 - 3/4', 'inch', 82.55],
  ['4-3', 'inch', 25.4],
  ['12 - 3 mm', 'mm', 9],
  ['  7  MM ', 'mm', 7],
  ['7\u00a0mm', 'mm', 7],
  ['0', 'mm', 0],
  ['-0', 'mm', 0],
])('reads %j in %s as %d mm', (text, unit, mm) => {
  expect(value(readLength(text, unit))).toBe(mm)
})

test.each<[text: string, unit: LengthUnit, code: string]>([
  ['', 'mm', 'no-length'],
  ['   ', 'mm', 'no-length'],
  ['abc', 'mm', 'not-a-length'],
  ['mm', 'mm', 'not-a-length'],
  ['1,234', 'mm', 'ambiguous-length'],
  ['12,500', 'mm', 'ambiguous-length'],
  ['1,234.5', 'mm', 'ambiguous-length'],
  ['1.234,5', 'mm', 'ambiguous-length'],
  ['1,234,567', 'mm', 'ambiguous-length'],
  ['1.2.3', 'mm', 'ambiguous-length'],
  ['1e3', 'mm', 'not-a-length'],
  ['1_000', 'mm', 'not-a-length'],
  ['1 000', 'mm', 'not-a-length'],
  ['1/0', 'mm', 'zero-denominator'],
  ['4 1/0', 'mm', 'zero-denominator'],
  ['4 7/4', 'mm', 'not-a-length'],
  ['4.5 1/2', 'mm', 'not-a-length'],
  ['1.5/2', 'mm', 'not-a-length'],
  ['3/', 'mm', 'not-a-length'],
  ['\u0661\u0662', 'mm', 'not-a-length'],
  ['\uff11\uff12', 'mm', 'not-a-length'],
  ['3\' - 6"', 'mm', 'ambiguous-length'],
  ['3\' -6"', 'mm', 'ambiguous-length'],
  ['3.5\' 6"', 'mm', 'not-a-length'],
  ['3\' 14"', 'mm', 'not-a-length'],
  ['4 -3/4', 'inch', 'ambiguous-length'],
  ['4- 3/4', 'inch', 'ambiguous-length'],
  ['26 3/8" - 12', 'mm', 'ambiguous-length'],
  ['12 - 3 mm', 'inch', 'ambiguous-length'],
  ['3 - -2', 'mm', 'not-a-length'],
  ['--3', 'mm', 'not-a-length'],
  ['3 +', 'mm', 'not-a-length'],
  ['12 mmm', 'mm', 'not-a-length'],
  ['12 mm 3', 'mm', 'not-a-length'],
  ['12 furlongs', 'mm', 'not-a-length'],
  ['Infinity', 'mm', 'not-a-length'],
  ['NaN', 'mm', 'not-a-length'],
  ['IV', 'mm', 'not-a-length'],
  ['$5', 'mm', 'not-a-length'],
  ['50%', 'mm', 'not-a-length'],
  ['0x10', 'mm', 'not-a-length'],
  ['10001 m', 'mm', 'length-too-large'],
  ['9'.repeat(119), 'mm', 'length-too-large'],
  ['9'.repeat(400), 'mm', 'not-a-length'],
])('refuses %j in %s: %s', (text, unit, code) => {
  expect(value(readLength(text, unit))).toBe(code)
})

test('a refusal says where', () => {
  expect(readLength('26 3/8" - 1/0', 'mm')).toEqual({
    ok: false,
    faults: [
      {
        code: 'zero-denominator',
        expected: 'a fraction over something other than zero',
        column: 11,
        got: '26 3/8" - 1/0',
      },
    ],
  })
})

test('plain decimals come back as the same double (seed 20)', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (mm) => {
      const text = mm.toFixed(6)
      expect(value(readLength(text, 'mm'))).toBe(Number(text) === 0 ? 0 : Number(text))
      if (!/[.]\d{3}$/.test(text))
        expect(value(readLength(text.replace('.', ','), 'mm'))).toBe(Number(text) === 0 ? 0 : Number(text))
    }),
    { seed: 20, numRuns: 2000 },
  )
})

test('fractions equal their quotient, to the double (seed 21)', () => {
  fc.assert(
    fc.property(fc.nat(500), fc.integer({ min: 1, max: 63 }), (whole, over) => {
      const inches = whole + over / 64
      expect(value(readLength(`${whole} ${over}/64"`, 'mm'))).toBe((inches * 254) / 10)
      expect(value(readLength(`${whole}-${over}/64`, 'inch'))).toBe((inches * 254) / 10)
    }),
    { seed: 21 },
  )
})

test('no text makes it throw, and what it takes is finite (seed 22)', () => {
  const scrap = fc.string({ unit: fc.constantFrom(...'0123456789 .,/-+\'"½mcinft\u2212′″e_'.split('')), maxLength: 14 })
  let taken = 0
  fc.assert(
    fc.property(scrap, (text) => {
      const read = readLength(text, 'mm')
      if (read.ok) {
        taken++
        expect(Number.isFinite(read.value)).toBe(true)
      } else expect(read.faults[0].code).toMatch(/^[a-z-]+$/)
    }),
    { seed: 22, numRuns: 5000 },
  )
  expect(taken).toBeGreaterThan(200)
})
