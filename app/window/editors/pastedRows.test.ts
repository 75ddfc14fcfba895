import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { isTable, pastedRows } from './pastedRows.ts'

const rows = (text: string, most = 3, units: 'mm' | 'inch' = 'mm') => {
  const read = pastedRows(text, most, units)
  return read.ok ? read.value : read.faults.map(({ code, line, column }) => [code, line, column])
}

describe('rows that are pasted', () => {
  test.each<[string, string, number[][]]>([
    [
      'tabs, as spreadsheets give them',
      '1\t2\t3\r\n4\t5.5\t-6\r\n',
      [
        [1, 2, 3],
        [4, 5.5, -6],
      ],
    ],
    [
      'semicolons with decimal commas',
      '1,5;2,25;−3\n4;5;6',
      [
        [1.5, 2.25, -3],
        [4, 5, 6],
      ],
    ],
    [
      'commas between the cells',
      '1.5,2.25,-3\n4,5,6',
      [
        [1.5, 2.25, -3],
        [4, 5, 6],
      ],
    ],
    ['commas and spaces', '1, 2, 3', [[1, 2, 3]]],
    [
      'spaces',
      '  10   20 30\n 1,5 2,5 3,5',
      [
        [10, 20, 30],
        [1.5, 2.5, 3.5],
      ],
    ],
    ['inch fractions', '4 3/4"\t26 3/8" - 12 mm\t1/2 in', [[120.65, 657.925, 12.7]]],
    ['cells in quotes, as an inch mark makes them', '"4 3/4"""\t"1"""\t2', [[120.65, 25.4, 2]]],
    ['a head of words', 'X (mm)\tY\tZ\n1\t2\t3', [[1, 2, 3]]],
    [
      'rows that are numbered',
      '1\t10\t20\t30\n2\t40\t50\t60',
      [
        [10, 20, 30],
        [40, 50, 60],
      ],
    ],
    [
      'rows that are named',
      'A;10;20;30\nB;40;50;60',
      [
        [10, 20, 30],
        [40, 50, 60],
      ],
    ],
    [
      'empty rows and cells at the end',
      '1\t2\t3\t\t\n\n4\t5\t6\n\n',
      [
        [1, 2, 3],
        [4, 5, 6],
      ],
    ],
    ['12,500 beside a comma that is surely decimal', '12,500\t3,25\t0', [[12.5, 3.25, 0]]],
  ])('%s', (_, text, expected) => {
    expect(rows(text)).toEqual(expected)
  })

  test('bare numbers are in the units that are shown', () => {
    expect(rows('1\t1/2\t3', 3, 'inch')).toEqual([[25.4, 12.7, 76.2]])
    expect(rows('1\t2\n3\t4', 2, 'inch')).toEqual([
      [25.4, 50.8],
      [76.2, 101.6],
    ])
  })

  test.each<[string, string, unknown]>([
    ['nothing', ' \n ', [['no-length', undefined, undefined]]],
    ['words', '1\t2\t3\n4\tfive\t6', [['not-a-length', 2, 2]]],
    [
      'thousands or decimals',
      '12,500\t3\t1\n1,000\t2\t3',
      [
        ['ambiguous-length', 1, 1],
        ['ambiguous-length', 2, 1],
      ],
    ],
    ['rows of unlike length', '1\t2\t3\n4\t5', [['wrong-count', 2, undefined]]],
    [
      'rows that are too long',
      '1\t2\t3\t4\n9\t6\t7\t8',
      [
        ['wrong-count', 1, undefined],
        ['wrong-count', 2, undefined],
      ],
    ],
    ['a gap in the middle', '1\t\t3', [['no-length', 1, 2]]],
    ['something divided by nothing', '1\t1/0\t3', [['zero-denominator', 1, 2]]],
  ])('%s: refused, with its place', (_, text, expected) => {
    expect(rows(text)).toEqual(expected)
  })

  test('too much is refused before it is read', () => {
    expect(rows('1\t2\t3\n'.repeat(5001))).toEqual([['too-many', undefined, undefined]])
    expect(rows('1'.repeat(1_000_001))).toEqual([['too-long', undefined, undefined]])
  })

  test('what a spreadsheet writes comes back, with points and with commas (seed 71)', () => {
    const cell = fc.integer({ min: -2_000_000, max: 2_000_000 }).map((n) => n / 100)
    const table = fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 12 })
    const mark = fc.constantFrom('.', ',')
    fc.assert(
      fc.property(table, mark, fc.constantFrom('\t', ';'), (values, decimal, between) => {
        const text = values.map((row) => row.map((x) => x.toFixed(2).replace('.', decimal)).join(between)).join('\r\n')
        expect(rows(text)).toEqual(values.map((row) => row.map((x) => x + 0)))
      }),
      { seed: 71, numRuns: 400 },
    )
  })

  test('no text makes it throw (seed 72)', () => {
    const scrap = fc.string({ unit: fc.constantFrom(...'0123456789 .,;\t\n\r/-"½mx'.split('')), maxLength: 40 })
    let taken = 0
    fc.assert(
      fc.property(scrap, (text) => {
        const read = pastedRows(text, 3, 'mm')
        if (!read.ok) return
        taken++
        for (const row of read.value) {
          expect(row).toHaveLength(read.value[0].length)
          for (const x of row) expect(Number.isFinite(x)).toBe(true)
        }
      }),
      { seed: 72, numRuns: 4000 },
    )
    expect(taken).toBeGreaterThan(40)
  })
})

test('one cell is no table', () => {
  expect(isTable('26 3/8" - 12 mm\n')).toBe(false)
  expect(isTable('1\t2')).toBe(true)
  expect(isTable('1\n2')).toBe(true)
})
