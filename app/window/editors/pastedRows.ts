import Papa from 'papaparse'
import { bad, type Fault, good, type Outcome } from '../../../core/fault.ts'
import { readExpression } from '../../../core/units/expression.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { Rows } from './gridRows.ts'

/** More is no list of points that anybody measured by hand. */
const mostRows = 5000
const longestText = 1_000_000

/**
 * Rows of lengths as they come from a spreadsheet, a letter or a file: cells apart by tabs, semicolons, commas or spaces;
 * decimal commas, inch fractions and sums as everywhere. A first row of words is a head and passed over, and so is a
 * first column that only numbers or names the rows.
 * @param most cells that a row may have; all rows have equally many
 * @param units what a bare number is in
 * @returns rows in mm; or every fault with `line` and `column` (the cell's number), both from 1
 */
export const pastedRows = (text: string, most: number, units: PeopleUnits): Outcome<Rows> =>
  rowsOf(text, most, (cell) => readExpression(cell, units))

/** The same of any numbers. @param read what a cell says */
export function rowsOf(text: string, most: number, read: (cell: string) => Outcome<number>): Outcome<Rows> {
  if (text.length > longestText)
    return bad({ code: 'too-long', expected: `at most ${longestText} characters`, got: text.length })
  const cells = cellsOf(text.replace(/^\uFEFF/, ''), most)
  if (cells.length === 0) return bad({ code: 'no-length', expected: 'numbers in rows' })
  if (cells.length > mostRows) return bad({ code: 'too-many', expected: `at most ${mostRows} rows`, got: cells.length })
  const isHead =
    cells.length > 1 && cells[0].cells.every((cell) => cell === '' || (/^[^\d]/.test(cell) && !read(cell).ok))
  const body = withoutLabels(isHead ? cells.slice(1) : cells, most)
  const commas = hasDecimalCommas(body)
  const width = body[0].cells.length
  const faults: Fault[] = []
  const rows = body.map(({ line, cells: row }) => {
    if (row.length !== width || width > most) {
      const expected = width > most ? `at most ${most} numbers in a row` : `${width} numbers, as in the first row`
      faults.push({ code: 'wrong-count', line, expected, got: row.length })
      return []
    }
    return row.map((cell, k) => {
      const length = read(commas ? cell.replace(/,(?=\d)/g, '.') : cell)
      if (length.ok) return length.value
      const { column: _, ...fault } = length.faults[0]
      faults.push({ ...fault, line, column: k + 1 })
      return 0
    })
  })
  return faults.length > 0 ? bad(...faults.slice(0, 5)) : good(rows)
}

/** Whether text is more than one cell: a single one is typed into its field like any other. */
export const isTable = (text: string): boolean => /[\t;\n]/.test(text.trim())

interface Row {
  readonly line: number
  readonly cells: readonly string[]
}

function cellsOf(text: string, most: number): Row[] {
  const lines = text.split(/\r\n|\n|\r/).filter((line) => line.trim() !== '')
  const split = splitter(lines, most)
  // A cell with an inch mark comes out of a spreadsheet in quotes, and only there quotes mean that.
  const { data } = Papa.parse<string[]>(text, {
    delimiter: split === ' ' ? '\t' : split,
    ...(split === ' ' && { beforeFirstChunk: (chunk: string) => chunk.replace(/[^\S\r\n]+(?=\S)/g, '\t') }),
  })
  return data.flatMap((row, k) => {
    const cells = row.map((cell) => cell.trim())
    while (cells.at(-1) === '') cells.pop()
    while (split === ' ' && cells[0] === '') cells.shift()
    return cells.length > 0 ? [{ line: k + 1, cells }] : []
  })
}

/** A comma parts cells only where every row then has as many as it may have; otherwise it is in the numbers. */
function splitter(lines: readonly string[], most: number): '\t' | ';' | ',' | ' ' {
  if (lines.some((line) => line.includes('\t'))) return '\t'
  if (lines.some((line) => line.includes(';'))) return ';'
  const commas = lines.map((line) => line.split(',').length)
  if (commas.some((n) => n > 1) && commas.every((n) => n === most || n === most + 1)) return ','
  // A space is also inside 4 3/4", and before a unit.
  const words = lines.map((line) => line.trim().split(/\s+/))
  const bare = words.every((row) => row.every((word) => /^[^a-z/"'″′]*$/i.test(word) || /^[a-z]+\d*$/i.test(word)))
  return bare && words.some((row) => row.length > 1) ? ' ' : ','
}

/** Without a first column that counts the rows or names them. */
function withoutLabels(rows: readonly Row[], most: number): readonly Row[] {
  const all = rows.every(({ cells }) => cells.length === most + 1)
  if (!all) return rows
  const first = rows.map(({ cells }) => cells[0])
  // Of a single row nobody can tell a count from a number too many.
  const counts =
    rows.length > 1 && first.every((cell, k) => Number(cell) === Number(first[0]) + k && /^\d+\.?$/.test(cell))
  const names = first.every((cell) => /^[a-z]/i.test(cell))
  return counts || names ? rows.map(({ line, cells }) => ({ line, cells: cells.slice(1) })) : rows
}

/**
 * Whether commas are decimal marks throughout: some comma can be nothing else, and there is no point anywhere.
 * 12,500 beside 3,25 is then twelve and a half, and not twelve thousand.
 */
function hasDecimalCommas(rows: readonly Row[]): boolean {
  const cells = rows.flatMap((row) => row.cells)
  const sure = cells.some((cell) => /(^|[^\d])0,\d|\d{4,},\d|,\d{1,2}(?!\d)|,\d{4,}/.test(cell))
  return sure && !cells.some((cell) => /\d\.\d/.test(cell) || /\d,\d{3},/.test(cell))
}
