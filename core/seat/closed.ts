import { Motion } from './motion.ts'
import { type Pair, pairsFor } from './onTheWay.ts'
import { cornersOfBay } from './exits.ts'
import type { SeatPiece, SeatSubject } from './subject.ts'
import type { Work } from './work.ts'
import { identity, type Pose, type Vec3 } from '../shape/vec.ts'

/** Edge of the coarsest cells, mm, and how often they may be halved. */
const coarsest = 64
const deepest = 6
/** Where a way leads out, all mixed cells so many rings about it are halved with it: else each slit would be closed cell by cell. */
const rings = [200, 200, 200, 24, 24, 24]

const unseen = 0
const free = 1
const mixed = 2
const blocked = 3
const split = 4

/**
 * Whether it is proved that the part cannot leave its seat at all.
 *
 * A ball about the core's middle, as wide as the core's least length, lies in the core however it turns. Where the ball
 * cannot stand, the part cannot; so the part's middle has to stay in cells that do not keep the ball out for sure. Cells are
 * flooded from the seat; where they reach the outside, those on the way are halved, until none leads out or the ball is
 * proved to get out.
 * A cell of half diagonal d keeps the ball of radius ρ out where the gap from its middle to a keep-out is proved to be less
 * than ρ + asked − d: every other place in it is nearer than ρ + asked.
 * @returns true only where it is proved; false says nothing
 * Source: derived.
 */
export function isClosed(subject: SeatSubject, work: Work, until: number): boolean {
  const corners = cornersOfBay(subject)
  return corners.length > 0 && new Flood(subject, corners, work).run(until)
}

class Flood {
  private readonly radius: number
  private readonly pairs: readonly Pair[]
  private readonly work: Work
  /** By level: state of a cell by its number; a cell that is not there is unseen or part of a larger one. */
  private readonly levels: Map<number, number>[] = Array.from({ length: deepest + 1 }, () => new Map())
  private readonly low: Vec3
  private readonly counts: readonly number[]
  private readonly seat: Vec3
  private readonly ball: SeatPiece

  constructor(subject: SeatSubject, corners: readonly Vec3[], work: Work) {
    const { depth, width, height, tolerance = 0 } = subject.candidate.core
    this.radius = Math.min(depth, width, height) / 2
    this.work = work
    this.ball = {
      part: 'core',
      points: Float64Array.of(0, 0, 0),
      normals: new Float64Array(0),
      low: [0, 0, 0],
      high: [0, 0, 0],
      excess: 0,
      tolerance,
      only: null,
      except: [],
    }
    this.pairs = pairsFor({ pieces: [this.ball], keepOuts: subject.keepOuts })
    this.seat = subject.seat.at
    const asked = this.pairs.reduce((most, pair) => Math.max(most, pair.asked), 0)
    const beyond = this.radius + asked + coarsest
    const all = [...corners, this.seat]
    this.low = [0, 1, 2].map((k) => Math.min(...all.map((p) => p[k])) - beyond) as unknown as Vec3
    this.counts = [0, 1, 2].map((k) => Math.ceil((Math.max(...all.map((p) => p[k])) + beyond - this.low[k]) / coarsest))
  }

  run(until: number): boolean {
    // Room for the cells' numbers, and time: a bay of a kilometre is not looked at.
    if (this.counts.some((count) => count > 400)) return false
    while (!this.work.isOver(until)) {
      const way = this.wayOut(until)
      if (way === null) return true
      if (way.length === 0 || !this.refine(way, until)) return false
    }
    return false
  }

  /**
   * Cells that lead from the seat to the outside, nearest to nothing known first; null where there are none, empty where
   * the work is over.
   */
  private wayOut(until: number): Cell[] | null {
    const from = this.cellAt(this.seat)
    const parents = new Map<number, Cell | null>([[keyOf(from), null]])
    // Through free cells as far as they go; mixed ones only then, so that a way of free cells is found where there is one.
    const easy: Cell[] = [from]
    const hard: Cell[] = []
    let easily = 0
    let hardly = 0
    for (;;) {
      const cell = easy[easily] ? easy[easily++] : hard[hardly++]
      if (!cell) return null
      // Cells that are known cost time and no query.
      this.work.look(200)
      if (this.work.isOver(until)) return []
      if (this.stateOf(cell) === blocked) continue
      if (this.isOutside(cell)) return this.traced(cell, parents)
      for (const next of this.neighbours(cell)) {
        const key = keyOf(next)
        if (parents.has(key)) continue
        const state = this.stateOf(next)
        if (state === blocked) continue
        parents.set(key, cell)
        if (state === free) easy.push(next)
        else hard.push(next)
      }
    }
  }

  private traced(end: Cell, parents: ReadonlyMap<number, Cell | null>): Cell[] {
    const way: Cell[] = []
    for (let cell: Cell | null | undefined = end; cell; cell = parents.get(keyOf(cell))) way.push(cell)
    return way
  }

  /** Halves the largest mixed cells of a way, and their mixed neighbours as large; false where there is nothing to halve, or the work is over. */
  private refine(way: readonly Cell[], until: number): boolean {
    const open = way.filter((cell) => this.stateOf(cell) === mixed)
    if (open.length === 0) return false
    const level = Math.min(...open.map((cell) => cell.level))
    if (level >= deepest) return false
    const chosen = new Map(open.filter((cell) => cell.level === level).map((cell) => [keyOf(cell), cell]))
    let ring = [...chosen.values()]
    for (let n = 0; n < rings[level] && ring.length > 0; n++) {
      const beyond: Cell[] = []
      for (const cell of ring) {
        if (this.work.isOver(until)) return false
        for (const next of this.neighbours(cell)) {
          if (next.level !== level || chosen.has(keyOf(next)) || this.stateOf(next) !== mixed) continue
          chosen.set(keyOf(next), next)
          beyond.push(next)
        }
      }
      ring = beyond
    }
    for (const cell of chosen.values()) this.levels[cell.level].set(this.numberOf(cell), split)
    return true
  }

  private isOutside({ level, at }: Cell): boolean {
    return at.some((x, k) => x === 0 || x === (this.counts[k] << level) - 1)
  }

  private numberOf({ level, at }: Cell): number {
    const [, y, z] = this.counts
    return (at[0] * (y << level) + at[1]) * (z << level) + at[2]
  }

  private stateOf(cell: Cell): number {
    const number = this.numberOf(cell)
    const known = this.levels[cell.level].get(number) ?? unseen
    if (known !== unseen) return known
    const state = this.judged(cell)
    this.levels[cell.level].set(number, state)
    return state
  }

  private judged({ level, at }: Cell): number {
    const { sweeps } = this.work
    const edge = coarsest / 2 ** level
    const half = (edge * Math.sqrt(3)) / 2
    const middle = at.map((x, k) => this.low[k] + (x + 0.5) * edge) as unknown as Vec3
    const pose: Pose = { turn: identity, at: middle }
    const still = new Motion(pose, { shift: [0, 0, 0], pivot: middle, axis: [0, 0, 1], angle: 0 })
    sweeps.load(still, this.ball, 0, 0)
    let isFree = true
    for (const { obstacle, asked } of this.pairs) {
      const enough = this.radius + asked + half
      if (sweeps.gap(obstacle, enough) >= enough) continue
      isFree = false
      // A hair less for what is lost to rounding.
      if (sweeps.near.atMost < this.radius + asked - half - 1e-6) return blocked
    }
    return isFree ? free : mixed
  }

  private cellAt(point: Vec3): Cell {
    return this.leafAt(point.map((x, k) => (x - this.low[k]) / coarsest) as unknown as Vec3)
  }

  /** The cell that holds a place, given in coarsest cells. */
  private leafAt(place: Vec3): Cell {
    for (let level = 0; ; level++) {
      const cell = { level, at: place.map((x) => Math.floor(x * 2 ** level)) as unknown as Vec3 }
      if (level === deepest || this.levels[level].get(this.numberOf(cell)) !== split) return cell
    }
  }

  private neighbours(cell: Cell): Cell[] {
    const { level, at } = cell
    const found: Cell[] = []
    for (let k = 0; k < 3; k++)
      for (const side of [-1, 1]) {
        const next = at.map((x, i) => (i === k ? x + side : x)) as unknown as Vec3
        if (next[k] < 0 || next[k] >= this.counts[k] << level) continue
        const size = 2 ** -level
        const leaf = this.leafAt(next.map((x) => (x + 0.5) * size) as unknown as Vec3)
        if (leaf.level <= level) found.push(leaf)
        else this.onFace(level, next, k, side, found)
      }
    return found
  }

  /** All leaves of a cell that touch the face towards where the question came from. */
  private onFace(level: number, at: Vec3, k: number, side: number, found: Cell[]): void {
    if (level < deepest && this.levels[level].get(this.numberOf({ level, at })) === split) {
      for (let i = 0; i < 8; i++) {
        const bit = (i >> k) & 1
        if (bit !== (side > 0 ? 0 : 1)) continue
        this.onFace(level + 1, at.map((x, n) => 2 * x + ((i >> n) & 1)) as unknown as Vec3, k, side, found)
      }
    } else found.push({ level, at })
  }
}

interface Cell {
  readonly level: number
  /** Its number along each axis, in cells of its own size. */
  readonly at: Vec3
}

/** Cells along an axis are fewer than 400 · 2⁶ = 2¹⁵. */
const keyOf = ({ level, at }: Cell): number => ((level * 32768 + at[0]) * 32768 + at[1]) * 32768 + at[2]
