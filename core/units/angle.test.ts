import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readAngle } from './angle.ts'

const value = (text: string) => {
  const read = readAngle(text)
  return read.ok ? read.value : read.faults[0].code
}

test.each<[string, number]>([
  ['12', 12],
  ['12.5', 12.5],
  ['12,5°', 12.5],
  ['7½ deg', 7.5],
  ['7 1/2°', 7.5],
  ['-3', -3],
  ['\u22123 degrees', -3],
  ['- 3°', -3],
  ['12° 30′', 12.5],
  ['12°30\'36"', 12.51],
  ['12 deg 30 min 36 sec', 12.51],
  ['-12° 30′', -12.5],
  ['0.5 rad', 28.64788975654116],
  ['-0', 0],
  ['360', 360],
])('reads %j as %d degrees', (text, degrees) => {
  expect(value(text)).toBeCloseTo(degrees, 12)
})

test.each<[string, string]>([
  ['', 'no-angle'],
  ['abc', 'not-an-angle'],
  ['12 30', 'not-an-angle'],
  ['30′', 'not-an-angle'],
  ['12.5° 30′', 'not-an-angle'],
  ['12° 30″', 'not-an-angle'],
  ['12° 75′', 'not-an-angle'],
  ['12° 30 rad', 'not-an-angle'],
  ['1,234', 'not-an-angle'],
  ['1e2', 'not-an-angle'],
  ['1/0', 'not-an-angle'],
  ['12 mm', 'not-an-angle'],
  ['12°°', 'not-an-angle'],
  ['99999', 'angle-too-large'],
  ['1'.repeat(90), 'not-an-angle'],
])('refuses %j: %s', (text, code) => {
  expect(value(text)).toBe(code)
})

test('no text makes it throw (seed 24)', () => {
  const scrap = fc.string({ unit: fc.constantFrom(...'0123456789 .,/-\'"½°degrad′″'.split('')), maxLength: 12 })
  fc.assert(
    fc.property(scrap, (text) => Number.isFinite(value(text) as number) || /^[a-z-]+$/.test(value(text) as string)),
    { seed: 24, numRuns: 5000 },
  )
})
