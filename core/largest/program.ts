const mostRows = 72
const tiny = 1e-11

/**
 * Small linear programs, to be made bigger a row at a time: greatest c·x with low ≤ x ≤ high and rows a·x ≥ b.
 * Bounded dual simplex: it begins at the box's best corner, where every further row only asks for some pivots.
 * Never trusted: its multipliers serve a bound that holds for any multipliers (see `certificate.ts`).
 * Source: C. E. Lemke, The dual method of solving the linear programming problem (1954), with bounds; from memory.
 */
export class Program {
  readonly n: number
  /** The rows as given, n + 1 numbers each: a, then b. */
  readonly rows: Float64Array
  readonly x: Float64Array
  /** One a row, none negative; after `solve`. */
  readonly weights = new Float64Array(mostRows)
  /** Derivative of the optimum by each free column's unknown. */
  readonly reduced: Float64Array
  /** Which unknown (below n) or row's surplus (n + row) each column and each line stands for. */
  readonly columns: Int32Array
  private readonly lines = new Int32Array(mostRows)
  /** Column at its upper end. */
  private readonly isHigh: Uint8Array
  private readonly cells: Float64Array
  private readonly constants = new Float64Array(mostRows)
  private readonly values = new Float64Array(mostRows)
  private low: Float64Array = new Float64Array(0)
  private high: Float64Array = new Float64Array(0)
  count = 0

  constructor(n: number) {
    this.n = n
    this.rows = new Float64Array(mostRows * (n + 1))
    this.cells = new Float64Array(mostRows * n)
    this.x = new Float64Array(n)
    this.reduced = new Float64Array(n)
    this.columns = new Int32Array(n)
    this.isHigh = new Uint8Array(n)
  }

  begin(c: Float64Array, low: Float64Array, high: Float64Array): void {
    this.count = 0
    this.low = low
    this.high = high
    for (let j = 0; j < this.n; j++) {
      this.columns[j] = j
      this.isHigh[j] = c[j] >= 0 ? 1 : 0
      this.reduced[j] = c[j]
    }
  }

  /** The same rows with another objective, from the start. */
  aimAnew(c: Float64Array): void {
    const { n, count, rows, low, high } = this
    this.begin(c, low, high)
    for (let i = 0; i < count; i++) this.add(rows.subarray(i * (n + 1), i * (n + 1) + n), rows[i * (n + 1) + n])
  }

  get isFull(): boolean {
    return this.count >= mostRows - 2
  }

  isAtHigh(column: number): boolean {
    return this.isHigh[column] === 1
  }

  /** Adds a row a·x ≥ b, scaled so that its largest coefficient is 1; false where there is no room or no coefficient. */
  add(a: Float64Array, b: number): boolean {
    const { n, cells, count } = this
    if (count >= mostRows) return false
    let size = 0
    for (let j = 0; j < n; j++) size = Math.max(size, Math.abs(a[j]))
    if (!(size > 1e-300)) return false
    const scale = 1 / size
    const o = count * n
    const r = count * (n + 1)
    let constant = -b * scale
    for (let j = 0; j < n; j++) {
      cells[o + j] = 0
      this.rows[r + j] = a[j] * scale
    }
    this.rows[r + n] = b * scale
    for (let v = 0; v < n; v++) if (this.rows[r + v] !== 0) constant += this.addUnknown(v, this.rows[r + v], o)
    this.lines[count] = n + count
    this.constants[count] = constant
    this.count++
    return true
  }

  /** factor·x[v] in terms of the present columns, into the line at `o`; returns its constant. */
  private addUnknown(v: number, factor: number, o: number): number {
    const { n, cells, columns, lines, count } = this
    for (let j = 0; j < n; j++)
      if (columns[j] === v) {
        cells[o + j] += factor
        return 0
      }
    for (let i = 0; i < count; i++)
      if (lines[i] === v) {
        for (let j = 0; j < n; j++) cells[o + j] += factor * cells[i * n + j]
        return factor * this.constants[i]
      }
    return 0
  }

  /** 'impossible': the rows contradict each other; `weights` then tell how, scaled up so that they weigh for a proof. */
  solve(mostPivots = 60): 'solved' | 'impossible' | 'stopped' {
    for (let pivot = 0; pivot < mostPivots; pivot++) {
      const worst = this.worstLine()
      if (worst < 0) {
        this.readPoint()
        this.readWeights()
        return 'solved'
      }
      const rises = this.values[worst] < this.lowOf(this.lines[worst])
      const column = this.enteringColumn(worst, rises)
      if (column < 0) {
        this.readWeights()
        this.addContradiction(worst, rises)
        return 'impossible'
      }
      this.pivot(worst, column, rises)
    }
    this.readWeights()
    return 'stopped'
  }

  private lowOf(v: number): number {
    return v < this.n ? this.low[v] : 0
  }

  private highOf(v: number): number {
    return v < this.n ? this.high[v] : Infinity
  }

  private worstLine(): number {
    const { n, cells, columns, lines, isHigh, values } = this
    let worst = -1
    let by = 1e-9
    for (let i = 0; i < this.count; i++) {
      let value = this.constants[i]
      const o = i * n
      for (let j = 0; j < n; j++) {
        const v = columns[j]
        if (v < n) value += cells[o + j] * (isHigh[j] === 1 ? this.high[v] : this.low[v])
      }
      values[i] = value
      const out = Math.max(this.lowOf(lines[i]) - value, value - this.highOf(lines[i]))
      if (out > by) {
        by = out
        worst = i
      }
    }
    return worst
  }

  private enteringColumn(line: number, rises: boolean): number {
    const { n, cells, columns, isHigh, reduced } = this
    let best = -1
    let least = Infinity
    let size = 0
    for (let j = 0; j < n; j++) {
      const v = columns[j]
      if (v < n && this.high[v] - this.low[v] < 1e-12) continue
      const cell = rises ? cells[line * n + j] : -cells[line * n + j]
      if (isHigh[j] === 1 ? cell > -tiny : cell < tiny) continue
      const ratio = Math.abs(reduced[j] / cell)
      if (ratio < least - 1e-12 || (ratio <= least + 1e-12 && Math.abs(cell) > size)) {
        least = ratio
        best = j
        size = Math.abs(cell)
      }
    }
    return best
  }

  private pivot(line: number, column: number, rises: boolean): void {
    const { n, cells, reduced, constants, columns, lines } = this
    const o = line * n
    const inverse = 1 / cells[o + column]
    for (let i = 0; i < this.count; i++) {
      if (i === line) continue
      const q = i * n
      const factor = cells[q + column] * inverse
      if (factor === 0) continue
      for (let j = 0; j < n; j++) cells[q + j] -= factor * cells[o + j]
      cells[q + column] = factor
      constants[i] -= factor * constants[line]
    }
    const factor = reduced[column] * inverse
    for (let j = 0; j < n; j++) reduced[j] -= factor * cells[o + j]
    reduced[column] = factor
    for (let j = 0; j < n; j++) cells[o + j] *= -inverse
    cells[o + column] = inverse
    constants[line] *= -inverse
    const entering = columns[column]
    columns[column] = lines[line]
    lines[line] = entering
    this.isHigh[column] = rises ? 0 : 1
  }

  private readPoint(): void {
    const { n, x, columns, lines } = this
    for (let j = 0; j < n; j++)
      if (columns[j] < n) x[columns[j]] = this.isHigh[j] === 1 ? this.high[columns[j]] : this.low[columns[j]]
    for (let i = 0; i < this.count; i++) if (lines[i] < n) x[lines[i]] = this.values[i]
    for (let j = 0; j < n; j++) x[j] = Math.min(this.high[j], Math.max(this.low[j], x[j]))
  }

  private readWeights(): void {
    const { n, weights, columns, reduced } = this
    weights.fill(0, 0, this.count)
    for (let j = 0; j < n; j++) if (columns[j] >= n && reduced[j] < 0) weights[columns[j] - n] = -reduced[j]
  }

  /** Adds a large multiple of the line's ray: any multiple makes a valid bound, and a large one shows the contradiction. */
  private addContradiction(line: number, rises: boolean): void {
    const { n, weights, columns, cells, lines } = this
    const much = 50
    if (lines[line] >= n) weights[lines[line] - n] += much
    for (let j = 0; j < n; j++) {
      if (columns[j] < n) continue
      const by = (rises ? -cells[line * n + j] : cells[line * n + j]) * much
      if (by > 0) weights[columns[j] - n] += by
    }
  }
}
