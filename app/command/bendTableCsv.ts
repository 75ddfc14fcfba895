import Papa from 'papaparse'
import type { PipeBends } from '../../core/pipe/answer.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { inSense, type PrintedTable, type Sense, type TableRow, tablesOf } from '../wording/bendTables.ts'

export interface CsvPipe {
  readonly pipe: PipeBends
  readonly sense: Sense
}

/**
 * The tables of pipes as one CSV (RFC 4180: commas, CRLF, decimal points), to a millionth of a millimetre.
 * `piece` is `run` for a whole pipe, and where elbows part it a number for each tube besides; `readBendTable` reads the
 * runs. Pipes whose benders count rotations differently all have them in the sense of the first one, which the head says.
 */
export function bendTableCsv(
  pipes: readonly CsvPipe[],
  { units, fromEnd }: { readonly units: PeopleUnits; readonly fromEnd: boolean },
): string {
  const sense = pipes[0]?.sense ?? 'right-hand'
  const unit = units === 'mm' ? 'mm' : 'inch'
  const head = [
    'pipe',
    'piece',
    'bend',
    `length ${unit}`,
    `rotation ${sense}`,
    'angle',
    `radius ${unit}`,
    'set',
    'elbow',
  ]
  const rows = pipes.flatMap(({ pipe }) =>
    (pipe.table.length === 0 ? [] : tablesOf(pipe, fromEnd)).flatMap((table) => csvRows(pipe.id, table, sense, units)),
  )
  return `${Papa.unparse([head, ...rows], { newline: '\r\n' })}\r\n`
}

const csvRows = (pipe: string, { piece, rows }: PrintedTable, sense: Sense, units: PeopleUnits): string[][] =>
  rows.map((row, k) => [
    pipe,
    String(piece),
    row.angle === undefined ? 'end' : String(k + 1),
    ...figures(row, sense, units),
  ])

function figures(
  { length, rotation, angle, radius, set, elbow }: TableRow,
  sense: Sense,
  units: PeopleUnits,
): string[] {
  const lengthCell = (mm: number | undefined) =>
    units === 'mm' ? cell(mm, 6) : cell(mm === undefined ? mm : mm / 25.4, 8)
  return [
    lengthCell(length),
    cell(rotation === undefined ? undefined : inSense(rotation, sense), 7),
    cell(angle, 7),
    lengthCell(radius),
    cell(set ?? undefined, 7),
    elbow ?? '',
  ]
}

/** Without needless zeros. */
const cell = (value: number | undefined, decimals: number): string =>
  value === undefined ? '' : String(Number(value.toFixed(decimals)) + 0)
