import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readExpression } from './expression.ts'
import { type LengthUnit, readLength } from './length.ts'

const value = (text: string, unit: LengthUnit = 'mm') => {
  const read = readExpression(text, unit)
  return read.ok ? read.value : read.faults[0].code
}

describe('lengths that are reckoned', () => {
  // Worked by hand; 1 in = 25.4 mm exactly.
  test.each<[string, LengthUnit, number]>([
    ['26 3/8" - 12 mm', 'mm', 657.925],
    ['(640 - 2 * 14.5)/2', 'mm', 305.5],
    ['(640-14.5)/2', 'mm', 312.75],
    ['26 3/8" / 2', 'mm', 334.9625],
    ['26 3/8"/2', 'mm', 334.9625],
    ['3 × 10 1/2" + 12 mm', 'mm', 812.1],
    ['2 * 4 3/4', 'inch', 241.3],
    ['2*4-3/4"', 'mm', 241.3],
    ['10 / 4', 'mm', 2.5],
    ['3/4 / 2', 'inch', 9.525],
    ['¾ ÷ 2', 'inch', 9.525],
    ['-(120 mm)', 'mm', -120],
    ['−(120 mm + 3 cm)', 'mm', -150],
    ['100 - (20 + 5)', 'mm', 75],
    ['100 mm - (20 mm)*2', 'mm', 60],
    ['((1 + 2) * (3 + 4))', 'mm', 21],
    ['(26"-12mm)/2 + 4-3/4"', 'mm', 444.85],
    ['2*(6-3)', 'mm', 6],
    ['2 * (3\' 6")', 'mm', 2133.6],
    ['10 mm * -2', 'mm', -20],
    ['0.1 * 3', 'mm', 0.3],
    ['12,5 * 2', 'mm', 25],
    ['1/2 * 3 mm', 'mm', 1.5],
    ['0 * 3', 'mm', 0],
    ['2 · 5 cm', 'inch', 100],
    ['( 7 )', 'inch', 177.8],
    ['12 mm + 2 * 3 mm', 'inch', 18],
  ])('%j in %s is %d mm', (text, unit, mm) => {
    expect(value(text, unit)).toBe(mm)
  })

  test.each<[string, LengthUnit, string]>([
    ['(640', 'mm', 'not-a-length'],
    ['640)', 'mm', 'not-a-length'],
    ['()', 'mm', 'not-a-length'],
    ['2 *', 'mm', 'not-a-length'],
    ['* 2', 'mm', 'not-a-length'],
    ['4" * 2"', 'mm', 'not-a-length'],
    ['10 mm / 2 mm', 'mm', 'not-a-length'],
    ['10 / (3 - 3)', 'mm', 'zero-denominator'],
    ['10 mm / 0', 'mm', 'zero-denominator'],
    ['2 * 3 + 4"', 'mm', 'ambiguous-length'],
    ['2 * 26"-12mm', 'mm', 'ambiguous-length'],
    ['2*6-3', 'mm', 'ambiguous-length'],
    ['9 - 2*6-3', 'mm', 'ambiguous-length'],
    ['2 * 1,234', 'mm', 'ambiguous-length'],
    ['2 (3)', 'mm', 'not-a-length'],
    ['(2)(3)', 'mm', 'not-a-length'],
    ['2 ** 3', 'mm', 'not-a-length'],
    ['2 * x', 'mm', 'not-a-length'],
    ['1e7 mm * 2', 'mm', 'not-a-length'],
    ['9000 m * 2', 'mm', 'length-too-large'],
    [`${'('.repeat(50)}1${')'.repeat(50)}`, 'mm', 'not-a-length'],
    [`${'1 + '.repeat(80)}(1)`, 'mm', 'not-a-length'],
    ['', 'mm', 'no-length'],
  ])('%j in %s is refused: %s', (text, unit, code) => {
    expect(value(text, unit)).toBe(code)
  })

  test('a refusal says where', () => {
    const read = readExpression('2 * (3 mm + five)', 'mm')
    expect(read.ok ? null : read.faults[0].column).toBe(13)
  })
})

describe('for any numbers', () => {
  const number = fc.integer({ min: 1, max: 9999 }).map((n) => n / 8)

  test('sums in brackets, products and quotients are those of arithmetic (seed 91)', () => {
    fc.assert(
      fc.property(number, number, fc.integer({ min: 1, max: 40 }), (a, b, n) => {
        expect(value(`(${a} mm + ${b} mm) * ${n}`)).toBeCloseTo((a + b) * n, 8)
        expect(value(`(${a} mm - ${b} mm) / ${n}`)).toBeCloseTo((a - b) / n, 8)
        expect(value(`${a} mm - ${b} mm * ${n}`)).toBeCloseTo(a - b * n, 8)
        expect(value(`${n} * ${a}" - ${b} mm`)).toBeCloseTo(n * a * 25.4 - b, 7)
      }),
      { seed: 91, numRuns: 500 },
    )
  })

  test('what is no more than a sum reads as ever, and brackets around it change nothing (seed 92)', () => {
    const scrap = fc.string({ unit: fc.constantFrom(...'0123456789 ./-+\'"½mcinft'.split('')), maxLength: 12 })
    let taken = 0
    fc.assert(
      fc.property(scrap, (text) => {
        const plain = readLength(text, 'mm')
        const whole = readExpression(text, 'mm')
        if (plain.ok) {
          taken++
          expect(whole).toEqual(plain)
        }
      }),
      { seed: 92, numRuns: 6000 },
    )
    expect(taken).toBeGreaterThan(200)
  })

  test('no text makes it throw, and what it takes is finite (seed 93)', () => {
    const scrap = fc.string({ unit: fc.constantFrom(...'0123456789 .,/-+*()×÷\'"½minc'.split('')), maxLength: 16 })
    let taken = 0
    fc.assert(
      fc.property(scrap, (text) => {
        const read = readExpression(text, 'inch')
        if (read.ok) {
          taken++
          expect(Number.isFinite(read.value)).toBe(true)
        } else expect(read.faults[0].code).toMatch(/^[a-z-]+$/)
      }),
      { seed: 93, numRuns: 6000 },
    )
    expect(taken).toBeGreaterThan(100)
  })
})
