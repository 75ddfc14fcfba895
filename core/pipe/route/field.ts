import type { Bounds } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { RouteProblem } from './problem.ts'

/**
 * Room left for the centreline at a point: least distance less what is needed and less the tube's radius, mm; what is
 * more than `upTo` may be told as `upTo`.
 */
export type MarginAt = (point: Vec3, upTo: number) => number

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
  cellAt(point: Vec3): number {
    const [nx, ny, nz] = this.counts
    const i = Math.floor((point[0] - this.low[0]) / this.size)
    const j = Math.floor((point[1] - this.low[1]) / this.size)
    const k = Math.floor((point[2] - this.low[2]) / this.size)
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

  /** Margin at the middle of a cell, mm, at most four cells' sides. */
  margin(cell: number): number {
    const known = this.margins[cell]
    if (!Number.isNaN(known)) return known
    this.asked++
    const margin = this.marginAt(this.centre(cell), this.upTo)
    this.margins[cell] = margin
    return this.margins[cell]
  }

  /** Margin of the cell that holds a point. */
  near(point: Vec3): number {
    const cell = this.cellAt(point)
    return cell < 0 ? outside : this.margin(cell)
  }
}

/** Cells in proportion to the tube, but no more of them than a hundred and fifty thousand. */
export function fieldOf({ box, radius }: RouteProblem, marginAt: MarginAt): Field {
  const volume = [0, 1, 2].reduce((product, k) => product * Math.max(box.max[k] - box.min[k], 2 * radius), 1)
  return new Field(box, Math.max(cellShare * 2 * radius, Math.cbrt(volume / mostCells)), marginAt)
}
