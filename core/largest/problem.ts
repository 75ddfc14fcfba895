import type { Obstacles, SeenObstacles } from './obstacles.ts'
import type { Pieces } from './pieces.ts'
import type { Sizes } from './sizes.ts'
import type { View } from './view.ts'
import type { Wall } from './wall.ts'

/**
 * What is searched: the six faces of the core in a view's axes (low x, y, z, then high x, y, z, mm from the pivot) and, as
 * a seventh unknown, the tilt away from the view's middle, radians. The aim is Σ share·log(dimension): the logarithm of
 * the volume, or of the face where depth has no share.
 */
export interface Problem {
  readonly view: View
  readonly shares: readonly [number, number, number]
  readonly sizes: readonly [Sizes, Sizes, Sizes]
  readonly pieces: Pieces
  readonly obstacles: Obstacles
  /** For bounds. */
  readonly seen: SeenObstacles
  readonly walls: readonly Wall[]
  /** Where all faces lie for sure. */
  readonly low: Float64Array
  readonly high: Float64Array
  /** Keep-outs asked at a core (faces in a view without range): see `Asker`. */
  readonly ask: Ask
}

/**
 * Asks the keep-outs about a core. Each point that is nearer to a part than asked by more than `ignore` becomes an
 * obstacle; the answer holds the codes (obstacle, piece) of what is broken. None: the core stands clear.
 * @param extra kept beyond what is asked, mm
 */
export type Ask = (faces: Float64Array, view: View, ignore: number, extra: number) => Found

export interface Found {
  readonly clear: boolean
  readonly codes: readonly number[]
}

/** Faces between two corners, and what is known of every core among them. */
export interface Cell {
  /** Seven numbers each. */
  readonly low: Float64Array
  readonly high: Float64Array
  /** Most and least of each dimension. */
  readonly most: Float64Array
  readonly least: Float64Array
  /** No core of the cell has a greater aim (logarithm). */
  bound: number
  /** Codes of what is not settled: neither kept by every core of the cell nor known to be elsewhere. */
  open: Int32Array
  /** How much of the search's list of codes has been taken over. */
  heard: number
  /** Generations for which the linear program is not worth its time. */
  rest: number
  readonly depth: number
}

export const childOf = (cell: Cell): Cell => ({
  low: cell.low.slice(),
  high: cell.high.slice(),
  most: cell.most.slice(),
  least: cell.least.slice(),
  bound: cell.bound,
  open: cell.open,
  heard: cell.heard,
  rest: cell.rest,
  depth: cell.depth + 1,
})

/** Aim of a core, −Infinity where a dimension is not above 0. */
export function aimOf(shares: readonly number[], faces: Float64Array): number {
  let aim = 0
  for (let k = 0; k < 3; k++) {
    const length = faces[3 + k] - faces[k]
    if (!(length > 0)) return -Infinity
    if (shares[k] > 0) aim += shares[k] * Math.log(length)
  }
  return aim
}

export { mostPieces } from './pieces.ts'
