/**
 * The greatest least value of affine rows over a box: maximise m with m ≤ a·s + b for every row and low ≤ s ≤ high.
 * At most a few variables and some dozens of rows: a dense tableau, solved from the corner `low`.
 */
export interface AffineRow {
  /** One slope a variable. */
  readonly slope: Float64Array
  readonly offset: number
}

export interface GreatestLeast {
  /** Where the least row is greatest, up to rounding. */
  readonly at: Float64Array
  /** Multipliers of the rows, none negative, together 1. */
  readonly weights: Float64Array
  /** Proved: nowhere in the box is the least row greater. Rounding is on the safe side. */
  readonly bound: number
}

const tiny = 1e-12

/**
 * @param rows at least one
 * @returns the point found, and a bound that holds whatever the point's quality: any multipliers give a valid one
 * Source: linear programming duality; primal simplex with Bland's rule: textbook, no source.
 */
export function greatestLeast(rows: readonly AffineRow[], low: Float64Array, high: Float64Array): GreatestLeast {
  const simplex = new Tableau(rows, low, high)
  simplex.solve()
  const at = simplex.point(low, high)
  const weights = simplex.weights()
  return { at, weights, bound: boundOf(rows, weights, low, high) }
}

/** Weighted sum of the rows at its highest corner: closed form, whatever the weights. */
function boundOf(rows: readonly AffineRow[], weights: Float64Array, low: Float64Array, high: Float64Array): number {
  let bound = 0
  let size = 0
  rows.forEach((row, i) => {
    bound += weights[i] * row.offset
    size += weights[i] * Math.abs(row.offset)
  })
  for (let k = 0; k < low.length; k++) {
    let slope = 0
    for (let i = 0; i < rows.length; i++) slope += weights[i] * rows[i].slope[k]
    bound += slope * (slope > 0 ? high[k] : low[k])
    size += Math.abs(slope) * Math.max(Math.abs(low[k]), Math.abs(high[k]))
  }
  return bound + 1e-13 * (size + 1)
}

/** Columns: the shifts from `low`, and m above its least value at that corner. Rows: the affine rows, then the box's far sides. */
class Tableau {
  private readonly columns: number
  private readonly count: number
  private readonly given: number
  private readonly cells: Float64Array
  private readonly width: number
  /** Which unknown each row stands for: below `columns` a column's, else a slack. */
  private readonly basic: Int32Array
  /** Which unknown each column stands for. */
  private readonly free: Int32Array

  constructor(rows: readonly AffineRow[], low: Float64Array, high: Float64Array) {
    const d = low.length
    this.given = rows.length
    this.columns = d + 1
    this.count = rows.length + d
    this.width = this.columns + 1
    this.cells = new Float64Array((this.count + 1) * this.width)
    this.basic = Int32Array.from({ length: this.count }, (_, i) => this.columns + i)
    this.free = Int32Array.from({ length: this.columns }, (_, j) => j)
    const starts = rows.map((row) => row.slope.reduce((sum, a, k) => sum + a * low[k], row.offset))
    const least = Math.min(...starts)
    rows.forEach((row, i) => {
      for (let k = 0; k < d; k++) this.cells[i * this.width + k] = -row.slope[k]
      this.cells[i * this.width + d] = 1
      this.cells[i * this.width + d + 1] = starts[i] - least
    })
    for (let k = 0; k < d; k++) {
      const at = (rows.length + k) * this.width
      this.cells[at + k] = 1
      this.cells[at + d + 1] = high[k] - low[k]
    }
    // Last row: the objective, its negative costs.
    this.cells[this.count * this.width + d] = -1
  }

  solve(): void {
    for (let pivots = 0; pivots < 400; pivots++) {
      const column = this.entering()
      if (column < 0) return
      const row = this.leaving(column)
      if (row < 0) return
      this.pivot(row, column)
    }
  }

  /** Bland: the unknown of least number among those that help; never circles. */
  private entering(): number {
    const objective = this.count * this.width
    let best = -1
    for (let j = 0; j < this.columns; j++)
      if (this.cells[objective + j] < -tiny && (best < 0 || this.free[j] < this.free[best])) best = j
    return best
  }

  private leaving(column: number): number {
    let best = -1
    let least = Infinity
    for (let i = 0; i < this.count; i++) {
      const cell = this.cells[i * this.width + column]
      if (cell <= tiny) continue
      const ratio = this.cells[i * this.width + this.columns] / cell
      if (ratio < least || (ratio === least && this.basic[i] < this.basic[best])) {
        least = ratio
        best = i
      }
    }
    return best
  }

  private pivot(row: number, column: number): void {
    const { cells, width } = this
    const from = row * width
    const p = cells[from + column]
    for (let j = 0; j < width; j++) if (j !== column) cells[from + j] /= p
    cells[from + column] = 1 / p
    for (let i = 0; i <= this.count; i++) {
      if (i === row) continue
      const at = i * width
      const factor = cells[at + column]
      if (factor === 0) continue
      for (let j = 0; j < width; j++) if (j !== column) cells[at + j] -= factor * cells[from + j]
      cells[at + column] = -factor / p
    }
    const out = this.basic[row]
    this.basic[row] = this.free[column]
    this.free[column] = out
  }

  point(low: Float64Array, high: Float64Array): Float64Array {
    const at = low.slice()
    for (let i = 0; i < this.count; i++) {
      const k = this.basic[i]
      if (k < low.length)
        at[k] = Math.min(high[k], Math.max(low[k], low[k] + this.cells[i * this.width + this.columns]))
    }
    return at
  }

  weights(): Float64Array {
    const weights = new Float64Array(this.given)
    let sum = 0
    for (let j = 0; j < this.columns; j++) {
      const slack = this.free[j] - this.columns
      const value = this.cells[this.count * this.width + j]
      if (slack < 0 || slack >= this.given || !(value > 0)) continue
      weights[slack] = value
      sum += value
    }
    // Nothing usable came out: the least row at its best corner is still a bound.
    if (!(sum > 0)) weights[0] = sum = 1
    for (let i = 0; i < weights.length; i++) weights[i] /= sum
    return weights
  }
}
