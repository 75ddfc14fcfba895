import { Answers, type Core } from './answers.ts'
import { byObstacle } from './branching.ts'
import { CellQueue } from './cellQueue.ts'
import { byHalving, bySize } from './halving.ts'
import { haveable } from './incumbent.ts'
import type { Cell, Problem } from './problem.ts'
import { tiltAt } from './unknowns.ts'
import { propagate } from './propagate.ts'
import { Relaxation } from './relaxation.ts'
import { brokenBy } from './secant.ts'
import { moved } from './standing.ts'

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
  private readonly answers: Answers
  /** Highest bound of the cells that could not be told apart any more. */
  private unresolved = -Infinity
  private work = 0

  constructor(problem: Problem, options: SearchOptions) {
    this.problem = problem
    this.options = options
    this.answers = new Answers(problem, options.best, (codes) => this.hear(codes))
    this.relaxation = new Relaxation(problem.view.half > 0)
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
    if (core && core.aim > this.answers.aim) this.answers.best = core
  }

  /** Looks at so many more cells; may be called again where it ended with 'work'. */
  advance(work: number): SearchResult {
    const { queue, options } = this
    const most = this.work + work
    for (;;) {
      const cell = queue.take()
      if (!cell || !(cell.bound > this.wanted())) return this.ended('proved', -Infinity)
      if (this.work % 16 === 0) options.progress(this.answers.best, Math.max(cell.bound, this.unresolved), this.work)
      const stop = options.stop() ?? (this.work >= most ? 'work' : null)
      if (stop) {
        queue.push(cell)
        return this.ended(stop, cell.bound)
      }
      this.work++
      this.look(cell)
      if (options.first && this.answers.best) return this.ended('first', Math.max(cell.bound, queue.highest()))
    }
  }

  private ended(end: SearchResult['end'], open: number): SearchResult {
    const { answers } = this
    if (!this.options.first) answers.polish(() => this.heard.slice(0, this.heardCount))
    const settled = answers.best ? this.wanted() : -Infinity
    const bound = Math.max(open, settled, this.unresolved)
    const isOpen = end === 'proved' && this.unresolved > settled
    return { best: answers.best, bound, end: isOpen ? 'unresolved' : end, work: this.work }
  }

  /** Aim that a core must beat to be of interest. */
  private wanted(): number {
    return this.answers.aim + Math.log1p(this.options.within)
  }

  private look(cell: Cell): void {
    const { problem, relaxation } = this
    const before = cell.bound
    this.tell(cell)
    if (!propagate(problem, cell, this.wanted())) return
    const state = this.tighten(cell)
    if (state === 'empty' || !(cell.bound > this.wanted())) return
    // The more often it failed, the more seldom it is tried.
    if (state !== 'clear' && this.work % (1 + Math.min(15, this.answers.failures >> 4)) === 0)
      this.answers.repair(cell, relaxation.x)
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
        this.answers.takeClear(cell, relaxation.x)
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
