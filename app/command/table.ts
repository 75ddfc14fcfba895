import { type Colour, coloured } from './colour.ts'

export interface Column {
  readonly head: string
  readonly align: 'left' | 'right'
  /** Left out when the terminal is too narrow; the highest goes first. Columns without it always stay. */
  readonly drop?: number
  /** May be shortened to this many characters when nothing is left to drop. */
  readonly least?: number
}
export interface Cell {
  readonly text: string
  readonly colour?: Colour
}
export interface TableOptions {
  /** Characters a line; undefined: as wide as it needs. */
  readonly width?: number
  readonly colour: boolean
}

const between = '  '

/** Rows under a head, columns apart by two blanks, fitted to the width by leaving out columns, then by shortening text. */
export function tableText(
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
  { width, colour }: TableOptions,
): string {
  const natural = columns.map((column, c) =>
    rows.reduce((most, row) => Math.max(most, lengthOf(row[c].text)), lengthOf(column.head)),
  )
  const kept = keptColumns(columns, natural, width)
  const widths = shortened(columns, natural, kept, width)
  const last = kept.at(-1)
  const line = (cells: readonly Cell[]) =>
    kept
      .map((c) => {
        const text = fitted(cells[c].text, widths[c], columns[c].align)
        return coloured(c === last ? text.trimEnd() : text, cells[c].colour, colour)
      })
      .join(between)
  const rule = kept.map((c) => '─'.repeat(widths[c])).join(between)
  return [line(columns.map(({ head }) => ({ text: head }))), rule, ...rows.map(line)].join('\n')
}

function keptColumns(columns: readonly Column[], natural: readonly number[], width: number | undefined): number[] {
  let kept = columns.map((_, c) => c)
  const droppable = kept
    .filter((c) => columns[c].drop !== undefined)
    .sort((a, b) => (columns[b].drop ?? 0) - (columns[a].drop ?? 0))
  for (const c of droppable) {
    if (width === undefined || total(kept, natural) <= width) break
    kept = kept.filter((k) => k !== c)
  }
  return kept
}

function shortened(
  columns: readonly Column[],
  natural: readonly number[],
  kept: readonly number[],
  width: number | undefined,
): number[] {
  const widths = [...natural]
  if (width === undefined) return widths
  const elastic = kept.filter((c) => columns[c].least !== undefined)
  while (total(kept, widths) > width) {
    const widest = elastic.filter((c) => widths[c] > (columns[c].least ?? 0)).sort((a, b) => widths[b] - widths[a])[0]
    if (widest === undefined) break
    widths[widest]--
  }
  return widths
}

const total = (kept: readonly number[], widths: readonly number[]) =>
  kept.reduce((sum, c) => sum + widths[c], between.length * (kept.length - 1))

function fitted(text: string, width: number, align: Column['align']): string {
  const length = lengthOf(text)
  if (length > width) return `${[...text].slice(0, Math.max(width - 1, 0)).join('')}…`
  const blanks = ' '.repeat(width - length)
  return align === 'left' ? text + blanks : blanks + text
}

const lengthOf = (text: string) => [...text].length

/** A paragraph broken at blanks to the width (at most 100 characters, for easy reading), every line behind `indent`. */
export function wrapped(text: string, width: number | undefined, indent = ''): string {
  const most = Math.max(20, Math.min(width ?? 100, 100)) - indent.length
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    if (line !== '' && lengthOf(line) + 1 + lengthOf(word) > most) {
      lines.push(line)
      line = word
    } else {
      line = line === '' ? word : `${line} ${word}`
    }
  }
  return [...lines, line].map((l) => indent + l).join('\n')
}
