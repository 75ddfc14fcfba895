/** A row a·x ≥ b over a few unknowns. */
export interface Row {
  readonly a: Float64Array
  readonly b: number
}

export interface ProgramAnswer {
  /** Greatest c·x found; a guide only. */
  readonly x: Float64Array
  /** Multipliers of the rows, none negative: proofs are made from them, whatever their quality. */
  readonly weights: Float64Array
  /** The rows contradict each other in the box: `weights` are then a proof to be checked (Farkas), not multipliers. */
  readonly infeasible: boolean
}

const tiny = 1e-11

/**
 * Greatest c·x with a·x ≥ b for every row and low ≤ x ≤ high: dual simplex on a dense tableau, begun at the best corner of
 * the box. For a handful of unknowns and some dozens of rows. Never trusted: callers prove with the multipliers.
 * Source: C. E. Lemke, The dual method of solving the linear programming problem (1954), from memory.
 */
export function solveProgram(
  c: Float64Array,
  rows: readonly Row[],
  low: Float64Array,
  high: Float64Array,
): ProgramAnswer {
  const n = c.length
  const m = rows.length
  const width = n + 1
  // Unknown j is counted from its best end: x = from + sign·t, t from 0 to span.
  const sign = c.map((v) => (v > 0 ? -1 : 1))
  const from = c.map((v, j) => (v > 0 ? high[j] : low[j]))
  const cells = new Float64Array((m + n + 1) * width)
  for (let i = 0; i < m; i++) {
    const { a, b } = rows[i]
    let right = -b
    for (let j = 0; j < n; j++) {
      cells[i * width + j] = -a[j] * sign[j]
      right += a[j] * from[j]
    }
    cells[i * width + n] = right
  }
  for (let j = 0; j < n; j++) {
    cells[(m + j) * width + j] = 1
    cells[(m + j) * width + n] = high[j] - low[j]
  }
  const objective = (m + n) * width
  // Costs in terms of t: every one is 0 or worse, so the corner is dual feasible.
  for (let j = 0; j < n; j++) cells[objective + j] = -c[j] * sign[j]
  const basic = Int32Array.from({ length: m + n }, (_, i) => n + i)
  const free = Int32Array.from({ length: n }, (_, j) => j)
  const infeasible = pivots(cells, m + n, n, basic, free)
  return {
    x: pointOf(cells, basic, n, from, sign, low, high),
    weights: weightsOf(cells, basic, free, m, n, objective, infeasible),
    infeasible: infeasible >= 0,
  }
}

/** Number of the row that cannot be met, or −1. */
function pivots(cells: Float64Array, rows: number, n: number, basic: Int32Array, free: Int32Array): number {
  const width = n + 1
  for (let count = 0; count < 300; count++) {
    let row = -1
    let worst = -1e-9
    for (let i = 0; i < rows; i++) {
      const right = cells[i * width + n]
      if (right < worst) {
        worst = right
        row = i
      }
    }
    if (row < 0) return -1
    let column = -1
    let least = Infinity
    for (let j = 0; j < n; j++) {
      const cell = cells[row * width + j]
      if (cell >= -tiny) continue
      const ratio = cells[rows * width + j] / -cell
      if (ratio < least - 1e-14 || (ratio <= least && column >= 0 && free[j] < free[column])) {
        least = ratio
        column = j
      }
    }
    if (column < 0) return row
    pivot(cells, rows, n, row, column)
    const out = basic[row]
    basic[row] = free[column]
    free[column] = out
  }
  return -1
}

function pivot(cells: Float64Array, rows: number, n: number, row: number, column: number): void {
  const width = n + 1
  const from = row * width
  const p = cells[from + column]
  for (let j = 0; j < width; j++) if (j !== column) cells[from + j] /= p
  cells[from + column] = 1 / p
  for (let i = 0; i <= rows; i++) {
    if (i === row) continue
    const at = i * width
    const factor = cells[at + column]
    if (factor === 0) continue
    for (let j = 0; j < width; j++) if (j !== column) cells[at + j] -= factor * cells[from + j]
    cells[at + column] = -factor / p
  }
}

function pointOf(
  cells: Float64Array,
  basic: Int32Array,
  n: number,
  from: Float64Array,
  sign: Float64Array,
  low: Float64Array,
  high: Float64Array,
): Float64Array {
  const x = from.slice()
  for (let i = 0; i < basic.length; i++) if (basic[i] < n) x[basic[i]] += sign[basic[i]] * cells[i * (n + 1) + n]
  for (let j = 0; j < n; j++) x[j] = Math.min(high[j], Math.max(low[j], x[j]))
  return x
}

function weightsOf(
  cells: Float64Array,
  basic: Int32Array,
  free: Int32Array,
  m: number,
  n: number,
  objective: number,
  failed: number,
): Float64Array {
  const weights = new Float64Array(m)
  const at = failed >= 0 ? failed * (n + 1) : objective
  for (let j = 0; j < n; j++) {
    const slack = free[j] - n
    if (slack >= 0 && slack < m && cells[at + j] > 0) weights[slack] = cells[at + j]
  }
  // The contradicting row reads: its own slack and the weighted others, none negative, together less than 0.
  if (failed >= 0 && basic[failed] >= n && basic[failed] - n < m) weights[basic[failed] - n] = 1
  return weights
}
