import { clearance } from '../clearance/clearance.ts'
import { boxGap } from '../clearance/formBounds.ts'
import type { Solid } from '../shape/form.ts'
import { add, length, type Mat3, placedBack, type Pose, sub, turned, turnedBack, type Vec3 } from '../shape/vec.ts'
import { convexTargets, deepInBoth, type LocalBody, placedSolid, signedDistance } from './placeBody.ts'
import { type AffineRow, greatestLeast } from './placeRows.ts'

/** A part against a keep-out and the distance that is wanted between them, mm. */
export interface PlacePair {
  readonly body: LocalBody
  readonly keepOut: { readonly id: string; readonly solid: Solid }
  readonly wanted: number
}

/** What may change: shifts from the start along X, Y, Z in mm and the tilt in radians, each between two values. */
export interface PlaceRange {
  readonly low: readonly [number, number, number, number]
  readonly high: readonly [number, number, number, number]
  readonly poseAt: (shift: Vec3, tilt: number) => Pose
  /** Derivative of the pose's turn by the tilt, a radian. */
  readonly turnRate: (tilt: number) => Mat3
}

export interface PlaceFound {
  readonly state: Float64Array
  /** Proved least margin there, mm. */
  readonly margin: number
  /** Pairs that hold it: margin within a tenth of a millimetre of the least. */
  readonly holds: readonly PlacePair[]
}

export interface PlaceResult {
  readonly best: PlaceFound
  /** No pose in the range has a greater least margin, mm. */
  readonly upperBound: number
  /** Where none clears: the pairs whose wants contradict each other in the proof. */
  readonly conflict: readonly PlacePair[]
  readonly stopped: 'proved' | 'none clears' | 'work' | 'time' | 'cancelled'
}

type SignedDistance = (x: number, y: number, z: number) => number

/**
 * A point of one side of a pair and the signed distance to a convex piece of the other: the pair's margin is never more
 * than that less `wanted`. Either a point of the keep-out against the part ('fixed', bay frame), or a point of the part
 * against a convex keep-out ('moving', candidate's frame): the second sees a wall as a wall, however the part slides along.
 */
interface Witness {
  readonly pair: PlacePair
  readonly side: 'fixed' | 'moving'
  readonly point: Vec3
  readonly distance: SignedDistance
}

/** What a cell's bound is owed to, mm. */
interface Looseness {
  readonly tilt: number
  readonly shift: number
}

interface Cell {
  readonly low: Float64Array
  readonly high: Float64Array
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
  private readonly pairs: readonly PlacePair[]
  private readonly range: PlaceRange
  private readonly options: PlaceOptions
  private readonly free: readonly number[]
  private readonly conflict = new Set<PlacePair>()
  private readonly targets = new Map<string, SignedDistance[]>()

  constructor(pairs: readonly PlacePair[], range: PlaceRange, start: Float64Array, options: PlaceOptions) {
    this.pairs = pairs
    this.range = range
    this.options = options
    this.free = [0, 1, 2, 3].filter((k) => range.high[k] > range.low[k])
    const first = this.asked(start, Infinity)
    this.best = { state: start, margin: first.margin, holds: first.holds }
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
          witnesses.map((w) => this.majorant(w, cell)),
          cell.low,
          cell.high,
        )
        at = program.at
        if (program.bound < bound) bound = program.bound
        if (bound < 0) this.noteConflict(witnesses, program.weights)
        looseness = this.loosenessOf(witnesses, program.weights, cell, at)
        witnesses = thinned(witnesses, program.weights)
      }
      if (this.isSettled(bound)) return
      const found = this.asked(at, bound)
      if (found.margin > this.best.margin) this.best = { state: at, margin: found.margin, holds: found.holds }
      const news = found.witnesses.filter((w) => !witnesses.some((known) => known.pair === w.pair && known.side === w.side && isSame(known.point, w.point)))
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

  /** How much of the bound is owed to the linearised turn, and how much to the affine functions standing above their rows. */
  private loosenessOf(witnesses: readonly Witness[], weights: Float64Array, cell: Cell, at: Float64Array): Looseness {
    const centre = middle(cell)
    const half = cell.high.map((h, k) => (h - cell.low[k]) / 2)
    const owed = { tilt: 0, shift: 0 }
    witnesses.forEach((witness, i) => {
      if (weights[i] < 1e-6) return
      const { start, step, remainder } = this.motionOf(witness, centre, half)
      const p: [number, number, number] = [...start]
      for (const k of this.free) for (let axis = 0; axis < 3; axis++) p[axis] += (at[k] - centre[k]) * step[k][axis]
      const { slope, offset } = this.majorant(witness, cell)
      const above = slope.reduce((sum, a, k) => sum + a * at[k], offset) - witness.distance(p[0], p[1], p[2]) + witness.pair.wanted
      owed.tilt += weights[i] * remainder
      owed.shift += weights[i] * (above - remainder)
    })
    return owed
  }

  /** Halves the tilt where the linearised turn is to blame, else the widest side: sliding along a wall is never cut for nothing. */
  private halve(cell: Cell, { tilt, shift }: Looseness): void {
    let widest = -1
    let width = 0
    const onlyTilt = cell.high[3] > cell.low[3] && tilt > shift
    for (const k of onlyTilt ? [3] : this.free) {
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

  /** Affine function of the state that is nowhere in the cell less than the witness's signed distance less what is wanted. */
  private majorant(witness: Witness, cell: Cell): AffineRow {
    const centre = middle(cell)
    const half = cell.high.map((h, k) => (h - cell.low[k]) / 2)
    const { start, step, remainder } = this.motionOf(witness, centre, half)
    const values: number[] = []
    for (let corner = 0; corner < 1 << this.free.length; corner++) {
      const p: [number, number, number] = [...start]
      this.free.forEach((k, i) => {
        const by = corner & (1 << i) ? half[k] : -half[k]
        for (let axis = 0; axis < 3; axis++) p[axis] += by * step[k][axis]
      })
      values.push(witness.distance(p[0], p[1], p[2]))
    }
    return this.affineAbove(values, centre, half, remainder - witness.pair.wanted)
  }

  /** The witness's point, seen from what it is measured to, as the state changes: linear, and how far off that may be. */
  private motionOf({ side, point }: Witness, centre: Float64Array, half: Float64Array): { start: Vec3; step: Vec3[]; remainder: number } {
    const { turn, at } = this.range.poseAt([centre[0], centre[1], centre[2]], centre[3])
    const rate = this.range.turnRate(centre[3])
    if (side === 'moving') {
      const step: Vec3[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1], turned(rate, point)]
      return { start: add(at, turned(turn, point)), step, remainder: (length(point) * half[3] * half[3]) / 2 }
    }
    const away = sub(point, at)
    const axes: Vec3[] = [[-1, 0, 0], [0, -1, 0], [0, 0, -1]]
    const step = [...axes.map((axis) => turnedBack(turn, axis)), turnedBack(rate, away)]
    const crossed = half[3] * Math.hypot(half[0], half[1], half[2])
    return { start: turnedBack(turn, away), step, remainder: (length(away) * half[3] * half[3]) / 2 + crossed }
  }

  private affineAbove(values: readonly number[], centre: Float64Array, half: Float64Array, added: number): AffineRow {
    const slope = new Float64Array(4)
    this.free.forEach((k, i) => {
      let sum = 0
      values.forEach((value, corner) => {
        sum += corner & (1 << i) ? value : -value
      })
      if (half[k] > 0) slope[k] = sum / (values.length * half[k])
    })
    let lift = -Infinity
    values.forEach((value, corner) => {
      let flat = 0
      this.free.forEach((k, i) => {
        flat += slope[k] * (corner & (1 << i) ? half[k] : -half[k])
      })
      lift = Math.max(lift, value - flat)
    })
    let offset = lift + added + 1e-10
    for (let k = 0; k < 4; k++) offset -= slope[k] * centre[k]
    return { slope, offset }
  }

  /**
   * Asks the engine at a state: the proved least margin, and the nearest keep-out point of every pair with a margin below
   * `interest`.
   */
  private asked(state: Float64Array, interest: number): { margin: number; holds: PlacePair[]; witnesses: Witness[] } {
    const pose = this.range.poseAt([state[0], state[1], state[2]], state[3])
    const solids = new Map<LocalBody, Solid>()
    const margins: { pair: PlacePair; margin: number; onPart: Vec3; onKeepOut: Vec3; inBoth?: Vec3 }[] = []
    for (const pair of this.pairs) {
      const solid = solids.get(pair.body) ?? placedSolid(pair.body, pose)
      solids.set(pair.body, solid)
      const upTo = Math.max(0, interest + pair.wanted)
      const apart = boxGap(solid.bounds, pair.keepOut.solid.bounds)
      if (apart > upTo) continue
      const answer = clearance(solid, pair.keepOut.solid, { upTo: Number.isFinite(upTo) ? upTo : undefined })
      const depth = answer.overlap ? answer.overlap.depthAtLeast : 0
      const inBoth = depth > 0 ? deepInBoth(solid, pair.keepOut.solid) : undefined
      const { onPart, onKeepOut } = answer
      margins.push({ pair, margin: answer.atLeast - depth - pair.wanted, onPart, onKeepOut, inBoth })
    }
    // What was not asked is farther than `interest` for sure.
    const margin = margins.reduce((least, m) => Math.min(least, m.margin), interest)
    const witnesses = margins
      .filter((m) => m.margin < interest)
      .flatMap(({ pair, onPart, onKeepOut, inBoth }) => [
        ...this.witnessesOf(pair, placedBack(pose, onPart), onPart, onKeepOut),
        // Plates that cross have their deepest corners outside of each other; the middle of what they share tells more.
        ...(inBoth ? this.witnessesOf(pair, placedBack(pose, inBoth), inBoth, inBoth) : []),
      ])
    return { margin, holds: margins.filter((m) => m.margin <= margin + 0.1).map((m) => m.pair), witnesses }
  }

  private witnessesOf(pair: PlacePair, local: Vec3, onPart: Vec3, onKeepOut: Vec3): Witness[] {
    const fixed: Witness = {
      pair,
      side: 'fixed',
      point: onKeepOut,
      distance: (x, y, z) => signedDistance(pair.body, x, y, z),
    }
    const { id, solid } = pair.keepOut
    let targets = this.targets.get(id)
    if (!targets) {
      targets = convexTargets(solid)
      this.targets.set(id, targets)
    }
    if (targets.length === 0) return [fixed]
    // The distance to the nearest piece is never less than the distance to their union.
    const distances = targets.map((target) => target(onPart[0], onPart[1], onPart[2]))
    const distance = targets[distances.indexOf(Math.min(...distances))]
    return [fixed, { pair, side: 'moving', point: local, distance }]
  }
}

const middle = ({ low, high }: Cell): Float64Array => low.map((x, k) => (x + high[k]) / 2)
const isSame = (p: Vec3, q: Vec3): boolean => Math.abs(p[0] - q[0]) + Math.abs(p[1] - q[1]) + Math.abs(p[2] - q[2]) < 1e-6

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
