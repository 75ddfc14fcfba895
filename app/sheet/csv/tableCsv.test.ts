import Papa from 'papaparse'
import { describe, expect, it } from 'vitest'
import type { Table } from '../sheet.ts'
import { type CsvForm, tableCsv } from './tableCsv.ts'

const table: Table = {
  id: 'gaps',
  columns: [
    { id: 'keep-out', head: 'Keep-out', quantity: 'text' },
    { id: 'gap', head: 'Gap, mm', quantity: 'length' },
    { id: 'turn', head: 'Turn, °', quantity: 'angle' },
    { id: 'count', head: 'Count', quantity: 'count' },
  ],
  rows: [
    [
      { text: 'Lamp; left, "near" one' },
      { text: '12.3', value: 12.3456789 },
      { text: '90°', value: 90 },
      { text: '2', value: 2 },
    ],
    [{ text: '=1+1' }, { text: '−0.1', value: -0.1 }, { text: '', value: null }, { text: '1', value: 1 }],
    [{ text: '@a\nb' }, { text: 'not given in the bay' }, { text: '', value: null }, { text: '1', value: 1 }],
  ],
}

const forms: CsvForm[] = ([',', ';', '\t'] as const).flatMap((separator) =>
  (['.', ','] as const).flatMap((decimal) => [false, true].map((mark) => ({ separator, decimal, mark }))),
)

/** RFC 4180, read by a machine of its own: fields, quotes doubled inside quotes, CRLF between records. */
function readBack(text: string, separator: string): string[][] {
  const rows: string[][] = [['']]
  let quoted = false
  const put = (sign: string) => {
    const row = rows[rows.length - 1]
    row[row.length - 1] += sign
  }
  for (let at = 0; at < text.length; at++) {
    const sign = text[at]
    if (quoted && sign === '"' && text[at + 1] === '"') put(text[++at])
    else if (sign === '"') quoted = !quoted
    else if (quoted) put(sign)
    else if (sign === separator) rows[rows.length - 1].push('')
    else if (sign === '\r' && text[at + 1] === '\n') {
      at++
      rows.push([''])
    } else put(sign)
  }
  return rows.slice(0, -1)
}

describe('tableCsv', () => {
  it.each(forms)('reads back whole with $separator, decimals $decimal, mark $mark', (form) => {
    const text = tableCsv(table, 'mm', form)
    expect(text.startsWith('\ufeff')).toBe(form.mark)
    const rows = readBack(text.replace('\ufeff', ''), form.separator)
    const point = (number: string) => number.replace('.', form.decimal)
    expect(rows).toEqual([
      ['keep-out', 'gap-mm', 'turn-degrees', 'count'],
      ['Lamp; left, "near" one', point('12.345679'), '90', '2'],
      ["'=1+1", point('-0.1'), '', '1'],
      ["'@a\nb", 'not given in the bay', '', '1'],
    ])
  })

  it.each(forms)('is told apart by a reader that guesses: $separator, decimals $decimal', (form) => {
    const { data, meta } = Papa.parse<string[]>(tableCsv(table, 'mm', form).replace('\ufeff', ''), {
      skipEmptyLines: true,
    })
    expect(meta.delimiter).toBe(form.separator)
    expect(data.map((row) => row.length)).toEqual([4, 4, 4, 4])
  })

  it('has inches in decimals, exact to a hundred-millionth', () => {
    const text = tableCsv(table, 'inch', { separator: ',', decimal: '.', mark: false })
    const [head, row] = readBack(text, ',')
    expect(head[1]).toBe('gap-inch')
    // 25.4 mm are an inch exactly: international yard and pound agreement of 1959.
    expect(Number(row[1]) * 25.4).toBeCloseTo(12.3456789, 6)
  })

  it('never lets a name of a bay begin a formula, and leaves negative numbers numbers', () => {
    // What spreadsheets take for the beginning of one: OWASP, CSV Injection (from memory).
    for (const start of ['=', '+', '-', '@', '\t', '\r']) {
      const named = { ...table, rows: [[{ text: `${start}cmd` }, { text: '', value: -2 }, { text: '' }, { text: '' }]] }
      const [, row] = readBack(tableCsv(named, 'mm', { separator: ';', decimal: '.', mark: false }), ';')
      expect(row[0]).toBe(`'${start}cmd`)
      expect(row[1]).toBe('-2')
    }
  })
})
