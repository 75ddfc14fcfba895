import { describe, expect, test } from 'vitest'
import { fieldText, readField, readOptional, stepOf, stepped } from './quantity.ts'

describe('numbers in fields', () => {
  test.each([
    [540, 'length', 'mm', '540'],
    [120.65, 'length', 'mm', '120.65'],
    [-70.5, 'length', 'mm', '−70.5'],
    [0.0004, 'length', 'mm', '0'],
    [-0.0004, 'length', 'mm', '0'],
    [120.65, 'length', 'inch', '4 3/4'],
    [100, 'length', 'inch', '3.937'],
    [-25.4 / 64, 'length', 'inch', '−1/64'],
    [12.5, 'angle', 'mm', '12.5'],
    [0.85, 'share', 'inch', '0.85'],
    [1000, 'length', 'mm', '1000'],
  ] as const)('%d as %s in %s is %s', (value, quantity, units, text) => {
    expect(fieldText(value, quantity, units)).toBe(text)
    const read = readField(text, quantity, units)
    expect(read.ok && read.value).toBeCloseTo(value, quantity === 'length' && units === 'inch' ? 2 : 3)
  })

  test.each([
    ['4 3/4"', 'mm', 120.65],
    ['12,5 cm', 'mm', 125],
    ['26 3/8" - 12 mm', 'mm', 657.925],
    ['3', 'inch', 76.2],
  ] as const)('%s in %s is %d mm', (text, units, mm) => {
    expect(readField(text, 'length', units)).toEqual({ ok: true, value: mm })
  })

  test.each(['', 'ten', '1,234', '1/0', '5 kg'])('%j is no length, and says so', (text) => {
    expect(readField(text, 'length', 'mm').ok).toBe(false)
  })

  test('a share takes numbers only, an angle its own units too', () => {
    expect(readField('0.6', 'share', 'mm')).toEqual({ ok: true, value: 0.6 })
    expect(readField('0.6°', 'share', 'mm').ok).toBe(false)
    expect(readField('12° 30′', 'angle', 'mm')).toEqual({ ok: true, value: 12.5 })
  })

  test('an empty field is the default only where there is one', () => {
    expect(readOptional(' ', 'length', 'mm')).toEqual({ ok: true, value: undefined })
  })

  test('steps add up without dust', () => {
    expect([1, 2, 3].reduce((value) => stepped(value, stepOf('length', 'mm', 'fine')), 0)).toBe(0.3)
    expect(stepped(231, stepOf('number', 'inch', 'coarse'))).toBe(241)
    expect(readField('231 mm', 'number', 'inch').ok).toBe(false)
    expect(fieldText(stepped(25.4, stepOf('length', 'inch', 'plain')), 'length', 'inch')).toBe('1 1/16')
  })
})
