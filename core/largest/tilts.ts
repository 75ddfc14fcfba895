import { type CoreQuestion, problemIn, viewOf } from './coreProblem.ts'
import type { Core } from './answers.ts'
import { TreeSearch } from './search.ts'

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
  return { best, bound, stopped: end === 'first' || end === 'unresolved' ? 'work' : end, work }
}

/** Tilts that are tried first, as shares of the way from the middle to an end. */
const firstTries = [0, 0.1, -0.1, 0.25, -0.25, 0.45, -0.45, 0.75, -0.75, 1, -1]
const workATry = 1500
/** Width of the ranges that are proved one by one, degrees; those that do not come to an end are halved. */
const slabWidth = 1
/** Work spent on a slab before it is halved: at least this, and twice what a single tilt took. Its halves get more each. */
const workASlab = 400
const moreAHalf = 1.5
/** A slab's turn: then the one of highest bound is next. */
const workATurn = 48
/** A range as narrow as this is not halved any more, degrees. */
const narrow = 0.005

interface Slab {
  readonly from: number
  readonly to: number
  /** Work after which it is halved. */
  readonly most: number
  /** Logarithm; no core of the slab has more. */
  bound: number
  spent: number
  search?: TreeSearch
}

/**
 * Single tilts first, each beginning with the best so far; then the whole range is proved in slabs, the one of highest
 * bound first. In a slab points move linearly with the tilt, but for ρh²/2, which is taken off what they keep clear.
 */
class TiltSearch {
  private readonly question: CoreQuestion
  private readonly range: TiltRange
  private readonly options: SolveOptions
  private best: Core | undefined
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
    const middle = (range.min + range.max) / 2
    const half = (range.max - range.min) / 2
    const bound = outermost(question, middle, half)
    this.slabs = [{ from: range.min, to: range.max, bound, most: workASlab, spent: 0 }]
    let most = workASlab
    for (const share of firstTries) {
      const stop = options.stop()
      if (stop) return this.ended(stop)
      // Narrow ranges are as good as one tilt.
      if (share !== 0 && Math.abs(share) * half < 0.25) continue
      most = Math.max(most, 2 * this.tryAt(middle + share * half))
    }
    this.slabs = slabsOf(range, this.best?.view.tilt ?? middle).map((slab) => ({ ...slab, bound, most, spent: 0 }))
    for (;;) {
      const slab = this.highest()
      if (!slab || slab.bound <= this.wanted()) return this.ended('proved')
      const stop = options.stop() ?? (this.work >= options.work ? 'work' : null) ?? this.advance(slab)
      if (stop) return this.ended(stop)
    }
  }

  private tryAt(tilt: number): number {
    const { question, options } = this
    const made = problemIn(question, viewOf(question, tilt))
    if (!made) return 0
    const search = new TreeSearch(made.problem, { ...options, work: workATry, best: this.best, progress: this.tell })
    const { best, work } = search.run(made.root)
    this.best = best
    this.work += work
    return work
  }

  private readonly tell = (best: Core | undefined) =>
    this.options.progress(best ?? this.best, this.highest()?.bound ?? -Infinity, this.work)

  /** Of the slabs of highest bound the first. */
  private highest(): Slab | undefined {
    return this.slabs.reduce<Slab | undefined>((top, slab) => (top && top.bound >= slab.bound ? top : slab), undefined)
  }

  private advance(slab: Slab): 'time' | 'cancelled' | 'work' | null {
    slab.search ??= this.searchOf(slab)
    if (!slab.search) {
      slab.bound = -Infinity
      return null
    }
    slab.search.hearOf(this.best)
    const { best, bound, end, work } = slab.search.advance(workATurn)
    this.best = best ?? this.best
    this.work += work - slab.spent
    slab.spent = work
    slab.bound = Math.min(slab.bound, bound)
    if (end === 'proved') {
      slab.search = undefined
      return null
    }
    if (end === 'time' || end === 'cancelled') return end
    const isNarrow = slab.to - slab.from < 2 * narrow
    if (end === 'unresolved' && isNarrow) return 'work'
    if (!isNarrow && (slab.spent >= slab.most || end === 'unresolved')) this.halve(slab)
    return null
  }

  private searchOf({ from, to }: Slab): TreeSearch | undefined {
    const { question, options } = this
    const made = problemIn(question, viewOf(question, (from + to) / 2, (to - from) / 2))
    if (!made) return undefined
    const search = new TreeSearch(made.problem, { ...options, work: 0, best: this.best, progress: this.tell })
    search.begin(made.root)
    return search
  }

  private halve(slab: Slab): void {
    const { from, to, bound } = slab
    const middle = (from + to) / 2
    const half = { bound, most: Math.ceil(slab.most * moreAHalf), spent: 0 }
    this.slabs.splice(this.slabs.indexOf(slab), 1, { from, to: middle, ...half }, { from: middle, to, ...half })
  }

  private wanted(): number {
    return this.best ? this.best.aim + Math.log1p(this.options.within) : -Infinity
  }

  private ended(stopped: Solved['stopped']): Solved {
    const bound = Math.max(this.highest()?.bound ?? -Infinity, this.best?.aim ?? -Infinity)
    const isProved = this.best ? bound <= this.wanted() + 1e-12 : stopped === 'proved'
    return { best: this.best, bound, stopped: isProved ? 'proved' : stopped, work: this.work }
  }
}

/** The range in slabs of equal width, those nearest to a tilt first. */
function slabsOf({ min, max }: TiltRange, about: number): Pick<Slab, 'from' | 'to'>[] {
  const count = Math.max(1, Math.ceil((max - min) / slabWidth - 1e-9))
  const at = (i: number) => (i === count ? max : min + ((max - min) * i) / count)
  return Array.from({ length: count }, (_, i) => ({ from: at(i), to: at(i + 1) })).sort(
    (a, b) => Math.abs(a.from + a.to - 2 * about) - Math.abs(b.from + b.to - 2 * about) || a.from - b.from,
  )
}

/** Aim that no core exceeds by walls and sizes alone, over all tilts of a range. */
function outermost(question: CoreQuestion, middle: number, half: number): number {
  const root = problemIn(question, viewOf(question, middle, half))?.root
  if (!root) return -Infinity
  return question.sizes.reduce((sum, size, k) => {
    const share = question.shares[k]
    return share > 0 ? sum + share * Math.log(Math.min(size.most, root.high[3 + k] - root.low[k])) : sum
  }, 1e-12)
}
