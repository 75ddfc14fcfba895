import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { sizeText, tableLength, turnText } from '../wording/bendFigures.ts'
import { inSense, type PrintedTable, type Sense, type TableRow } from '../wording/bendTables.ts'
import type { Io } from './io.ts'
import { type Column, tableText } from './table.ts'

/** Columns that are empty throughout are left out. */
export function bendTableText({ rows }: PrintedTable, sense: Sense, units: PeopleUnits, io: Io): string {
  const kept = columns.filter(
    ({ head }) => always.has(head) || rows.some((row) => cells(row, 0, sense, units)[head] !== ''),
  )
  const text = tableText(
    kept,
    rows.map((row, k) => kept.map(({ head }) => ({ text: cells(row, k, sense, units)[head] }))),
    { width: io.columns, colour: io.colour },
  )
  // A run's last row has its first cells only.
  return text.replace(/ +$/gm, '')
}

const columns: readonly (Column & { readonly head: Head })[] = [
  { head: 'bend', align: 'right' },
  { head: 'length', align: 'right' },
  { head: 'rotation', align: 'right' },
  { head: 'angle', align: 'right' },
  { head: 'radius', align: 'right' },
  { head: 'set', align: 'right' },
  { head: 'elbow', align: 'left' },
]
type Head = 'bend' | 'length' | 'rotation' | 'angle' | 'radius' | 'set' | 'elbow'
const always: ReadonlySet<Head> = new Set<Head>(['bend', 'length', 'rotation', 'angle', 'radius'])

function cells(row: TableRow, k: number, sense: Sense, units: PeopleUnits): Record<Head, string> {
  const { length, rotation, angle, radius, set, elbow } = row
  return {
    bend: angle === undefined ? 'end' : String(k + 1),
    length: tableLength(length, units),
    // Before the first bend there is nothing to turn from.
    rotation: rotation === undefined || k === 0 ? '' : turnText(inSense(rotation, sense)),
    angle: angle === undefined ? '' : turnText(angle),
    radius: radius === undefined ? '' : sizeText(radius, units, true),
    set: set === null ? '' : turnText(set),
    elbow: elbow ?? '',
  }
}
