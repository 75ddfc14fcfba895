import { expect, test } from 'vitest'
import { angleOf, bandOf, dOfBend, lengthOf, reynoldsOf, speedOf, tableLength } from './figures.ts'

test('lengths of tables in tenths, or hundredths of an inch; real minus signs', () => {
  expect(tableLength(123.456, 'mm')).toBe('123.5')
  expect(tableLength(-3.04, 'mm')).toBe('−3.0')
  expect(tableLength(25.4, 'inch')).toBe('1.00')
  expect(lengthOf(50.8, 'inch')).toBe('2.00 in')
  expect(angleOf(-90)).toBe('−90.0')
  expect(angleOf(-1e-9)).toBe('0.0')
})

test('D of bend of a tube is radius over outside diameter', () => {
  expect(dOfBend(85.5, 57)).toBe('1.5 D')
  expect(dOfBend(57, 57)).toBe('1 D')
  expect(dOfBend(38.1, 19.05)).toBe('2 D')
  expect(dOfBend(100, 57)).toBe('1.75 D')
})

test('a band never shows itself narrower than it is', () => {
  expect(bandOf({ atLeast: 1219, atMost: 1931 }, 'mm')).toBe('1.21 kPa to 1.94 kPa')
  expect(bandOf({ atLeast: 85.9, atMost: 1010 }, 'mm')).toBe('85 Pa to 1.01 kPa')
  // 1 psi = 6,894.757 Pa (NIST SP 811, from memory).
  expect(bandOf({ atLeast: 6894.757, atMost: 13_789.514 }, 'inch')).toMatch(/^1\.00 psi to 2\.00 psi$/)
})

test('speeds and Reynolds numbers', () => {
  expect(speedOf(30.48, 'inch')).toBe('100 ft/s')
  expect(speedOf(31.26, 'mm')).toBe('31.3 m/s')
  expect(reynoldsOf(84_321)).toBe('84,000')
})
