import type { Cell } from './problem.ts'

/** Cells, the one of highest bound first. */
export class CellQueue {
  private readonly cells: Cell[] = []

  get size(): number {
    return this.cells.length
  }

  /** Highest bound; −Infinity when empty. */
  highest(): number {
    return this.cells.length > 0 ? this.cells[0].bound : -Infinity
  }

  push(cell: Cell): void {
    const { cells } = this
    let at = cells.length
    cells.push(cell)
    while (at > 0) {
      const parent = (at - 1) >> 1
      if (cells[parent].bound >= cell.bound) break
      cells[at] = cells[parent]
      at = parent
    }
    cells[at] = cell
  }

  take(): Cell | undefined {
    const { cells } = this
    const top = cells[0]
    const last = cells.pop()
    if (last === undefined || cells.length === 0) return top
    let at = 0
    for (let child = 1; child < cells.length; child = 2 * at + 1) {
      if (child + 1 < cells.length && cells[child + 1].bound > cells[child].bound) child++
      if (cells[child].bound <= last.bound) break
      cells[at] = cells[child]
      at = child
    }
    cells[at] = last
    return top
  }
}
