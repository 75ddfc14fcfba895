import type { Bounds } from '../../shape/form.ts'
import { length, type Vec3 } from '../../shape/vec.ts'
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
  /** Longest side of a cell, mm. */
  readonly size: number
  readonly counts: readonly [number, number, number]
  /** From the middle of a cell to its corners, mm: a cell whose margin lies below −reach is blocked for certain. */
  readonly reach: number
  readonly marginAt: MarginAt
  private readonly low: Vec3
  /** Sides of a cell, mm. */
  private readonly sides: Vec3
  private readonly margins: Float32Array
  private readonly upTo: number
  /** Cells asked so far. */
  asked = 0

  /** @param size longest side that a cell may have, mm: cells fill the box evenly, so that the middle of a thin one is asked */
  constructor({ min, max }: Bounds, size: number, marginAt: MarginAt) {
    const count = (k: number) => Math.max(1, Math.ceil((max[k] - min[k]) / size - 1e-9))
    const side = (k: number) => (max[k] - min[k]) / this.counts[k]
    this.counts = [count(0), count(1), count(2)]
    this.low = min
    this.sides = [side(0), side(1), side(2)]
    this.size = Math.max(...this.sides)
    this.reach = length(this.sides) / 2
    this.upTo = 4 * size
    this.margins = new Float32Array(this.counts[0] * this.counts[1] * this.counts[2]).fill(Number.NaN)
    this.marginAt = marginAt
  }

  get cells(): number {
    return this.margins.length
  }

  /** The cell that holds a point; −1 outside of the box. */
  cellAt(x: number, y: number, z: number): number {
    const [nx, ny, nz] = this.counts
    const i = Math.floor((x - this.low[0]) / this.sides[0])
    const j = Math.floor((y - this.low[1]) / this.sides[1])
    const k = Math.floor((z - this.low[2]) / this.sides[2])
    return i < 0 || j < 0 || k < 0 || i >= nx || j >= ny || k >= nz ? -1 : (k * ny + j) * nx + i
  }

  centre(cell: number): Vec3 {
    const [nx, ny] = this.counts
    const i = cell % nx
    const j = Math.floor(cell / nx) % ny
    const k = Math.floor(cell / (nx * ny))
    const { low, sides } = this
    return [low[0] + (i + 0.5) * sides[0], low[1] + (j + 0.5) * sides[1], low[2] + (k + 0.5) * sides[2]]
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
    if (sure < this.size) return
    const reach = Math.ceil(sure / this.size)
    const [nx, ny, nz] = this.counts
    const i = cell % nx
    const j = Math.floor(cell / nx) % ny
    const k = Math.floor(cell / (nx * ny))
    for (let c = Math.max(0, k - reach); c <= Math.min(nz - 1, k + reach); c++)
      for (let b = Math.max(0, j - reach); b <= Math.min(ny - 1, j + reach); b++)
        for (let a = Math.max(0, i - reach); a <= Math.min(nx - 1, i + reach); a++) {
          const other = (c * ny + b) * nx + a
          if (!Number.isNaN(this.margins[other])) continue
          const way = this.between(a - i, b - j, c - k)
          if (way <= sure) this.margins[other] = margin > 0 ? margin - way : margin + way
        }
  }

  /** From middle to middle of two cells that are so many apart, mm. */
  between(i: number, j: number, k: number): number {
    const [x, y, z] = [i * this.sides[0], j * this.sides[1], k * this.sides[2]]
    return Math.sqrt(x * x + y * y + z * z)
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
