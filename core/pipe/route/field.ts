import type { Bounds } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { RouteProblem } from './problem.ts'

/**
 * Room left for the centreline at a point: least distance less what is needed and less the tube's radius, mm; what is
 * more than `upTo` may be told as `upTo`.
 */
export type MarginAt = (point: Vec3, upTo: number) => number

/** Lack of room beyond a cell's reach at which nobody hopes for a way any more, mm. */
const hopeless = 12
/** What lies outside of the box counts as blocked. */
const outside = -1e3
/** Cells of a side of this share of the diameter: 20 mm for a tube of 57 mm. */
const cellShare = 0.35
const mostCells = 150_000

/**
 * The room for the centreline in cells of equal size, each asked at its middle when it is first looked at. It guides and
 * prunes; what it says is never an answer.
 */
export class Field {
  readonly size: number
  readonly counts: readonly [number, number, number]
  /** From the middle of a cell to its corners, mm: a cell whose margin lies below −reach is blocked for certain. */
  readonly reach: number
  readonly marginAt: MarginAt
  private readonly low: Vec3
  private readonly margins: Float32Array
  private readonly upTo: number
  /** Cells asked so far. */
  asked = 0

  constructor(box: Bounds, size: number, marginAt: MarginAt) {
    this.size = size
    this.reach = (size * Math.sqrt(3)) / 2
    this.upTo = 4 * size
    this.low = box.min
    const count = (k: number) => Math.max(1, Math.ceil((box.max[k] - box.min[k]) / size - 1e-9))
    this.counts = [count(0), count(1), count(2)]
    this.margins = new Float32Array(this.counts[0] * this.counts[1] * this.counts[2]).fill(Number.NaN)
    this.marginAt = marginAt
  }

  get cells(): number {
    return this.margins.length
  }

  /** The cell that holds a point; −1 outside of the box. */
  cellAt(x: number, y: number, z: number): number {
    const [nx, ny, nz] = this.counts
    const i = Math.floor((x - this.low[0]) / this.size)
    const j = Math.floor((y - this.low[1]) / this.size)
    const k = Math.floor((z - this.low[2]) / this.size)
    return i < 0 || j < 0 || k < 0 || i >= nx || j >= ny || k >= nz ? -1 : (k * ny + j) * nx + i
  }

  centre(cell: number): Vec3 {
    const [nx, ny] = this.counts
    const i = cell % nx
    const j = Math.floor(cell / nx) % ny
    const k = Math.floor(cell / (nx * ny))
    const { low, size } = this
    return [low[0] + (i + 0.5) * size, low[1] + (j + 0.5) * size, low[2] + (k + 0.5) * size]
  }

  /** Margin at the middle of a cell, mm, at most four cells' sides; where it decides nothing, as near as is known. */
  margin(cell: number): number {
    const known = this.margins[cell]
    if (!Number.isNaN(known)) return known
    this.asked++
    const margin = this.marginAt(this.centre(cell), this.upTo)
    this.margins[cell] = margin
    this.spread(cell, margin)
    return this.margins[cell]
  }

  /**
   * A margin changes by no more than the way gone. Where that leaves no doubt that a cell is free, or blocked, it is not
   * asked: it gets the least room, or the greatest lack, that it can have.
   */
  private spread(cell: number, margin: number): void {
    const sure = margin > 0 ? margin - this.reach : -margin - this.reach - hopeless
    const reach = Math.floor(sure / this.size)
    if (reach < 1) return
    const [nx, ny, nz] = this.counts
    const i = cell % nx
    const j = Math.floor(cell / nx) % ny
    const k = Math.floor(cell / (nx * ny))
    for (let c = Math.max(0, k - reach); c <= Math.min(nz - 1, k + reach); c++)
      for (let b = Math.max(0, j - reach); b <= Math.min(ny - 1, j + reach); b++)
        for (let a = Math.max(0, i - reach); a <= Math.min(nx - 1, i + reach); a++) {
          const other = (c * ny + b) * nx + a
          if (!Number.isNaN(this.margins[other])) continue
          const way = this.size * Math.hypot(a - i, b - j, c - k)
          if (way <= sure) this.margins[other] = margin > 0 ? margin - way : margin + way
        }
  }

  /** Margin of the cell that holds a point. */
  near(x: number, y: number, z: number): number {
    const cell = this.cellAt(x, y, z)
    return cell < 0 ? outside : this.margin(cell)
  }
}

/** Cells in proportion to the tube, but no more of them than a hundred and fifty thousand. */
export function fieldOf({ box, radius }: RouteProblem, marginAt: MarginAt): Field {
  const volume = [0, 1, 2].reduce((product, k) => product * Math.max(box.max[k] - box.min[k], 2 * radius), 1)
  return new Field(box, Math.max(cellShare * 2 * radius, Math.cbrt(volume / mostCells)), marginAt)
}
