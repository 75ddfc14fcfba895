import type { LeastOnTheWay } from './answer.ts'
import type { Motion } from './motion.ts'
import type { Obstacle } from './obstacle.ts'
import type { SeatKeepOut, SeatPiece, SeatSubject } from './subject.ts'
import type { Sweeps } from './sweeps.ts'

/** A piece and an obstacle over a share of one move, with a lower bound of the margin there. */
interface Item {
  bound: number
  readonly pair: Pair
  readonly motion: number
  readonly from: number
  readonly to: number
  /** Bounded by boxes only so far. */
  raw: boolean
}

/** A piece and an obstacle that are held against each other. */
export interface Pair {
  readonly piece: SeatPiece
  readonly keepOut: SeatKeepOut
  readonly obstacle: Obstacle
  /** Wanted, uncertainty and tolerance together, mm. */
  readonly asked: number
}

export function pairsOf({ pieces, keepOuts }: Pick<SeatSubject, 'pieces' | 'keepOuts'>): Pair[] {
  return pieces.flatMap((piece) =>
    keepOuts
      .filter(({ id }) => (piece.only === null ? !piece.except.includes(id) : piece.only === id))
      .flatMap((keepOut) =>
        keepOut.obstacles.map((obstacle) => ({ piece, keepOut, obstacle, asked: keepOut.wanted + piece.tolerance })),
      ),
  )
}

/** Longest share of a turn that is looked at in one go, radians. */
const widestTurn = Math.PI / 2
/** A touch counts as this much less than nothing, mm: contact is a refusal even where nothing is wanted. */
const touch = 1e-9
/** Intervals are not halved below this share of a move. */
const shortest = 1e-8

/**
 * Best-first search for the least margin on a motion: intervals of (move, piece, obstacle) by their lower bounds, the least
 * one halved; single poses give the upper bound. Only what can still be the least is ever halved.
 */
export class OnTheWay {
  private readonly pairs: readonly Pair[]
  private readonly motions: readonly Motion[]
  private readonly sweeps: Sweeps
  private readonly mostQueries: number
  private readonly heap: Item[] = []
  /** Proved: somewhere the margin is no more. */
  private upper = Infinity
  private place: Omit<LeastOnTheWay, 'atLeast' | 'atMost'> | null = null
  /** Width of the answer that is asked for, mm; 0 for a decision. */
  private within = 0

  constructor(
    subject: Pick<SeatSubject, 'pieces' | 'keepOuts'>,
    motions: readonly Motion[],
    sweeps: Sweeps,
    mostQueries = 500_000,
  ) {
    this.pairs = pairsFor(subject)
    this.motions = motions
    this.sweeps = sweeps
    this.mostQueries = sweeps.queries + mostQueries
  }

  least(within: number): LeastOnTheWay {
    this.within = within
    this.begin()
    const lower = this.search()
    return { ...this.placeOrFirst(), atLeast: Math.min(lower, this.upper), atMost: this.upper }
  }

  decide(atLeast: number): 'proved' | 'undecided' | LeastOnTheWay {
    this.upper = atLeast
    this.begin()
    const lower = this.search()
    if (this.place) return { ...this.place, atLeast: Math.min(lower, this.upper), atMost: this.upper }
    return lower >= atLeast ? 'proved' : 'undecided'
  }

  /** All pairs over all moves by their boxes; and whether the last pose is inside of a closed mesh. */
  private begin(): void {
    const { sweeps, motions, pairs } = this
    for (let m = 0; m < motions.length; m++) {
      const parts = Math.max(1, Math.ceil(motions[m].angle / widestTurn))
      for (let i = 0; i < parts; i++) {
        const [from, to] = [i / parts, (i + 1) / parts]
        for (const pair of pairs) {
          sweeps.load(motions[m], pair.piece, from, to)
          const bound = apart(sweeps.boxGap(pair.obstacle)) - pair.asked
          if (bound < this.upper) this.push({ bound, pair, motion: m, from, to, raw: true })
        }
      }
    }
    this.lookInside()
  }

  /** A surface that is never touched is never passed: inside or outside, the piece is so all the way. */
  private lookInside(): void {
    const last = this.motions.length - 1
    for (const pair of this.pairs) {
      if (pair.obstacle.kind !== 'mesh') continue
      this.sweeps.load(this.motions[last], pair.piece, 1, 1)
      const margin = -touch - pair.asked
      if (!this.sweeps.startsInside(pair.obstacle) || margin >= this.upper) continue
      const [x, y, z] = pair.piece.points
      const { turn, at } = placeAtEnd(this.motions[last])
      const point = [0, 1, 2].map((k) => turn[3 * k] * x + turn[3 * k + 1] * y + turn[3 * k + 2] * z + at[k])
      const here = [point[0], point[1], point[2]] as const
      this.take(margin, pair, last, 1, here, here)
    }
  }

  private search(): number {
    const { heap, sweeps, within } = this
    for (;;) {
      const top = heap[0]
      if (!top || top.bound >= this.upper) return this.upper
      if (this.isNearEnough(top.bound, top.pair)) return top.bound
      const isDone = this.motions[top.motion].angle === 0 || top.to - top.from < shortest
      if (isDone && !top.raw) return top.bound
      if (sweeps.queries > this.mostQueries || (within === 0 && this.place)) return top.bound
      this.pop()
      if (top.raw) this.look(top, top.from, top.to)
      else {
        const middle = (top.from + top.to) / 2
        this.look(top, top.from, middle)
        this.look(top, middle, top.to)
      }
    }
  }

  /** Whether a lower bound leaves no more open than was asked for. */
  private isNearEnough(bound: number, { piece: { excess } }: Pair): boolean {
    const { within } = this
    return bound >= this.upper - Math.max(within, excess > 0 && within > 0 ? excess + within / 2 : 0)
  }

  private look(item: Item, from: number, to: number): void {
    const { sweeps, motions } = this
    const { pair, motion } = item
    const { piece, obstacle, asked } = pair
    sweeps.load(motions[motion], piece, from, to)
    const cut = this.cutFor(pair)
    const gap = sweeps.gap(obstacle, cut)
    if (gap >= cut) return
    // What a plain shift sweeps over is the hull of its two ends and no more: the pair found is one of its poses.
    const bound = Math.max(apart(gap) - asked, item.bound)
    if (motions[motion].angle === 0) this.takeNear(pair, motion, sweeps.shareOfNear(24))
    // A pose there could only say more of what is known well enough.
    else if (!this.isNearEnough(bound, pair)) this.meet(pair, motion, sweeps.shareOfNear(7))
    if (bound < this.upper) this.push({ bound, pair, motion, from, to, raw: false })
  }

  /** Gap from which on a pair is of no interest, mm; a touch always is. */
  private cutFor({ asked }: Pair): number {
    return Math.max(this.upper + asked, touch)
  }

  /** The margin of a pair at one pose. */
  private meet(pair: Pair, motion: number, share: number): void {
    const { sweeps } = this
    sweeps.load(this.motions[motion], pair.piece, share, share)
    const cut = this.cutFor(pair)
    if (sweeps.gap(pair.obstacle, cut) < cut) this.takeNear(pair, motion, share)
  }

  /** What encloses a real part is nearer than the part itself by its excess at most. */
  private takeNear(pair: Pair, motion: number, share: number): void {
    const { near } = this.sweeps
    const { excess } = pair.piece
    const gap = excess > 0 ? near.atMost + excess : apart(near.atMost)
    const margin = gap - pair.asked
    if (margin >= this.upper) return
    this.take(margin, pair, motion, share, [near.ax, near.ay, near.az], [near.bx, near.by, near.bz])
  }

  private take(
    margin: number,
    { piece, keepOut }: Pair,
    move: number,
    share: number,
    onPart: readonly [number, number, number],
    onKeepOut: readonly [number, number, number],
  ): void {
    this.upper = margin
    this.place = { move, share, part: piece.part, keepOut: keepOut.id, onPart, onKeepOut }
  }

  /** Where no pose was ever below the bound (a decision), there is no place; a search for the least always has one. */
  private placeOrFirst(): Omit<LeastOnTheWay, 'atLeast' | 'atMost'> {
    if (!this.place) throw new Error('a path past no keep-outs has no least margin')
    return this.place
  }

  private push(item: Item): void {
    const { heap } = this
    let at = heap.length
    heap.push(item)
    while (at > 0) {
      const parent = (at - 1) >> 1
      if (heap[parent].bound <= item.bound) break
      heap[at] = heap[parent]
      at = parent
    }
    heap[at] = item
  }

  private pop(): void {
    const { heap } = this
    const last = heap.pop()
    if (!last || heap.length === 0) return
    let at = 0
    for (let child = 1; child < heap.length; child = 2 * at + 1) {
      if (child + 1 < heap.length && heap[child + 1].bound < heap[child].bound) child++
      if (heap[child].bound >= last.bound) break
      heap[at] = heap[child]
      at = child
    }
    heap[at] = last
  }
}

const apart = (gap: number): number => (gap > 0 ? gap : -touch)

const known = new WeakMap<object, readonly Pair[]>()

/** The pairs of a subject, made once. */
export function pairsFor(subject: Pick<SeatSubject, 'pieces' | 'keepOuts'>): readonly Pair[] {
  const there = known.get(subject)
  if (there) return there
  const pairs = pairsOf(subject)
  known.set(subject, pairs)
  return pairs
}

function placeAtEnd(motion: Motion): { turn: Float64Array; at: Float64Array } {
  const out = new Float64Array(12)
  motion.place(1, out)
  return { turn: out.subarray(0, 9), at: out.subarray(9) }
}
