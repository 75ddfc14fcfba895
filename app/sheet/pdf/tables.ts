import type { Content, CustomTableLayout, TableCell } from 'pdfmake/interfaces'
import type { Cell, Column, Table } from '../sheet.ts'
import { verdictMark } from './marks.ts'
import { pointsPerMm } from './page.ts'
import { lettersWidth } from './letters.ts'

/** Sizes that are tried, pt, until the columns that want their natural width leave room for the others. */
const sizes = [8, 7.5, 7, 6.5, 6]
const padding = 3
const markWidth = 8
/** What a column that shares the free width should have at least, pt a share. */
const leastShare = 46

const rule = '#000000'
const hairline = '#9a9a9a'

/** Thin rules between rows, a wide one below the head; none upright. */
const ruled: CustomTableLayout = {
  hLineWidth: (row, { table }) => (row <= 1 || row === table.body.length ? 0.7 : 0.25),
  hLineColor: (row, { table }) => (row <= 1 || row === table.body.length ? rule : hairline),
  vLineWidth: () => 0,
  paddingLeft: () => padding,
  paddingRight: () => padding,
  paddingTop: () => 1.6,
  paddingBottom: () => 1.4,
}

/**
 * A table with its head repeated on each page; rows are never torn apart.
 * @param width of the room, pt
 */
export function tableContent(table: Table, width: number): Content {
  const size = sizes.find((size) => fits(table, width, size)) ?? sizes[sizes.length - 1]
  const { rowHeight } = table
  return {
    table: {
      headerRows: 1,
      dontBreakRows: true,
      keepWithHeaderRows: 1,
      widths: widthsOf(table, width, size),
      ...(rowHeight !== undefined && {
        heights: (row: number) => (row === 0 ? 'auto' : rowHeight * pointsPerMm),
      }),
      body: [
        table.columns.map((column) => ({ text: column.head, bold: true, alignment: alignOf(column) })),
        ...table.rows.map((row) => row.map((cell, n) => cellContent(cell, table.columns[n], size))),
      ],
    },
    layout: ruled,
    fontSize: size,
    margin: [0, 2, 0, 8],
  }
}

/** As printed: an unknown figure is a dash and never an empty place, which would read as one to be filled in. */
export const cellText = ({ text, value }: Cell): string => (text === '' && value === null ? '–' : text)

function cellContent(cell: Cell, column: Column, size: number): TableCell {
  const text = { text: cellText(cell), alignment: alignOf(column) }
  if (!cell.verdict) return text
  const mark = { svg: verdictMark(cell.verdict), width: markWidth, height: markWidth, margin: [0, 0.5, 0, 0] as const }
  return {
    columns: [
      { ...mark, margin: [...mark.margin] },
      { ...text, alignment: 'left', width: '*' },
    ],
    columnGap: 3,
    fontSize: size,
  }
}

const alignOf = ({ align, quantity }: Column): 'left' | 'right' => align ?? (quantity === 'text' ? 'left' : 'right')
const shareOf = ({ wide }: Column): number => wide ?? 1

/** What a column takes without a break in any of its lines; of the head without one inside a word. */
function natural({ columns, rows }: Table, n: number, size: number): number {
  const words = columns[n].head.split(/\s+/).map((word) => lettersWidth(word, size, true))
  const cells = rows.map((row) => {
    const lines = cellText(row[n]).split('\n')
    return Math.max(...lines.map((line) => lettersWidth(line, size))) + (row[n].verdict ? markWidth + 5 : 0)
  })
  return Math.max(...words, ...cells) + 1
}

function measured(table: Table, width: number, size: number) {
  const free = width - table.columns.length * 2 * padding
  const fixed = table.columns.map((column, n) => (shareOf(column) === 0 ? natural(table, n, size) : 0))
  const left = free - fixed.reduce((sum, one) => sum + one, 0)
  const shares = table.columns.reduce((sum, column) => sum + shareOf(column), 0)
  return { free, fixed, left, shares }
}

function fits(table: Table, width: number, size: number): boolean {
  const { left, shares } = measured(table, width, size)
  return shares === 0 ? left >= 0 : left / shares >= leastShare
}

function widthsOf(table: Table, width: number, size: number): number[] {
  const { free, fixed, left, shares } = measured(table, width, size)
  if (shares > 0 && left / shares >= leastShare / 2)
    return table.columns.map((column, n) => fixed[n] || (left * shareOf(column)) / shares)
  // Even the smallest letters leave too little: everything gives way in proportion, and breaks where it must.
  const wanted = table.columns.map((column, n) => fixed[n] || leastShare * shareOf(column))
  const sum = wanted.reduce((total, one) => total + one, 0)
  return shares === 0 && left >= 0 ? fixed : wanted.map((one) => (one * free) / sum)
}
