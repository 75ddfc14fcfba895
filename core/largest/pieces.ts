/**
 * Boxes that lie in the candidate's parts and follow the core's faces: the core itself, tanks up to a cross-section, boxes
 * and points in stubs. Along each axis both sides are onLow·(low face) + onHigh·(high face) + offset, no factor negative,
 * so that a side never falls when a face rises.
 */
export interface Piece {
  readonly part: string
  /** What manufacture may add to the part, mm. */
  readonly tolerance: number
  readonly low: readonly [Side, Side, Side]
  readonly high: readonly [Side, Side, Side]
}

export interface Side {
  readonly onLow: number
  readonly onHigh: number
  readonly offset: number
}

export const side = (onLow: number, onHigh: number, offset: number): Side => ({ onLow, onHigh, offset })

/** Numbers a piece: for each axis low side (three), then high side (three). */
export const pieceStride = 18

/** The pieces of a search, as numbers for its inner loops. Pieces that are found to matter are added as it goes. */
export class Pieces {
  readonly list: Piece[] = []
  numbers = new Float64Array(16 * pieceStride)
  tolerances = new Float64Array(16)
  private readonly known = new Map<string, number>()

  /** Number of the piece of this name; made at the first asking. */
  add(name: string, make: () => Piece): number {
    const there = this.known.get(name)
    if (there !== undefined) return there
    const piece = make()
    const at = this.list.push(piece) - 1
    this.known.set(name, at)
    if ((at + 1) * pieceStride > this.numbers.length) this.grow()
    for (let k = 0; k < 3; k++) {
      const { low, high } = piece
      const sides = [low[k].onLow, low[k].onHigh, low[k].offset, high[k].onLow, high[k].onHigh, high[k].offset]
      this.numbers.set(sides, at * pieceStride + 6 * k)
    }
    this.tolerances[at] = piece.tolerance
    return at
  }

  get count(): number {
    return this.list.length
  }

  private grow(): void {
    const [numbers, tolerances] = [this.numbers, this.tolerances]
    this.numbers = new Float64Array(2 * numbers.length)
    this.numbers.set(numbers)
    this.tolerances = new Float64Array(2 * tolerances.length)
    this.tolerances.set(tolerances)
  }
}

/** At most so many pieces: obstacle and piece share one number in the lists of a search. */
export const mostPieces = 4096
