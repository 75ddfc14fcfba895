import type { Vec3 } from '../shape/vec.ts'
import { PlaceEngine } from './placeEngine.ts'
import { greatestLeast } from './placeRows.ts'
import {
  type Looseness,
  Majorants,
  middle,
  type PlacePair,
  type PlaceRange,
  type StateBox,
  type Witness,
} from './placeWitness.ts'

export interface PlaceFound {
  readonly state: Float64Array
  /** Proved least margin there, mm. */
  readonly margin: number
}

export interface PlaceResult {
  readonly best: PlaceFound
  /** No pose in the range has a greater least margin, mm. */
  readonly upperBound: number
  /** Where none clears: the pairs whose wants contradict each other in the proof. */
  readonly conflict: readonly PlacePair[]
  readonly stopped: 'proved' | 'none clears' | 'work' | 'time' | 'cancelled'
}

interface Cell extends StateBox {
  readonly witnesses: readonly Witness[]
  readonly bound: number
}

export interface PlaceOptions {
  /** Width of the answer, mm. */
  readonly within: number
  /** Cells looked at, at most. */
  readonly work: number
  readonly stop: () => 'time' | 'cancelled' | null
  readonly progress: (best: number, bound: number) => void
}

/** A radian of tilt is cut as if it were this long, mm: about what it moves a core's edge. */
const lengthOfRadian = 200
const roundsInCell = 12
/** Witnesses carried along in a cell; the least important go first. */
const mostWitnesses = 48

/**
 * Pose of the greatest least margin over all pairs.
 *
 * The signed distance of a fixed keep-out point to a convex part is a convex function of the part's shift (and of shift and
 * tilt, once the turn is linearised; the remainder ρ·h²/2 + h·|shift| is added). Over a cell it lies under the affine
 * function that is no less at the cell's corners, so the greatest least of these functions, a small linear program, bounds
 * the margin in the whole cell. The clearance engine is asked at the program's answer: that gives a margin in hand and the
 * keep-out points that the next program has to know.
 * Source: branch and bound with affine majorants of convex functions, R. Horst, H. Tuy, Global Optimization (from memory).
 */
export class PlaceSearch {
  private best: PlaceFound
  private readonly cells: Cell[] = []
  private looked = 0
  /** Highest bound of the cells that are done with. */
  private settled = -Infinity
  private readonly engine: PlaceEngine
  private readonly majorants: Majorants
  private readonly options: PlaceOptions
  private readonly conflict = new Set<PlacePair>()

  constructor(pairs: readonly PlacePair[], range: PlaceRange, start: Float64Array, options: PlaceOptions) {
    this.engine = new PlaceEngine(pairs, range)
    this.majorants = new Majorants(range)
    this.options = options
    const first = this.engine.asked(start, Infinity)
    this.best = { state: start, margin: first.margin }
    this.cells.push({
      low: Float64Array.from(range.low),
      high: Float64Array.from(range.high),
      witnesses: first.witnesses,
      bound: Infinity,
    })
  }

  run(): PlaceResult {
    const { within, work, stop, progress } = this.options
    for (;;) {
      const open = this.cells[0]?.bound ?? -Infinity
      const upperBound = Math.max(this.best.margin, open, this.settled)
      const answer = (stopped: PlaceResult['stopped']): PlaceResult => ({
        best: this.best,
        upperBound,
        conflict: [...this.conflict],
        stopped,
      })
      if (upperBound < 0) return answer('none clears')
      if (open <= this.best.margin + within) return answer('proved')
      if (this.looked >= work) return answer('work')
      const asked = stop()
      if (asked) return answer(asked)
      if (this.looked % 8 === 0) progress(this.best.margin, upperBound)
      this.looked++
      this.look(takeFirst(this.cells))
    }
  }

  /** Bounds a cell as far as asking helps, then halves it if something better may still be in it. */
  private look(cell: Cell): void {
    let witnesses = cell.witnesses
    let bound = cell.bound
    let at = middle(cell)
    let looseness: Looseness = { tilt: 0, shift: 0 }
    for (let round = 0; round < roundsInCell; round++) {
      if (witnesses.length > 0) {
        const program = greatestLeast(
          witnesses.map((w) => this.majorants.majorant(w, cell)),
          cell.low,
          cell.high,
        )
        at = program.at
        if (program.bound < bound) bound = program.bound
        if (bound < 0) this.noteConflict(witnesses, program.weights)
        looseness = this.majorants.looseness(witnesses, program.weights, cell, at)
        witnesses = thinned(witnesses, program.weights)
      }
      if (this.isSettled(bound)) return
      const found = this.engine.asked(at, bound)
      if (found.margin > this.best.margin) this.best = { state: at, margin: found.margin }
      const news = found.witnesses.filter(
        (w) =>
          !witnesses.some((known) => known.pair === w.pair && known.side === w.side && isSame(known.point, w.point)),
      )
      if (news.length === 0) break
      witnesses = [...witnesses, ...news]
    }
    if (!this.isSettled(bound)) this.halve({ ...cell, witnesses, bound }, looseness)
  }

  private noteConflict(witnesses: readonly Witness[], weights: Float64Array): void {
    witnesses.forEach(({ pair }, i) => {
      if (weights[i] > 0.01) this.conflict.add(pair)
    })
  }

  /** Nothing in the cell is better by more than asked, or nothing in it clears. */
  private isSettled(bound: number): boolean {
    if (bound > this.best.margin + this.options.within && bound >= 0) return false
    this.settled = Math.max(this.settled, bound)
    return true
  }

  /** Halves the tilt where the linearised turn is to blame, else the widest side: sliding along a wall is never cut for nothing. */
  private halve(cell: Cell, { tilt, shift }: Looseness): void {
    let widest = -1
    let width = 0
    const onlyTilt = cell.high[3] > cell.low[3] && tilt > shift
    for (const k of onlyTilt ? [3] : this.majorants.free) {
      const w = (cell.high[k] - cell.low[k]) * (k === 3 ? lengthOfRadian : 1)
      if (w > width) {
        width = w
        widest = k
      }
    }
    if (widest < 0) {
      this.settled = Math.max(this.settled, cell.bound)
      return
    }
    const at = (cell.low[widest] + cell.high[widest]) / 2
    const high = cell.high.slice()
    high[widest] = at
    const low = cell.low.slice()
    low[widest] = at
    insert(this.cells, { ...cell, high })
    insert(this.cells, { ...cell, low })
  }
}

const isSame = (p: Vec3, q: Vec3): boolean =>
  Math.abs(p[0] - q[0]) + Math.abs(p[1] - q[1]) + Math.abs(p[2] - q[2]) < 1e-6

function thinned(witnesses: readonly Witness[], weights: Float64Array): readonly Witness[] {
  if (witnesses.length <= mostWitnesses) return witnesses
  const order = witnesses.map((_, i) => i).sort((i, j) => weights[j] - weights[i] || j - i)
  const kept = new Set(order.slice(0, mostWitnesses))
  return witnesses.filter((_, i) => kept.has(i))
}

/** Highest bound first; equal ones in the order they came. */
function insert(cells: Cell[], cell: Cell): void {
  let low = 0
  let high = cells.length
  while (low < high) {
    const mid = (low + high) >> 1
    if (cells[mid].bound >= cell.bound) low = mid + 1
    else high = mid
  }
  cells.splice(low, 0, cell)
}

function takeFirst(cells: Cell[]): Cell {
  const first = cells.shift()
  if (!first) throw new Error('no cell left')
  return first
}
