import type { Cell, Problem } from './problem.ts'
import { unknowns } from './unknowns.ts'
import { broken, crossing, kept, lowerTo, moved, raiseTo, standing } from './standing.ts'
import { emptyRow, rangeOf, type Row, wallRow } from './wall.ts'

/**
 * Draws in the cell's faces by dimensions, walls and open pairs, as far as they go in a few rounds.
 * @param wanted aim to be beaten (logarithm); −Infinity before the first answer
 * @returns false where no core of the cell keeps them all and beats it
 */
export function propagate(problem: Problem, cell: Cell, wanted: number): boolean {
  for (let round = 0; round < 4; round++) {
    if (!dimensions(problem, cell, wanted)) return false
    moved.faces = false
    if (!walls(problem, cell)) return false
    if (!pairs(problem, cell)) return false
    if (!moved.faces) return true
  }
  return dimensions(problem, cell, wanted)
}

const largest = new Float64Array(3)

/** Sizes that can be had, and those that still beat `wanted`, cut faces and bound. */
function dimensions({ shares, sizes }: Problem, cell: Cell, wanted: number): boolean {
  const { low, high, most, least } = cell
  for (let round = 0; round < 4; round++) {
    let bound = 0
    for (let k = 0; k < 3; k++) {
      const length = sizes[k].down(Math.min(most[k], high[3 + k] - low[k]))
      if (!(length >= least[k] - crossing)) return false
      largest[k] = length
      if (length < most[k]) most[k] = length
      if (shares[k] > 0) bound += shares[k] * Math.log(length)
    }
    bound += 1e-13 * (1 + Math.abs(bound))
    if (bound < cell.bound) cell.bound = bound
    if (!(bound > wanted)) return false
    moved.faces = false
    for (let k = 0; k < 3; k++) {
      let need = least[k]
      if (shares[k] > 0 && wanted > -Infinity)
        need = Math.max(need, largest[k] * Math.exp((wanted - bound) / shares[k]) * (1 - 1e-12))
      need = sizes[k].up(need)
      if (need > largest[k] + crossing) return false
      least[k] = Math.min(need, largest[k])
      if (!betweenSizes(low, high, k, least[k], most[k])) return false
    }
    if (!moved.faces) return true
  }
  return true
}

function betweenSizes(low: Float64Array, high: Float64Array, k: number, least: number, most: number): boolean {
  return (
    lowerTo(low, high, k, high[3 + k] - least) &&
    raiseTo(low, high, 3 + k, low[k] + least) &&
    lowerTo(low, high, 3 + k, high[k] + most) &&
    raiseTo(low, high, k, low[3 + k] - most)
  )
}

const row = emptyRow()

function walls({ walls: all, view }: Problem, cell: Cell): boolean {
  for (const wall of all) {
    wallRow(wall, view, cell, row)
    if (!drawRow(row, cell)) return false
  }
  return true
}

/** Each unknown as far as the row lets it go when the others give their most. */
export function drawRow(r: Row, cell: Cell): boolean {
  const { a } = r
  const { low, high } = cell
  const [least, most] = rangeOf(r, cell)
  let size = Math.abs(r.b)
  for (let j = 0; j < unknowns; j++) size += Math.abs(a[j]) * Math.max(Math.abs(low[j]), Math.abs(high[j]))
  const slack = 1e-14 * size
  if (most < -crossing - slack) return false
  if (least >= 0) return true
  for (let j = 0; j < unknowns; j++) {
    if (Math.abs(a[j]) < 1e-9) continue
    // Room for this unknown alone: others − b ≥ −a·x.
    const others = most - (a[j] > 0 ? a[j] * high[j] : a[j] * low[j]) + slack
    const at = -others / a[j]
    if (a[j] > 0 ? !raiseTo(low, high, j, at) : !lowerTo(low, high, j, at)) return false
  }
  return true
}

function pairs(problem: Problem, cell: Cell): boolean {
  const { open } = cell
  let count = 0
  for (let j = 0; j < open.length; j++) {
    const state = standing(problem, cell, open[j])
    if (state === broken) return false
    if (state !== kept) left[count++] = open[j]
    if (count === left.length) left = more(left)
  }
  if (count < open.length) cell.open = left.slice(0, count)
  return true
}

let left: Int32Array = new Int32Array(4096)

function more(list: Int32Array): Int32Array {
  const longer = new Int32Array(2 * list.length)
  longer.set(list)
  return longer
}
