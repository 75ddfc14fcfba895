import type { Bounds } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { Cell } from './cell.ts'

/** Halvings below the roots' level. */
const deepest = 11
const mostRoots = 30_000

/**
 * A box in cells: equal ones to begin with, each of which may be cut in eight again and again. Cells are numbers; those that
 * are cut stay as the parents of their parts.
 */
export class CellTree {
  count = 0
  /** First of a cell's eight parts, or −1. */
  firstPart = new Int32Array(1024)
  private level = new Uint8Array(1024)
  /** Place among the cells of its level, three numbers a cell. */
  private place = new Int32Array(3 * 1024)
  readonly bounds: Bounds
  private readonly low: Vec3
  private readonly size: Vec3
  private readonly counts: Vec3

  /** @param side about as long as the first cells' sides are to be, mm */
  constructor(bounds: Bounds, side: number) {
    const { min, max } = bounds
    this.bounds = bounds
    const long = [0, 1, 2].map((k) => max[k] - min[k])
    const volume = long.reduce((product, x) => product * Math.max(x, side), 1)
    const wanted = Math.max(side, Math.cbrt(volume / mostRoots))
    const counts = long.map((x) => Math.max(1, Math.ceil(x / wanted - 1e-9)))
    this.low = min
    this.counts = counts as unknown as Vec3
    this.size = long.map((x, k) => x / counts[k]) as unknown as Vec3
    for (let z = 0; z < counts[2]; z++)
      for (let y = 0; y < counts[1]; y++) for (let x = 0; x < counts[0]; x++) this.add(0, x, y, z)
  }

  private add(level: number, x: number, y: number, z: number): number {
    const cell = this.count++
    if (cell === this.firstPart.length) this.grow()
    this.firstPart[cell] = -1
    this.level[cell] = level
    this.place[3 * cell] = x
    this.place[3 * cell + 1] = y
    this.place[3 * cell + 2] = z
    return cell
  }

  private grow(): void {
    const room = 2 * this.firstPart.length
    const [firstPart, level, place] = [new Int32Array(room), new Uint8Array(room), new Int32Array(3 * room)]
    firstPart.set(this.firstPart)
    level.set(this.level)
    place.set(this.place)
    this.firstPart = firstPart
    this.level = level
    this.place = place
  }

  cell(cell: number): Cell {
    const half = 0.5 ** (this.level[cell] + 1)
    const [hx, hy, hz] = [this.size[0] * half, this.size[1] * half, this.size[2] * half]
    const at = 3 * cell
    return {
      x: this.low[0] + (2 * this.place[at] + 1) * hx,
      y: this.low[1] + (2 * this.place[at + 1] + 1) * hy,
      z: this.low[2] + (2 * this.place[at + 2] + 1) * hz,
      hx,
      hy,
      hz,
    }
  }

  /** Longest side, mm. */
  sideOf(cell: number): number {
    return Math.max(this.size[0], this.size[1], this.size[2]) * 0.5 ** this.level[cell]
  }

  isLeaf(cell: number): boolean {
    return this.firstPart[cell] < 0
  }

  canSplit(cell: number): boolean {
    return this.level[cell] < deepest
  }

  /** Cuts a leaf in eight; returns the first of them, the others follow. */
  split(cell: number): number {
    const level = this.level[cell] + 1
    const [x, y, z] = [2 * this.place[3 * cell], 2 * this.place[3 * cell + 1], 2 * this.place[3 * cell + 2]]
    const first = this.count
    for (let part = 0; part < 8; part++) this.add(level, x + (part & 1), y + ((part >> 1) & 1), z + (part >> 2))
    this.firstPart[cell] = first
    return first
  }

  /** Leaves that hold a point or come within `reach` of it, mm; none outside of the box. */
  leavesAt(point: Vec3, reach: number): number[] {
    const { low, size, counts } = this
    const range = [0, 1, 2].map((k) => {
      const from = Math.floor((point[k] - reach - low[k]) / size[k])
      const to = Math.floor((point[k] + reach - low[k]) / size[k])
      return [Math.max(0, from), Math.min(counts[k] - 1, to)]
    })
    const found: number[] = []
    const look = (cell: number): void => {
      if (!this.comesWithin(cell, point, reach)) return
      const first = this.firstPart[cell]
      if (first < 0) found.push(cell)
      else for (let part = 0; part < 8; part++) look(first + part)
    }
    for (let z = range[2][0]; z <= range[2][1]; z++)
      for (let y = range[1][0]; y <= range[1][1]; y++)
        for (let x = range[0][0]; x <= range[0][1]; x++) look((z * counts[1] + y) * counts[0] + x)
    return found
  }

  /** The box of all cells of a level that come within `reach` of a point, mm; none of them lies on its border. */
  blockAt(point: Vec3, reach: number, level: number): Bounds {
    const parts = 2 ** level
    const edge = (k: number, add: number, round: number) => {
      const size = this.size[k] / parts
      const at = Math.floor((point[k] + add - this.low[k]) / size) + round
      return this.low[k] + size * Math.max(0, Math.min(this.counts[k] * parts, at))
    }
    return {
      min: [edge(0, -reach, 0), edge(1, -reach, 0), edge(2, -reach, 0)],
      max: [edge(0, reach, 1), edge(1, reach, 1), edge(2, reach, 1)],
    }
  }

  /** Whether some point of the cell lies within `reach` of a point. */
  comesWithin(cell: number, point: Vec3, reach: number): boolean {
    const { x, y, z, hx, hy, hz } = this.cell(cell)
    const u = Math.max(Math.abs(point[0] - x) - hx, 0)
    const v = Math.max(Math.abs(point[1] - y) - hy, 0)
    const w = Math.max(Math.abs(point[2] - z) - hz, 0)
    return u * u + v * v + w * w <= reach * reach
  }

  /** Sides of the box that the cell lies on: bits 0 to 5 for −X, −Y, −Z, +X, +Y, +Z. */
  sidesOf(cell: number): number {
    let sides = 0
    for (let k = 0; k < 3; k++) {
      const at = this.place[3 * cell + k]
      if (at === 0) sides |= 1 << k
      if (at === (this.counts[k] << this.level[cell]) - 1) sides |= 8 << k
    }
    return sides
  }

  /** Writes the leaves that share a part of a side with a leaf to `out`; returns how many. */
  neighbours(cell: number, out: number[]): number {
    let count = 0
    for (let k = 0; k < 3; k++)
      for (let way = -1; way <= 1; way += 2) {
        const there = this.across(cell, k, way)
        if (there >= 0) count = this.leavesFacing(there, k, way, out, count)
      }
    return count
  }

  /** The cell of the same level beyond a side, or the larger leaf that holds its place; −1 outside of the box. */
  private across(cell: number, k: number, way: number): number {
    const level = this.level[cell]
    const at = [this.place[3 * cell], this.place[3 * cell + 1], this.place[3 * cell + 2]]
    at[k] += way
    const { counts } = this
    if (at[k] < 0 || at[k] >= counts[k] << level) return -1
    let found = ((at[2] >> level) * counts[1] + (at[1] >> level)) * counts[0] + (at[0] >> level)
    for (let up = level - 1; up >= 0 && this.firstPart[found] >= 0; up--) {
      const part = ((at[0] >> up) & 1) | (((at[1] >> up) & 1) << 1) | (((at[2] >> up) & 1) << 2)
      found = this.firstPart[found] + part
    }
    return found
  }

  /** Leaves of a cell that lie on the side from which one comes going `way` along axis k. */
  private leavesFacing(cell: number, k: number, way: number, out: number[], count: number): number {
    const first = this.firstPart[cell]
    if (first < 0) {
      out[count] = cell
      return count + 1
    }
    const side = way > 0 ? 0 : 1
    for (let part = 0; part < 8; part++)
      if (((part >> k) & 1) === side) count = this.leavesFacing(first + part, k, way, out, count)
    return count
  }
}
