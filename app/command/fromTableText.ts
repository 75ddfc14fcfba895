import type { Bay, Candidate, Pipe } from '../../core/bay/schema.ts'
import type { TableInBay } from '../../core/pipe/tableInBay.ts'
import { formatLength, type PeopleUnits } from '../../core/units/lengthText.ts'
import { atLeast } from '../wording/bendFigures.ts'
import { cautions } from '../wording/cautions.ts'
import { coloured } from './colour.ts'
import type { Io } from './io.ts'
import { type Column, tableText, wrapped } from './table.ts'
import { moveText } from '../wording/plainWords.ts'

export interface FromTable {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly pipe: Pipe
  /** As the user named it. */
  readonly file: string
  readonly made: TableInBay
  readonly written: string | null
  readonly units: PeopleUnits
}

const columns: readonly Column[] = [
  { head: 'point', align: 'left' },
  { head: 'X', align: 'right' },
  { head: 'Y', align: 'right' },
  { head: 'Z', align: 'right' },
]

/** A table's corner points in the bay, and how far its end is off the pipe's. */
export function fromTableText({ bay, candidate, pipe, file, made, written, units }: FromTable, io: Io): string {
  const { points, miss, reaches } = made
  const place = (mm: number) => formatLength(mm, units, { decimals: units === 'mm' ? 2 : 3, bare: true })
  const name = (k: number) => (k === 0 ? 'beginning' : k === points.length - 1 ? 'end' : `corner ${k}`)
  const rows = points.map((point, k) => [{ text: name(k) }, ...point.map((x) => ({ text: place(x) }))])
  const said = reaches ? '✓ reaches' : '✕ misses'
  const [start, goal] = miss.end === 'to' ? [pipe.from, pipe.to] : [pipe.to, pipe.from]
  const shift = moveText(miss.by, units, { decimals: units === 'mm' ? 2 : 3 })
  const off = `It ends ${atLeast(miss.distance, units)} from where the pipe ends there${shift === '' ? '' : ` (${shift})`}, ${angleUp(miss.angle)} off the way that it should arrive`
  const verdict = wrapped(`${said} ${goal}. ${off}.`, io.columns)
  const unit = units === 'mm' ? 'mm' : 'inches'
  const paragraphs = [
    wrapped(`${bay.name} · candidate ${candidate.id} (${candidate.name}) · ${unit}`, io.columns),
    wrapped(
      `Pipe ${pipe.id} (${pipe.name}) by ${file}: from ${start}, turned about its first straight so that its end comes nearest to ${goal}.`,
      io.columns,
    ),
    tableText(columns, rows, { width: io.columns, colour: io.colour }),
    coloured(said, reaches ? 'cyan' : 'magenta', io.colour) + verdict.slice(said.length),
    written === null ? '' : wrapped(`Wrote ${written}: pipe ${pipe.id} runs by these corners in it.`, io.columns),
    wrapped(cautions, io.columns),
  ]
  return `${paragraphs.filter((text) => text !== '').join('\n\n')}\n`
}

const angleUp = (degrees: number): string => `${Number((Math.ceil(degrees * 100 - 1e-6) / 100).toFixed(2)) + 0}°`
