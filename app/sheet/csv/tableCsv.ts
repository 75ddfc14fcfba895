import Papa from 'papaparse'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { Cell, Column, Quantity, Table } from '../sheet.ts'

/** As a shop's spreadsheet takes it. */
export interface CsvForm {
  readonly separator: ',' | ';' | '\t'
  readonly decimal: '.' | ','
  /** A byte order mark in front: some spreadsheets take a file for UTF-8 only by it. */
  readonly mark: boolean
}

interface Unit {
  /** Ending of the column's name. */
  readonly name: string
  /** How many of ours are one of it. */
  readonly size: number
  readonly decimals: number
}

const plain = { name: '', size: 1, decimals: 6 }
const units: Record<PeopleUnits, Record<Exclude<Quantity, 'text'>, Unit>> = {
  mm: {
    length: { name: 'mm', size: 1, decimals: 6 },
    angle: { name: 'degrees', size: 1, decimals: 7 },
    mass: { name: 'kg', size: 1, decimals: 6 },
    pressure: { name: 'Pa', size: 1, decimals: 3 },
    volume: { name: 'mm3', size: 1, decimals: 3 },
    count: plain,
  },
  inch: {
    length: { name: 'inch', size: 25.4, decimals: 8 },
    angle: { name: 'degrees', size: 1, decimals: 7 },
    mass: { name: 'kg', size: 1, decimals: 6 },
    pressure: { name: 'Pa', size: 1, decimals: 3 },
    volume: { name: 'inch3', size: 25.4 ** 3, decimals: 8 },
    count: plain,
  },
}

/**
 * A table as CSV (RFC 4180, CRLF): figures to a millionth and not as rounded for print, the unit in the column's name.
 * A text that a spreadsheet would take for a formula gets an apostrophe in front, as spreadsheets write such texts.
 */
export function tableCsv({ columns, rows }: Table, read: PeopleUnits, form: CsvForm): string {
  const head = columns.map(({ id, quantity }) => named(id, quantity === 'text' ? '' : units[read][quantity].name))
  const body = rows.map((row) => row.map((cell, n) => field(cell, columns[n], read, form)))
  const text = Papa.unparse([head, ...body], { newline: '\r\n', delimiter: form.separator })
  return `${form.mark ? '\ufeff' : ''}${text}\r\n`
}

const named = (id: string, unit: string): string => (unit === '' || id.endsWith(`-${unit}`) ? id : `${id}-${unit}`)

function field({ text, value }: Cell, { quantity }: Column, read: PeopleUnits, { decimal }: CsvForm): string {
  if (value === null) return ''
  if (value === undefined || quantity === 'text') return harmless(text)
  const { size, decimals } = units[read][quantity]
  return (Number((value / size).toFixed(decimals)) + 0).toString().replace('.', decimal)
}

const harmless = (text: string): string => (/^[=+\-@\t\r]/.test(text) ? `'${text}` : text)
