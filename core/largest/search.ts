import { byObstacle } from './branching.ts'
import { CellQueue } from './cellQueue.ts'
import { byHalving, bySize } from './halving.ts'
import { haveable, repaired, Standard } from './incumbent.ts'
import { aimOf, type Cell, type Problem } from './problem.ts'
import { tiltAt } from './unknowns.ts'
import { propagate } from './propagate.ts'
import { Relaxation } from './relaxation.ts'
import { brokenBy } from './secant.ts'
import { moved } from './standing.ts'
import { improved, type Room } from './tangents.ts'
import type { View } from './view.ts'

/** A core that stands clear. */
export interface Core {
  readonly faces: Float64Array
  readonly view: View
  /** Logarithm of what is made as large as can be. */
  readonly aim: number
}

export interface SearchOptions {
  /** The search ends when no core is larger than the best by more than this share. */
  readonly within: number
  /** Cells looked at by `run`, at most. */
  readonly work: number
  readonly best?: Core
  /** The first core found ends the search. */
  readonly first?: boolean
  readonly stop: () => 'time' | 'cancelled' | null
  readonly progress: (best: Core | undefined, bound: number, work: number) => void
}

export interface SearchResult {
  readonly best?: Core
  /** Proved: no core of the problem has a greater aim, or the best one's own aim and `within`. */
  readonly bound: number
  /** 'unresolved': what is left open is too narrow to be told apart. */
  readonly end: 'proved' | 'work' | 'time' | 'cancelled' | 'first' | 'unresolved'
  readonly work: number
}

/** Keep-outs are asked only where what is known of them is kept this nearly, mm. */
const askBelow = 3
/** Points broken by less are not worth a cut, mm. */
const ignored = 0.002
const askRounds = 3
/** How far around a new best core a better one is looked for at once, mm. */
const near = 2

/**
 * Best-first branch and bound over cells of faces. Cells are bounded by secants, drawn in by what they must keep, and
 * split on the obstacle that leaves least; what the keep-outs look like is asked only where it matters.
 * Nothing here depends on a clock: the same problem gives the same answer wherever `stop` stays silent.
 */
export class TreeSearch {
  private readonly problem: Problem
  private readonly options: SearchOptions
  private readonly queue = new CellQueue()
  private readonly relaxation: Relaxation
  /** Codes in the order they were found. */
  private heard = new Int32Array(4096)
  private heardCount = 0
  private readonly known = new Set<number>()
  private best: Core | undefined
  /** The best where it was found here and is not polished yet. */
  private own: Core | undefined
  private readonly here: Standard | undefined
  /** Highest bound of the cells that could not be told apart any more. */
  private unresolved = -Infinity
  private work = 0
  private failures = 0

  constructor(problem: Problem, options: SearchOptions) {
    this.problem = problem
    this.options = options
    this.best = options.best
    this.relaxation = new Relaxation(problem.view.half > 0)
    if (problem.view.half === 0) this.here = new Standard(problem, problem.view)
  }

  run(root: Cell): SearchResult {
    this.begin(root)
    return this.advance(this.options.work)
  }

  begin(root: Cell): void {
    this.queue.push(root)
  }

  /** A core found elsewhere. */
  hearOf(core: Core | undefined): void {
    if (core && core.aim > (this.best?.aim ?? -Infinity)) this.best = core
  }

  /** Looks at so many more cells; may be called again where it ended with 'work'. */
  advance(work: number): SearchResult {
    const { queue, options } = this
    const most = this.work + work
    for (;;) {
      const cell = queue.take()
      if (!cell || !(cell.bound > this.wanted())) return this.ended('proved', -Infinity)
      if (this.work % 16 === 0) options.progress(this.best, Math.max(cell.bound, this.unresolved), this.work)
      const stop = options.stop() ?? (this.work >= most ? 'work' : null)
      if (stop) {
        queue.push(cell)
        return this.ended(stop, cell.bound)
      }
      this.work++
      this.look(cell)
      if (options.first && this.best) return this.ended('first', Math.max(cell.bound, queue.highest()))
    }
  }

  private ended(end: SearchResult['end'], open: number): SearchResult {
    if (this.best && this.best === this.own && !this.options.first) this.polish(this.best)
    this.own = undefined
    const settled = this.best ? this.wanted() : -Infinity
    const bound = Math.max(open, settled, this.unresolved)
    const isOpen = end === 'proved' && this.unresolved > settled
    return { best: this.best, bound, end: isOpen ? 'unresolved' : end, work: this.work }
  }

  /** Aim that a core must beat to be of interest. */
  private wanted(): number {
    return this.best ? this.best.aim + Math.log1p(this.options.within) : -Infinity
  }

  private look(cell: Cell): void {
    const { problem, relaxation } = this
    const before = cell.bound
    this.tell(cell)
    if (!propagate(problem, cell, this.wanted())) return
    const state = this.tighten(cell)
    if (state === 'empty' || !(cell.bound > this.wanted())) return
    // The more often it failed, the more seldom it is tried.
    if (state !== 'clear' && this.work % (1 + Math.min(15, this.failures >> 4)) === 0) this.repair(cell)
    if (!(cell.bound > this.wanted())) return
    if (cell.bound < before - 5e-5 && cell.bound < this.queue.highest()) {
      this.queue.push(cell)
      return
    }
    this.branch(cell, relaxation.x, state === 'clear')
  }

  /** Adds to the cell's open pairs what was found elsewhere since. */
  private tell(cell: Cell): void {
    if (cell.heard === this.heardCount) return
    const open = new Int32Array(cell.open.length + this.heardCount - cell.heard)
    open.set(cell.open)
    open.set(this.heard.subarray(cell.heard, this.heardCount), cell.open.length)
    cell.open = open
    cell.heard = this.heardCount
  }

  /** Takes in codes that are new; how many were. */
  private hear(all: readonly number[]): number {
    const codes = all.filter((code) => !this.known.has(code))
    for (const code of codes) this.known.add(code)
    if (this.heardCount + codes.length > this.heard.length) {
      const longer = new Int32Array(2 * (this.heardCount + codes.length))
      longer.set(this.heard)
      this.heard = longer
    }
    this.heard.set(codes, this.heardCount)
    this.heardCount += codes.length
    this.problem.seen.update()
    this.here?.seen.update()
    return codes.length
  }

  /** Bounds the cell and asks the keep-outs at the program's point, until either has nothing more to say. */
  private tighten(cell: Cell): 'empty' | 'clear' | 'open' {
    const { problem, relaxation } = this
    for (let round = 0; ; round++) {
      moved.faces = false
      const before = cell.bound
      if (round === 0 && cell.rest > 0) {
        cell.rest--
        relaxation.outermost(cell)
        if (this.mostBroken(cell) > askBelow) return 'open'
      }
      if (!relaxation.run(problem, cell, this.wanted())) return 'empty'
      const isIdle = before - cell.bound < 0.003 && cell.bound > this.wanted() + 0.01
      if (round === 0 && cell.rest === 0) cell.rest = isIdle ? 2 : 0
      if (moved.faces && !propagate(problem, cell, this.wanted())) return 'empty'
      if (this.mostBroken(cell) > askBelow) return 'open'
      // What is known already, and yet too near, is owed to what a range of tilts is loosened by.
      if (this.hear(this.askAt(relaxation.x)) === 0) {
        this.takeClear(cell)
        return 'clear'
      }
      this.tell(cell)
      if (!propagate(problem, cell, this.wanted())) return 'empty'
      if (round >= askRounds) return 'open'
    }
  }

  private mostBroken({ open }: Cell): number {
    let most = 0
    for (let j = 0; j < open.length; j++) most = Math.max(most, brokenBy(this.problem, open[j], this.relaxation.x))
    return most
  }

  private askAt(x: Float64Array): readonly number[] {
    const { problem } = this
    const core = haveable(problem.sizes, x) ?? x
    return problem.ask(core, problem.view.at(x[tiltAt]), ignored, 0).codes
  }

  /** The program's point stands clear but for next to nothing: it becomes an answer, and a better one near it is tried. */
  private takeClear(cell: Cell): void {
    this.repair(cell)
    const standard = this.standardAt(this.relaxation.x[tiltAt])
    const found: number[] = []
    const { x } = this.relaxation
    const core = improved(standard, x, this.roomOf(cell), cell.open, this.best?.aim ?? -Infinity, found)
    this.hear(found)
    if (core) this.offer(core, standard.view)
  }

  private standardAt(tilt: number): Standard {
    return this.here ?? new Standard(this.problem, this.problem.view.at(tilt))
  }

  private repair(cell: Cell): void {
    const standard = this.standardAt(this.relaxation.x[tiltAt])
    const found: number[] = []
    const least = this.best?.aim ?? -Infinity
    const { x } = this.relaxation
    const core =
      repaired(standard, x.slice(), cell.open, least, found) ??
      // A size that is fixed leaves nothing to be drawn in: the core has to be shifted.
      (this.isFixed(cell) ? improved(standard, x, this.roomOf(cell), cell.open, least, found) : undefined)
    this.hear(found)
    if (!core || !this.offer(core, standard.view)) {
      this.failures++
      return
    }
    this.failures = 0
    const more: number[] = []
    const room = this.roomAbout(core)
    const better = improved(standard, core, room, cell.open, this.best?.aim ?? -Infinity, more)
    this.hear(more)
    if (better) this.offer(better, standard.view)
  }

  /** The answer's neighbourhood again, with the logarithm's slope taken anew where it stands, as long as that helps. */
  private polish(from: Core): void {
    const standard = this.here ?? new Standard(this.problem, from.view)
    for (let round = 0; round < 6; round++) {
      const best = this.best as Core
      const start = Float64Array.of(...best.faces, 0)
      // What is near, seen from where the core stands: its tangents lean the right way.
      this.hear(this.problem.ask(start, standard.view, 0, near).codes)
      standard.seen.update()
      const codes = this.heard.slice(0, this.heardCount)
      const better = improved(standard, start, this.roomAbout(start), codes, best.aim + 1e-9, [])
      if (!better || !this.offer(better, standard.view)) return
    }
  }

  /** A cell and what is around its point: cells grow thinner than what proof and answer keep differently. */
  private roomOf({ low, high, most, least }: Cell): Room {
    const { x } = this.relaxation
    const about = this.roomAbout(x)
    return {
      low: about.low.map((v, j) => Math.min(v, low[j])),
      high: about.high.map((v, j) => Math.max(v, high[j])),
      most,
      least,
    }
  }

  private roomAbout(core: Float64Array): Room {
    const { low, high, sizes } = this.problem
    return {
      low: low.map((x, j) => (j < tiltAt ? Math.max(x, core[j] - near) : 0)),
      high: high.map((x, j) => (j < tiltAt ? Math.min(x, core[j] + near) : 0)),
      most: Float64Array.from(sizes, (size) => size.most),
      least: Float64Array.from(sizes, (size) => size.least),
    }
  }

  private isFixed({ most, least }: Cell): boolean {
    return this.problem.sizes.some(({ stepped }, k) => stepped || most[k] - least[k] < 1e-6)
  }

  private offer(faces: Float64Array, view: View): boolean {
    const aim = aimOf(this.problem.shares, faces)
    if (!(aim > (this.best?.aim ?? -Infinity))) return false
    this.best = this.own = { faces: faces.slice(0, 6), view, aim }
    return true
  }

  private branch(cell: Cell, x: Float64Array, isClear: boolean): void {
    const { problem, queue } = this
    const broken = cell.open.filter((code) => brokenBy(problem, code, x) > 0)
    const children =
      bySize(problem, cell, x, isClear) ??
      byObstacle(problem, cell, broken, this.wanted()) ??
      byHalving(problem, cell, x, broken)
    if (!children) this.unresolved = Math.max(this.unresolved, cell.bound)
    else for (const child of children) queue.push(child)
  }
}
