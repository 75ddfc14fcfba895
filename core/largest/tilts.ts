import { type CoreQuestion, problemIn, viewOf } from './coreProblem.ts'
import { type Core, TreeSearch } from './search.ts'

export interface TiltRange {
  /** Degrees. */
  readonly min: number
  readonly max: number
}

export interface SolveOptions {
  readonly within: number
  /** Cells looked at, at most, all searches together. */
  readonly work: number
  readonly best?: Core
  readonly stop: () => 'time' | 'cancelled' | null
  readonly progress: (best: Core | undefined, bound: number, work: number) => void
}

export interface Solved {
  readonly best?: Core
  /** Logarithm; no core at any tilt of the range has more. −Infinity where there is none at all. */
  readonly bound: number
  readonly stopped: 'proved' | 'work' | 'time' | 'cancelled'
  readonly work: number
}

/** The largest core over a range of tilts; at one tilt where the range is none. */
export const solved = (question: CoreQuestion, range: TiltRange, options: SolveOptions): Solved =>
  range.min === range.max ? atOneTilt(question, range.min, options) : new TiltSearch(question, range, options).run()

function atOneTilt(question: CoreQuestion, tilt: number, options: SolveOptions): Solved {
  const made = problemIn(question, viewOf(question, tilt))
  if (!made) return { best: options.best, bound: options.best?.aim ?? -Infinity, stopped: 'proved', work: 0 }
  const { best, bound, end, work } = new TreeSearch(made.problem, options).run(made.root)
  return { best, bound, stopped: end === 'first' ? 'proved' : end, work }
}

/** Tilts that are tried first, as shares of the way from the middle to an end. */
const firstTries = [0, 0.1, -0.1, 0.25, -0.25, 0.45, -0.45, 0.75, -0.75, 1, -1]
const workATry = 600
/** Width of the ranges that are proved one by one, degrees; those that do not come to an end are halved. */
const slabWidth = 1
const workASlab = 400
/** A range as narrow as this is searched to its end, degrees. */
const narrow = 0.005

interface Slab {
  readonly from: number
  readonly to: number
  /** Known from the range that it was part of. */
  readonly bound: number
}

/**
 * Single tilts first, each beginning with the best so far; then the whole range is proved slab by slab, those near the best
 * tilt first. In a slab points move linearly with the tilt, but for ρh²/2, which is taken off what they keep clear.
 */
class TiltSearch {
  private readonly question: CoreQuestion
  private readonly range: TiltRange
  private readonly options: SolveOptions
  private best: Core | undefined
  private proved = -Infinity
  private work = 0
  private slabs: Slab[] = []

  constructor(question: CoreQuestion, range: TiltRange, options: SolveOptions) {
    this.question = question
    this.range = range
    this.options = options
    this.best = options.best
  }

  run(): Solved {
    const { question, range, options } = this
    const most = question.sizes.reduce(
      (sum, size, k) => sum + (question.shares[k] > 0 ? question.shares[k] * Math.log(size.most) : 0),
      0,
    )
    const middle = (range.min + range.max) / 2
    const half = (range.max - range.min) / 2
    this.slabs = [{ from: range.min, to: range.max, bound: most }]
    for (const share of firstTries) {
      const stop = options.stop()
      if (stop) return this.ended(stop)
      // Narrow ranges are as good as one tilt.
      if (share !== 0 && Math.abs(share) * half < 0.25) continue
      this.search(middle + share * half, 0, workATry)
    }
    this.slabs = slabsOf(range, this.best?.view.tilt ?? middle, most)
    for (let slab = this.slabs.shift(); slab; slab = this.slabs.shift()) {
      const stop = this.look(slab)
      if (stop) return this.ended(stop)
    }
    return this.ended('proved')
  }

  private look(slab: Slab): Exclude<Solved['stopped'], 'proved'> | null {
    const { options } = this
    const stop = options.stop() ?? (this.work >= options.work ? 'work' : null)
    if (stop) {
      this.slabs.unshift(slab)
      return stop
    }
    if (slab.bound <= this.wanted()) {
      this.proved = Math.max(this.proved, slab.bound)
      return null
    }
    const { from, to } = slab
    const middle = (from + to) / 2
    const isNarrow = to - from < 2 * narrow
    const found = this.search(middle, (to - from) / 2, isNarrow ? options.work - this.work : workASlab)
    const bound = Math.min(slab.bound, found.bound)
    if (found.end === 'proved' || (isNarrow && found.end === 'work')) {
      this.proved = Math.max(this.proved, bound)
      return found.end === 'proved' ? null : 'work'
    }
    if (found.end === 'work') this.slabs.unshift({ from, to: middle, bound }, { from: middle, to, bound })
    else this.slabs.unshift({ from, to, bound })
    return found.end === 'work' || found.end === 'first' ? null : found.end
  }

  private search(tilt: number, half: number, work: number) {
    const { question, options } = this
    const made = problemIn(question, viewOf(question, tilt, half))
    if (!made) return { bound: -Infinity, end: 'proved' as const }
    const found = new TreeSearch(made.problem, {
      ...options,
      work,
      best: this.best,
      progress: (best, bound, done) => options.progress(best, this.boundWith(bound), this.work + done),
    }).run(made.root)
    this.best = found.best
    this.work += found.work
    return found
  }

  private wanted(): number {
    return this.best ? this.best.aim + Math.log1p(this.options.within) : -Infinity
  }

  private boundWith(bound: number): number {
    return this.slabs.reduce((most, slab) => Math.max(most, slab.bound), Math.max(bound, this.proved))
  }

  private ended(stopped: Solved['stopped']): Solved {
    const bound = Math.max(this.boundWith(-Infinity), this.best?.aim ?? -Infinity)
    const isProved = this.best ? bound <= this.wanted() + 1e-12 : stopped === 'proved'
    return { best: this.best, bound, stopped: isProved ? 'proved' : stopped, work: this.work }
  }
}

/** The range in slabs of equal width, those nearest to a tilt first. */
function slabsOf({ min, max }: TiltRange, about: number, bound: number): Slab[] {
  const count = Math.max(1, Math.ceil((max - min) / slabWidth - 1e-9))
  const at = (i: number) => (i === count ? max : min + ((max - min) * i) / count)
  return Array.from({ length: count }, (_, i) => ({ from: at(i), to: at(i + 1), bound })).sort(
    (a, b) => Math.abs(a.from + a.to - 2 * about) - Math.abs(b.from + b.to - 2 * about) || a.from - b.from,
  )
}
