/** Rows of numbers that a grid edits: points of a list, corners of an outline. */
export type Rows = readonly (readonly number[])[]

/** Nearer than this a whole millimetre might be the neighbour itself, mm. */
const near = 4

/**
 * Where a new row starts, so that the list stays one that makes a solid: half-way between its neighbours; before the first
 * and after the last one as far on as the last step went. Whole millimetres where the neighbours are not too near.
 * @param index the place that it gets
 */
export function freshRow(rows: Rows, index: number): readonly number[] {
  const [before, after] = [rows[index - 1], rows[index]]
  if (before && after) return rounded(mixed(before, after, 0.5), before, after)
  const [one, two] = before ? [rows[index - 2], before] : [rows[1], after]
  if (!one || !two) return two ?? one ?? [0, 0, 0]
  return rounded(mixed(one, two, 2), one, two)
}

const mixed = (a: readonly number[], b: readonly number[], t: number) => a.map((x, k) => x + t * (b[k] - x))

function rounded(row: readonly number[], a: readonly number[], b: readonly number[]): readonly number[] {
  const apart = Math.hypot(...a.map((x, k) => x - b[k]))
  return apart < near ? row : row.map((mm) => Math.round(mm) + 0)
}

export const withRow = (rows: Rows, index: number, row: readonly number[]): Rows => [
  ...rows.slice(0, index),
  row,
  ...rows.slice(index),
]

export const withoutRow = (rows: Rows, index: number): Rows => rows.filter((_, i) => i !== index)

/**
 * Rows with a block of numbers laid over them, its first number at a cell; what reaches beyond the last row makes new ones.
 * @returns null where new rows would lack some of their numbers
 */
export function pastedOver(rows: Rows, at: { row: number; column: number }, block: Rows, columns: number): Rows | null {
  const isWhole = at.column === 0 && block.every((row) => row.length === columns)
  if (at.row + block.length > rows.length && !isWhole) return null
  const over = rows.map((row, i) => {
    const laid = block[i - at.row]
    return laid ? row.map((x, k) => laid[k - at.column] ?? x) : row
  })
  return [...over, ...block.slice(Math.max(0, rows.length - at.row))]
}
