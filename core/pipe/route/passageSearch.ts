import { BoundQueue } from '../../clearance/boundQueue.ts'
import { distance, type Vec3 } from '../../shape/vec.ts'
import type { CellTree } from './cellTree.ts'
import { holds } from './cell.ts'
import { drawWay, type Way } from './drawWay.ts'
import { type Ball, barredSides, endSlack, freeFrom, type Keeper, type RoomKeeper } from './keepers.ts'
import { PassageCells } from './passageCells.ts'
import type { RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** Bounds on the passage that are as near as this are near enough: mm, and a share of the room. */
const tolerance = 0.02
const share = 0.01
/** A diameter to spare on each side is ample: there this share is near enough. */
const ampleShare = 0.8
/** From here on it is found out whether it is open, mm. */
const finestSign = 1e-3
/** A cell whose middle is too narrow is cut before it is gone through, while its side is longer than this share of what is kept. */
const coarse = 0.6

/**
 * Widest way for a point from the end of one end straight to that of the other, through cells that share sides.
 *
 * Cells are flooded from the beginning, the one with the highest bound on its room first. Whatever way there is leaves what
 * is flooded through a cell next to it; so no way has more room than the highest bound among these, and the lowest such
 * value ever met bounds the passage (`atMost`), whenever the search ends. As the flood reaches the other end, the way
 * through its cells is drawn, pushed to where it has room, and measured: that is `atLeast`. Cells where it is narrower than
 * the bound are cut in eight, what was flooded through them is given up, and the flood goes on.
 *
 * Going through sides is enough: cells are closed, and a way through an edge or a corner touches the cells that share sides
 * there too.
 */
export class PassageSearch {
  /** Proved: no way within the box has more room, mm. */
  atMost: number
  /** Proved: some way has this much; −`most` while none was found. */
  atLeast: number
  way: Way | null = null
  /** The cell that `atMost` comes from: its middle and longest side, and the obstacles that close it. */
  pinch: { readonly at: Vec3; readonly side: number; readonly obstacles: readonly number[] } | null = null
  /** Once `atMost` is negative: whether nothing leads out of the box from the closed-off end either. */
  closedEverywhere = false
  private readonly cells: PassageCells
  private readonly tree: CellTree
  private readonly start: Ball
  private readonly goal: Ball
  private readonly leastKeep: number
  private readonly ample: number
  private readonly barred: number
  /** Flooded: number in the order of flooding from 1; 0: not. */
  private flooded = new Int32Array(1024)
  private waiting = new Uint8Array(1024)
  /** From which cell it was flooded; −1 at the start. */
  private via = new Int32Array(1024)
  private order: number[] = []
  private readonly through = new BoundQueue(1024)
  private readonly below = new BoundQueue(1024)
  private readonly around: number[] = []
  private readonly work: Work
  private counted = 0
  private drawn = 0
  private budget: number

  /**
   * @param most room beyond which it is all the same, mm
   * @param budget distances to be measured at most
   */
  constructor(problem: RouteProblem, keepers: readonly Keeper[], most: number, work: Work, budget: number) {
    this.work = work
    this.budget = budget
    this.start = { at: freeFrom(problem.from), radius: endSlack(problem.from) }
    this.goal = { at: freeFrom(problem.to), radius: endSlack(problem.to) }
    this.leastKeep = Math.min(...keepers.map(({ keep }) => keep))
    this.atMost = most
    this.ample = 2 * problem.radius
    this.atLeast = -Math.max(...keepers.map(({ keep }) => keep))
    this.cells = new PassageCells(problem, keepers, most)
    this.tree = this.cells.tree
    this.makeRoom()
    this.barred = barredSides(problem.box, keepers).reduce((bits, is, side) => bits | (is ? 1 << side : 0), 0)
  }

  /** Goes on until the bounds meet, the cells are too small, or the work is done. */
  run(): void {
    for (const cell of this.tree.leavesAt(this.start.at, this.start.radius)) this.enqueue(cell)
    while (!this.isNarrowedDown() && !this.isSpent()) {
      const cell = this.next()
      if (cell < 0) return
      if (!this.tree.isLeaf(cell) || this.flooded[cell] > 0) continue
      const from = this.floodedBeside(cell)
      if (from === undefined) continue
      if (this.valueOf(cell) < this.atMost) this.lower(cell)
      if (this.isTooCoarse(cell)) this.cut(cell)
      else if (this.flood(cell, from) && !this.reached(cell)) return
    }
  }

  /** So much room on a way is near enough to the bound; whether it is open at all is to be known wherever it can. */
  private get wanted(): number {
    const near = this.atMost - Math.max(tolerance, share * this.atMost)
    if (this.atMost > finestSign && near < 0) return 0
    return Math.min(near, Math.max(this.ample, ampleShare * this.atMost))
  }

  isNarrowedDown(): boolean {
    return this.atLeast >= this.wanted
  }

  private isSpent(): boolean {
    const asked = this.cells.takeAsked() + this.counted
    this.counted = 0
    this.budget -= asked
    return this.budget < 0 || this.work.ends(asked)
  }

  private next(): number {
    const { through, below } = this
    const queue = through.size > 0 ? through : below
    if (!queue.take()) return -1
    this.waiting[queue.first] = 0
    return queue.first
  }

  /** All that is left to go through is narrower than thought: so is the passage. */
  private lower(cell: number): void {
    const wasOpen = this.atMost >= 0
    this.atMost = this.valueOf(cell)
    const { x, y, z } = this.tree.cell(cell)
    this.pinch = { at: [x, y, z], side: this.tree.sideOf(cell), obstacles: this.cells.closersOf(cell) }
    if (!wasOpen || this.atMost >= 0) return
    // From here on the work only finds out by how much.
    this.budget = Math.min(this.budget, closedBudget)
    this.closedEverywhere = this.isEnclosed(this.order) || this.isGoalEnclosed()
  }

  private isEnclosed(cells: readonly number[]): boolean {
    return cells.every((cell) => (this.tree.sidesOf(cell) & ~this.barred) === 0)
  }

  /** Whether what can be reached from the other end stays in the box. */
  private isGoalEnclosed(): boolean {
    const seen = new Set(this.tree.leavesAt(this.goal.at, this.goal.radius))
    const beside: number[] = []
    for (const cell of seen) {
      if (this.valueOf(cell) < 0) continue
      if (!this.isEnclosed([cell]) || this.isSpent()) return false
      const count = this.tree.neighbours(cell, beside)
      for (let i = 0; i < count; i++) seen.add(beside[i])
    }
    return true
  }

  private isTooCoarse(cell: number): boolean {
    const { tree, atMost, leastKeep } = this
    if (!tree.canSplit(cell)) return false
    if (this.cells.isAcross(cell)) return true
    if (this.cells.middleOf(cell) >= atMost) return false
    return tree.sideOf(cell) > coarse * Math.max(leastKeep + atMost, leastKeep / 2)
  }

  private cut(cell: number): void {
    const first = this.cells.split(cell)
    this.makeRoom()
    for (let part = first; part < first + 8; part++) if (this.floodedBeside(part) !== undefined) this.enqueue(part)
  }

  /** A flooded cell beside this one, −1 where it lies at the start, undefined where it cannot be entered (any more). */
  private floodedBeside(cell: number): number | undefined {
    if (this.tree.comesWithin(cell, this.start.at, this.start.radius)) return -1
    const count = this.tree.neighbours(cell, this.around)
    for (let i = 0; i < count; i++) if (this.flooded[this.around[i]] > 0) return this.around[i]
    return undefined
  }

  get keepers(): readonly RoomKeeper[] {
    return this.cells.keepers
  }

  /** Whether what is open about the ends lies there. */
  isOpenAt(point: Vec3): boolean {
    return this.cells.open.some((block) => holds(block, point))
  }

  /** @returns whether this is the goal */
  private flood(cell: number, from: number): boolean {
    this.order.push(cell)
    this.flooded[cell] = this.order.length
    this.via[cell] = from
    const beside = this.around
    const count = this.tree.neighbours(cell, beside)
    for (let i = 0; i < count; i++) if (this.flooded[beside[i]] === 0) this.enqueue(beside[i])
    return this.tree.comesWithin(cell, this.goal.at, this.goal.radius)
  }

  private enqueue(cell: number): void {
    if (this.waiting[cell] !== 0) return
    this.waiting[cell] = 1
    const value = this.valueOf(cell)
    if (value < this.atMost) {
      this.below.push(-value, cell, 0)
      return
    }
    const { x, y, z } = this.tree.cell(cell)
    const narrow = Math.max(0, this.atMost - this.cells.middleOf(cell))
    this.through.push(distance([x, y, z], this.goal.at) + narrowCost * narrow, cell, 0)
  }

  private valueOf(cell: number): number {
    return this.cells.boundOf(cell, this.atMost, this.atLeast)
  }

  /** Draws and measures the way to the goal. @returns false where nothing can be made finer */
  private reached(goal: number): boolean {
    const cells: number[] = []
    for (let cell = goal; cell >= 0; cell = this.via[cell]) cells.push(cell)
    cells.reverse()
    const ends = [this.start.at, this.goal.at] as const
    const drawn = drawWay(this.cells, ends, cells, this.atMost, this.wanted)
    this.counted += drawn.asked
    this.offer(drawn)
    if (this.isNarrowedDown()) return true
    const finer = [...drawn.narrow].filter((cell) => this.tree.canSplit(cell))
    if (finer.length === 0 || ++this.drawn >= mostWays) return false
    this.giveUp(finer)
    return true
  }

  /** Takes a way that has more room than what is known. */
  offer(way: Way | null): void {
    if (!way || (this.way && way.room <= this.way.room)) return
    this.way = way
    this.atLeast = Math.max(this.atLeast, way.room)
  }

  /** Cuts flooded cells, takes back what was flooded through them, and lets the flood in again from what is left. */
  private giveUp(cells: readonly number[]): void {
    const first = Math.min(...cells.map((cell) => this.flooded[cell]))
    for (const cell of cells) this.flooded[cell] = 0
    const kept = this.order.slice(0, first - 1)
    const given: number[] = []
    for (const cell of this.order.slice(first - 1)) {
      const from = this.via[cell]
      if (this.flooded[cell] > 0 && (from < 0 || this.flooded[from] > 0)) {
        kept.push(cell)
        this.flooded[cell] = kept.length
      } else {
        this.flooded[cell] = 0
        given.push(cell)
      }
    }
    this.order = kept
    const cut = new Set(cells)
    for (const cell of cells) this.cut(cell)
    for (const cell of given) if (!cut.has(cell) && this.floodedBeside(cell) !== undefined) this.enqueue(cell)
    this.counted += given.length
  }

  private makeRoom(): void {
    if (this.tree.count <= this.flooded.length) return
    const size = 2 * this.tree.count
    this.flooded = grown(this.flooded, new Int32Array(size))
    this.waiting = grown(this.waiting, new Uint8Array(size))
    this.via = grown(this.via, new Int32Array(size))
  }
}

/** What a way costs for each mm that the middle of a cell is too narrow, in mm of way: it goes where room is certain. */
const narrowCost = 5
/** Ways drawn before the bounds are given as they are. */
const mostWays = 150
/** Once nothing gets through, so many distances more to find out by how much. */
const closedBudget = 300_000

function grown<T extends Int32Array | Uint8Array>(old: T, into: T): T {
  into.set(old)
  return into
}
