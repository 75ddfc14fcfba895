import { length, sub, unit, type Vec3 } from '../shape/vec.ts'
import type { Motion } from './motion.ts'
import { type Pair, pairsFor } from './onTheWay.ts'
import type { SeatSubject } from './subject.ts'
import type { Sweeps } from './sweeps.ts'

/** Subject of a search: the part itself, or one drawn in for guidance. */
export type Moving = Pick<SeatSubject, 'pieces' | 'keepOuts'>

export interface Advance {
  /** So much of the move is proved clear. */
  readonly share: number
  /** Away from what stops it there; null where nothing does, or where no direction is known. */
  readonly away: Vec3 | null
  /** Where on the part it is stopped, bay frame; with `away`. */
  readonly on: Vec3
}

/** Less than this apart is a touch, mm. */
const touch = 1e-9
/** No point goes farther than this between two places where a move is given up, mm. */
const fine = 0.4
const nowhere: Vec3 = [0, 0, 0]

/** The searches' one test of moves: always a proof over the whole of them, never samples. */
export class Advancer {
  private readonly pairs: readonly Pair[]
  private readonly sweeps: Sweeps
  private readonly reach: number
  /** The pair that stopped the last move, to be asked first. */
  private hot = 0

  constructor(moving: Moving, sweeps: Sweeps) {
    this.pairs = pairsFor(moving)
    this.sweeps = sweeps
    this.reach = Math.max(0, ...moving.pieces.map(({ low, high }) => length(sub(high, low))))
  }

  /**
   * Whether a move keeps at least `margin` all along.
   * @param hint number of a pair to ask first, as `stoppedBy` told it
   */
  isClear(motion: Motion, margin: number, hint = this.hot): boolean {
    this.hot = hint
    if (this.pairs.length > 0 && this.isShort(this.pairs[hint], motion, margin, 0, 1) && motion.angle === 0)
      return false
    const list = this.open(motion, margin)
    return list.length === 0 || this.clearOver(motion, margin, 0, 1, list)
  }

  /** Of the last move that was not clear. */
  get stoppedBy(): number {
    return this.hot
  }

  /** How far a move goes with at least `margin`. */
  advance(motion: Motion, margin: number): Advance {
    const list = this.open(motion, margin)
    if (list.length === 0) return { share: 1, away: null, on: nowhere }
    this.away = null
    const share = this.advanceOver(motion, margin, 0, 1, list)
    return { share, away: share < 1 ? this.away : null, on: this.on }
  }

  private away: Vec3 | null = null
  private on: Vec3 = nowhere

  /** Pairs that boxes do not settle for the whole move, the hot one first. */
  private open(motion: Motion, margin: number): number[] {
    const { pairs, sweeps } = this
    const list: number[] = []
    for (let i = 0; i < pairs.length; i++) {
      const { piece, obstacle, asked } = pairs[i]
      sweeps.load(motion, piece, 0, 1)
      if (sweeps.boxGap(obstacle) < Math.max(asked + margin, touch)) list.push(i)
    }
    const at = list.indexOf(this.hot)
    if (at > 0) {
      list[at] = list[0]
      list[0] = this.hot
    }
    return list
  }

  private isShort({ piece, obstacle, asked }: Pair, motion: Motion, margin: number, from: number, to: number): boolean {
    const { sweeps } = this
    const cut = Math.max(asked + margin, touch)
    sweeps.load(motion, piece, from, to)
    return sweeps.gap(obstacle, cut) < cut
  }

  private isFine(motion: Motion, from: number, to: number): boolean {
    return (to - from) * motion.travel(this.reach) <= fine
  }

  private clearOver(motion: Motion, margin: number, from: number, to: number, list: readonly number[]): boolean {
    const still: number[] = []
    for (const i of list) {
      if (!this.isShort(this.pairs[i], motion, margin, from, to)) continue
      if (motion.angle === 0 || this.isFine(motion, from, to) || this.isShortAt(i, motion, margin)) {
        this.hot = i
        return false
      }
      still.push(i)
    }
    if (still.length === 0) return true
    const middle = (from + to) / 2
    return this.clearOver(motion, margin, from, middle, still) && this.clearOver(motion, margin, middle, to, still)
  }

  /** Whether the pose where the last pair was found is short itself: then no halving helps. */
  private isShortAt(i: number, motion: Motion, margin: number): boolean {
    const share = this.sweeps.shareOfNear(5)
    return this.isShort(this.pairs[i], motion, margin, share, share)
  }

  private advanceOver(motion: Motion, margin: number, from: number, to: number, list: readonly number[]): number {
    const isFine = this.isFine(motion, from, to)
    const still: number[] = []
    for (const i of list) {
      if (!this.isShort(this.pairs[i], motion, margin, from, to)) continue
      this.hot = i
      if (isFine) {
        this.away = this.wayOff()
        this.on = [this.sweeps.near.ax, this.sweeps.near.ay, this.sweeps.near.az]
        return from
      }
      still.push(i)
    }
    if (still.length === 0) return to
    const middle = (from + to) / 2
    const reached = this.advanceOver(motion, margin, from, middle, still)
    return reached < middle ? reached : this.advanceOver(motion, margin, middle, to, still)
  }

  /** From the keep-out to the part, where they do not meet. */
  private wayOff(): Vec3 | null {
    const { near } = this.sweeps
    if (near.contact !== 'none' || !(near.atMost > 0)) return null
    return unit([near.ax - near.bx, near.ay - near.by, near.az - near.bz])
  }
}
