import { describe, expect, test } from 'vitest'
import { readTogether } from './pastedTogether.ts'

const xyz = ['X', 'Y', 'Z']
const lengths = (text: string, units: 'mm' | 'inch' = 'mm') => readTogether(text, xyz, 'length', units)

describe('a point or direction all at once', () => {
  // What the texts mean is ISO 80000-1 7.3 for decimal marks, common practice (no source) for the rest.
  test.each([
    ['120, 45, -30', [120, 45, -30]],
    ['120,45,-30', [120, 45, -30]],
    ['120 45 −30', [120, 45, -30]],
    ['120\t45\t-30', [120, 45, -30]],
    ['120;45;-30', [120, 45, -30]],
    ['120,5; 45,2; -30,1', [120.5, 45.2, -30.1]],
    ['1 in, 2 in, 3 mm', [25.4, 50.8, 3]],
    ['4 3/4", 2 1/2", 7"', [120.65, 63.5, 177.8]],
    ['120\n45\n-30\n', [120, 45, -30]],
  ])('%j', (text, numbers) => expect(lengths(text)).toEqual({ ok: true, value: numbers }))

  test('in inches where a number says nothing else', () =>
    expect(lengths('1; 1/2; 10 mm', 'inch')).toEqual({ ok: true, value: [25.4, 12.7, 10] }))

  test('directions and angles', () => {
    expect(readTogether('1, 0, -0.5', xyz, 'share', 'mm')).toEqual({ ok: true, value: [1, 0, -0.5] })
    expect(readTogether('0; 7 1/2°; -90', xyz, 'angle', 'mm')).toEqual({ ok: true, value: [0, 7.5, -90] })
  })

  test.each(['120', '12,5', '26 3/8" - 12 mm', 'wide', '', '120,45', '1,234'])('%j is for one field alone', (text) =>
    expect(lengths(text)).toBeNull(),
  )

  test('too few, too many or nonsense among them is said and nothing guessed', () => {
    expect(lengths('120, 45')).toMatchObject({ ok: false, faults: [{ code: 'wrong-count', got: 2 }] })
    expect(lengths('1; 2; 3; 4')).toMatchObject({ ok: false, faults: [{ code: 'wrong-count' }] })
    expect(lengths('120, wide, 3')).toMatchObject({ ok: false, faults: [{ code: 'not-a-length', got: 'wide' }] })
    expect(lengths('1 2 3\n4 5 6')).toMatchObject({ ok: false, faults: [{ code: 'wrong-count', got: 6 }] })
  })
})
