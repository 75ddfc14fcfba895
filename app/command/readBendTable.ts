import Papa from 'papaparse'
import { nearestName } from '../../core/bay/nearest.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import type { BendRow } from '../../core/pipe/answer.ts'
import { plainMinus } from '../../core/units/number.ts'

/** A table as read, with where its cells stand. */
export interface ReadTable {
  readonly rows: readonly BendRow[]
  /** Line and column (the cell's number) of a value, from 1. */
  readonly placeOf: (row: number, column: string) => { readonly line: number; readonly column?: number }
}

const figureColumns = ['length', 'rotation', 'angle', 'radius'] as const
type FigureColumn = (typeof figureColumns)[number]
const besideColumns = ['pipe', 'piece', 'bend', 'set', 'elbow'] as const
type ColumnName = FigureColumn | (typeof besideColumns)[number]

/** More than any pipe has bends. */
const mostRows = 2000

/**
 * A bend table from CSV: separators comma, semicolon or tab, told apart by the head; decimal commas beside the latter two.
 * The head names `length`, `rotation`, `angle`, `radius`, each with a unit if need be (`length mm`, `radius inch`,
 * `angle °`); `rotation left-hand` counts the other way. Columns that `bends --csv` writes besides are passed over, and
 * with them other pipes' rows and single tubes'.
 * @param pipe the pipe that is meant, where the table has a column `pipe`
 * @returns rows in mm, degrees, rotation right-hand; or every fault with file, line and column
 */
export function readBendTable(text: string, file: string, pipe: string): Outcome<ReadTable> {
  const plain = text.replace(/^\uFEFF/, '')
  const separator = separatorOf(plain)
  const { data, errors } = Papa.parse<string[]>(plain, { delimiter: separator, skipEmptyLines: false })
  const lines = linesOf(data)
  const fault = (line: number, more: Omit<Fault, 'file' | 'line'>): Fault => ({ file, line, ...more })
  if (errors.length > 0)
    return bad(
      ...errors.map(({ row = 0 }) => fault(lines[row] ?? 1, { code: 'csv-quotes', expected: 'quotes in pairs' })),
    )
  const filled = data.flatMap((cells, k) =>
    cells.some((cell) => cell.trim() !== '') ? [{ cells, line: lines[k] }] : [],
  )
  if (filled.length < 2)
    return bad({ code: 'csv-no-table', file, expected: 'a head and at least one row', got: filled.length })
  if (filled.length > mostRows)
    return bad({ code: 'too-many', file, expected: `at most ${mostRows} rows`, got: filled.length })
  const head = headOf(filled[0].cells, (column, more) =>
    fault(filled[0].line, { ...(column !== undefined && { column }), ...more }),
  )
  if (!head.ok) return head
  const rows = filled.slice(1).filter(({ cells }) => isMeant(cells, head.value, pipe))
  if (rows.length === 0) return bad({ code: 'csv-no-rows', file, expected: `rows of pipe ${pipe}` })
  return rowsOf(rows, head.value, separator, fault)
}

/** Heads are words and units, which hold none of these. */
function separatorOf(text: string): string {
  const head = text.split(/\r?\n|\r/).find((line) => line.trim() !== '') ?? ''
  return head.includes('\t') ? '\t' : head.includes(';') ? ';' : ','
}

/** Number of the line on which each row begins; cells in quotes may hold line breaks. */
function linesOf(data: readonly (readonly string[])[]): number[] {
  let line = 1
  return data.map((cells) => {
    const here = line
    line += 1 + cells.reduce((sum, cell) => sum + (cell.match(/\r\n|\n|\r/g)?.length ?? 0), 0)
    return here
  })
}

interface HeadColumn {
  readonly index: number
  /** Times this it is mm, degrees, or a right-hand rotation. */
  readonly factor: number
}
type Head = ReadonlyMap<ColumnName, HeadColumn>

function headOf(
  cells: readonly string[],
  fault: (column: number | undefined, more: Omit<Fault, 'column'>) => Fault,
): Outcome<Head> {
  const names: readonly string[] = [...figureColumns, ...besideColumns]
  const head = new Map<ColumnName, HeadColumn>()
  const seen = new Set<string>()
  const faults: Fault[] = []
  for (const [index, cell] of cells.entries()) {
    const [name = '', ...more] = cell.toLowerCase().match(/[a-z]+(?:-hand)?|[°″"]/g) ?? []
    const told = (code: string, expected: string) => faults.push(fault(index + 1, { code, expected, got: cell }))
    if (!names.includes(name)) {
      const nearest = nearestName(name, names)
      const known = { code: 'csv-column', expected: names.join(', '), got: cell }
      faults.push(fault(index + 1, nearest === undefined ? known : { ...known, nearest }))
      continue
    }
    const column = name as ColumnName
    const before = seen.has(column)
    seen.add(column)
    const factor = more.length === 0 ? 1 : more.length === 1 ? (unitsOf(column)[more[0]] ?? null) : null
    if (before) told('csv-column-twice', 'each column once')
    else if (factor === null) told('csv-unit', Object.keys(unitsOf(column)).join(', ') || 'no unit')
    else head.set(column, { index, factor })
  }
  const missing = figureColumns.filter(
    (column) => !seen.has(column) && !faults.some(({ nearest }) => nearest === column),
  )
  const expected = 'length, rotation, angle and radius'
  faults.push(...missing.map((field) => fault(undefined, { code: 'csv-column-missing', field, expected })))
  return faults.length > 0 ? bad(...faults) : good(head)
}

const lengthUnits = { mm: 1, inch: 25.4, inches: 25.4, in: 25.4, '″': 25.4, '"': 25.4 }
const angleUnits = { deg: 1, degrees: 1, '°': 1 }

function unitsOf(column: ColumnName): Readonly<Record<string, number>> {
  if (column === 'length' || column === 'radius') return lengthUnits
  if (column === 'rotation') return { ...angleUnits, 'right-hand': 1, 'left-hand': -1 }
  return column === 'angle' || column === 'set' ? angleUnits : {}
}

interface FilledRow {
  readonly cells: readonly string[]
  readonly line: number
}

function isMeant(cells: readonly string[], head: Head, pipe: string): boolean {
  const at = (column: ColumnName) => (cells[head.get(column)?.index ?? -1] ?? '').trim()
  return ['', pipe].includes(at('pipe')) && ['', 'run'].includes(at('piece'))
}

function rowsOf(
  filled: readonly FilledRow[],
  head: Head,
  separator: string,
  fault: (line: number, more: Omit<Fault, 'file' | 'line'>) => Fault,
): Outcome<ReadTable> {
  const faults: Fault[] = []
  const cellsInHead = Math.max(...[...head.values()].map(({ index }) => index)) + 1
  const rows = filled.map(({ cells, line }): BendRow => {
    const extra = cells.slice(cellsInHead).findIndex((cell) => cell.trim() !== '')
    if (extra >= 0)
      faults.push(
        fault(line, {
          code: 'csv-too-many-cells',
          column: cellsInHead + extra + 1,
          expected: `${cellsInHead} as in the head`,
          got: cells.length,
        }),
      )
    const value = (column: FigureColumn): number | undefined => {
      const { index, factor } = head.get(column) as HeadColumn
      const text = (cells[index] ?? '').trim()
      if (text === '') return undefined
      const number = numberOf(text, separator)
      if (number === null)
        faults.push(
          fault(line, {
            code: 'not-a-number',
            column: index + 1,
            field: column,
            expected: numberExample(separator),
            got: text.slice(0, 40),
          }),
        )
      return number === null ? undefined : number * factor + 0
    }
    const straight = head.get('length')?.index ?? 0
    if ((cells[straight] ?? '').trim() === '')
      faults.push(
        fault(line, {
          code: 'missing-field',
          column: straight + 1,
          field: 'length',
          expected: 'a straight in every row',
        }),
      )
    const row = {
      length: value('length') ?? 0,
      rotation: value('rotation'),
      angle: value('angle'),
      radius: value('radius'),
    }
    return Object.fromEntries(Object.entries(row).filter(([, each]) => each !== undefined)) as unknown as BendRow
  })
  if (faults.length > 0) return bad(...faults)
  return good({
    rows,
    placeOf: (row, column) => {
      const index = head.get(column as ColumnName)?.index
      return { line: filled[row]?.line ?? 1, ...(index !== undefined && { column: index + 1 }) }
    },
  })
}

const numberExample = (separator: string): string =>
  separator === ',' ? 'a number with a decimal point, such as 204.75' : 'a number such as 204.75 or 204,75'

function numberOf(text: string, separator: string): number | null {
  const plain = plainMinus(text)
  const pattern = separator === ',' ? /^[+-]?(\d+\.?\d*|\.\d+)$/ : /^[+-]?(\d+[.,]?\d*|[.,]\d+)$/
  if (plain.length > 40 || !pattern.test(plain)) return null
  const value = Number(plain.replace(',', '.'))
  return Number.isFinite(value) ? value : null
}
