import { repaired, Standard } from './incumbent.ts'
import { aimOf, type Cell, type Problem } from './problem.ts'
import { improved, type Room } from './tangents.ts'
import { tiltAt } from './unknowns.ts'
import type { View } from './view.ts'

/** A core that stands clear. */
export interface Core {
  readonly faces: Float64Array
  readonly view: View
  /** Logarithm of what is made as large as can be. */
  readonly aim: number
}

/** How far around a core a better one is looked for, mm. */
const near = 2

/** The best core of a search so far, and the ways of coming to a better one from where the bound points. */
export class Answers {
  best: Core | undefined
  /** Tries in a row that came to nothing. */
  failures = 0
  /** The best where it was found here and is not polished yet. */
  private own: Core | undefined
  private readonly problem: Problem
  /** In a view without a range every try is at its one tilt. */
  private readonly here: Standard | undefined
  /** Told of every pair that the keep-outs bring up. */
  private readonly hear: (codes: readonly number[]) => void

  constructor(problem: Problem, best: Core | undefined, hear: (codes: readonly number[]) => void) {
    this.problem = problem
    this.best = best
    this.hear = hear
    if (problem.view.half === 0) this.here = new Standard(problem, problem.view)
  }

  get aim(): number {
    return this.best?.aim ?? -Infinity
  }

  /** The program's point stands clear but for next to nothing: it becomes an answer, and a better one near it is tried. */
  takeClear(cell: Cell, x: Float64Array): void {
    this.repair(cell, x)
    const standard = this.standardAt(x[tiltAt])
    const found: number[] = []
    const core = improved(standard, x, this.roomOf(cell, x), cell.open, this.aim, found)
    this.hear(found)
    if (core) this.offer(core, standard.view)
  }

  private standardAt(tilt: number): Standard {
    if (!this.here) return new Standard(this.problem, this.problem.view.at(tilt))
    this.here.seen.update()
    return this.here
  }

  /** From a point of a cell to a core that stands clear: faces are drawn in, or the core is shifted. */
  repair(cell: Cell, x: Float64Array): void {
    const standard = this.standardAt(x[tiltAt])
    const found: number[] = []
    const least = this.aim
    const core =
      repaired(standard, x.slice(), cell.open, least, found) ??
      // A size that is fixed leaves nothing to be drawn in: the core has to be shifted.
      (this.isFixed(cell) ? improved(standard, x, this.roomOf(cell, x), cell.open, least, found) : undefined)
    this.hear(found)
    if (!core || !this.offer(core, standard.view)) {
      this.failures++
      return
    }
    this.failures = 0
    const more: number[] = []
    const room = this.roomAbout(core)
    const better = improved(standard, core, room, cell.open, this.aim, more)
    this.hear(more)
    if (better) this.offer(better, standard.view)
  }

  /** The answer's neighbourhood again, with the logarithm's slope taken anew where it stands, as long as that helps. */
  polish(heard: () => Int32Array): void {
    const from = this.own
    this.own = undefined
    if (!from || from !== this.best) return
    const standard = this.here ?? new Standard(this.problem, from.view)
    for (let round = 0; round < 6; round++) {
      const { best } = this
      if (!best) return
      const start = Float64Array.of(...best.faces, 0)
      // What is near, seen from where the core stands: its tangents lean the right way.
      this.hear(this.problem.ask(start, standard.view, 0, near).codes)
      standard.seen.update()
      const better = improved(standard, start, this.roomAbout(start), heard(), best.aim + 1e-9, [])
      if (!better || !this.offer(better, standard.view)) return
    }
  }

  /** A cell and what is around its point: cells grow thinner than what proof and answer keep differently. */
  private roomOf({ low, high, most, least }: Cell, x: Float64Array): Room {
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
    if (!(aim > this.aim)) return false
    this.best = this.own = { faces: faces.slice(0, 6), view, aim }
    return true
  }
}
