import { askedBy } from '../bay/defaults.ts'
import type { Meshes } from '../bay/part.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { good, type Outcome } from '../fault.ts'
import { eachDepth, type LargestAnswer, type LargestRequest, largest, type NothingFits } from '../largest/largest.ts'
import { candidateOf, ledger } from '../verdict/ledger.ts'
import { isAllowed, sizeBetween } from './allowedSize.ts'
import type { ProvedPath, SeatPath } from './answer.ts'
import { endingAt, gripped } from './edited.ts'
import { findPath } from './find.ts'
import { seat } from './seat.ts'
import { defaultNeed, seatSubject } from './subject.ts'
import { sweptBay } from './sweptBay.ts'

export interface SeatedRequest extends Omit<LargestRequest, 'holds' | 'progress'> {
  /** Clearance wanted on the way, mm; each keep-out's own caps it. Default 3. */
  readonly need?: number
  /** Distance queries of each search for a way in; default 300,000. */
  readonly queries?: number
  readonly progress?: (value: number, upperBound: number) => void
}

/** A core that clears at its seat and comes in by a proved way. */
export interface SeatedCore {
  readonly candidate: Candidate
  /** mm³, or mm² for a face. */
  readonly value: number
  readonly path: ProvedPath
}

export interface SeatedAnswer {
  readonly answer: 'found' | 'none found' | 'nothing fits'
  readonly best: SeatedCore | null
  /** The largest core that clears at its seat, whether it can come in or not: its bound holds for all that can. */
  readonly atSeat: LargestAnswer | NothingFits
  /** No core that comes in by these very shifts has a greater value; null where the way turns, or was not bounded. */
  readonly upperBoundPath: number | null
  /** Keep-outs that the bound of the way does not count: it holds without them. */
  readonly notCounted: readonly string[]
  readonly within: number
  /** 'proved': no core that can be offered up by any way is more than `within` larger. 'work': that is not proved. */
  readonly stopped: 'proved' | 'work' | 'time' | 'cancelled'
}

const defaultQueries = 300_000
/** Halvings between a core that comes in and one that does not. */
const halvings = 6
/** mm; ten times what the search for a way asks for. */
const hair = 0.05
/** Rounds of taking a new way for a larger core. */
const rounds = 3

/**
 * The largest core that clears at its seat and can be offered up to it.
 *
 * Cores that clear are tried in order of size, the candidate as it is among them; each is asked for a way in. A way of shifts
 * alone is then made use of wholly: the largest core that comes in by it is that of a bay in which every keep-out stands along
 * the whole way (see `sweptBay`), and its proved bound is that of the way. Where a way turns, sizes between the one that comes
 * in and the largest at the seat are tried by halving.
 * @returns `best` with moves that are proved; the bound from the seat holds for every way, known or not. Faults: as `largest`.
 * Error: as `largest` and `certify`. Counted work: the same answer everywhere unless `stop` ends it.
 */
export function largestSeated(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  request: SeatedRequest = {},
): Outcome<SeatedAnswer> {
  const chosen = candidateOf(bay, candidateId)
  if (!chosen.ok) return chosen
  const { need: _, queries: __, progress: ___, ...plain } = request
  const top = largest(bay, candidateId, meshes, { ...plain, holds: false })
  if (!top.ok) return top
  const search = new Seated(bay, chosen.value, meshes, request, top.value)
  if (top.value.answer === 'found') search.run()
  return good(search.answer())
}

class Seated {
  private best: SeatedCore | null = null
  private upperBoundPath: number | null = null
  private notCounted: readonly string[] = []
  private readonly need: number

  constructor(
    private readonly bay: Bay,
    private readonly own: Candidate,
    private readonly meshes: Meshes,
    private readonly request: SeatedRequest,
    private readonly top: LargestAnswer | NothingFits,
  ) {
    this.need = request.need ?? defaultNeed
  }

  run(): void {
    const tried = this.fromLargeToSmall()
    for (const candidate of tried) {
      if (this.isOver() || this.valueOf(candidate) <= this.value) continue
      const path = this.wayIn(candidate)
      if (path) this.take(candidate, path)
    }
    const [first] = tried
    if (!this.best && first) this.shrink(first)
    for (let round = 0; round < rounds && this.best && !this.isOver(); round++) {
      const before = this.value
      this.enlarge(this.best, first ?? this.best.candidate)
      if (this.value <= before * (1 + 1e-6)) break
    }
  }

  answer(): SeatedAnswer {
    const { top, best } = this
    const within = this.request.within ?? 0.005
    const ended = this.request.stop?.() ?? null
    const isProved =
      best !== null && top.stopped === 'proved' && top.upperBound <= best.value * (1 + within) * (1 + 1e-9)
    return {
      answer: best ? 'found' : top.answer === 'nothing fits' ? 'nothing fits' : 'none found',
      best,
      atSeat: top,
      upperBoundPath: this.upperBoundPath,
      notCounted: this.notCounted,
      within,
      stopped: isProved || (top.answer === 'nothing fits' && top.stopped === 'proved') ? 'proved' : (ended ?? 'work'),
    }
  }

  private get value(): number {
    return this.best?.value ?? 0
  }

  private isOver(): boolean {
    return (this.request.stop?.() ?? null) !== null
  }

  private valueOf({ core }: Candidate): number {
    return (this.request.for === 'face' ? 1 : core.depth) * core.width * core.height
  }

  /** The largest at the seat, the largest of each stock depth, and the candidate as it is where it clears. */
  private fromLargeToSmall(): Candidate[] {
    const aside = withHair(this.bay, this.need)
    const first = this.largestIn(aside)
    const { for: _, ...plain } = this.asked()
    const depths = this.isOver() ? null : eachDepth(aside, this.own.id, this.meshes, plain)
    const others = depths?.ok ? depths.value.map(({ answer }) => answer) : []
    const found = [first, ...others].flatMap((each) => (each?.answer === 'found' ? [each.candidate] : []))
    return [...found, ...(this.isOwnAllowed() ? [this.own] : [])].sort((a, b) => this.valueOf(b) - this.valueOf(a))
  }

  private asked(): LargestRequest {
    const { need: _, queries: __, progress: ___, ...plain } = this.request
    return { ...plain, holds: false }
  }

  private largestIn(bay: Bay): LargestAnswer | NothingFits | null {
    const found = largest(bay, this.own.id, this.meshes, this.asked())
    return found.ok ? found.value : null
  }

  private isOwnAllowed(): boolean {
    return this.request.withinBox === undefined && isAllowed(this.own) && this.clears(this.own)
  }

  private bayOf(candidate: Candidate): Bay {
    return { ...this.bay, candidates: [{ ...candidate, pipes: [] }] }
  }

  private clears(candidate: Candidate): boolean {
    const all = ledger(this.bayOf(candidate), undefined, this.meshes)
    return all.ok && all.value.pairs.every(({ verdict }) => verdict === 'clears')
  }

  private wayIn(candidate: Candidate): ProvedPath | null {
    const subject = seatSubject(this.bayOf(candidate), undefined, this.meshes, { need: this.need })
    if (!subject.ok) return null
    const { stop } = this.request
    return findPath(subject.value, { work: this.request.queries ?? defaultQueries, ...(stop && { stop }) }).path
  }

  private take(candidate: Candidate, path: ProvedPath): void {
    const value = this.valueOf(candidate)
    if (value <= this.value) return
    this.best = { candidate, value, path }
    this.upperBoundPath = null
    this.request.progress?.(value, this.top.upperBound)
  }

  /** The same moves, with edges that are turned about still those edges, for another core; null unless they are proved. */
  private same(candidate: Candidate, { core }: Candidate, path: SeatPath): ProvedPath | null {
    if (!this.clears(candidate)) return null
    const grown = [
      candidate.core.depth / core.depth,
      candidate.core.width / core.width,
      candidate.core.height / core.height,
    ]
    const moves = gripped(path).map((move) => ({
      ...move,
      grip: [move.grip[0] * grown[0], move.grip[1] * grown[1], move.grip[2] * grown[2]] as const,
    }))
    const told = endingAt({ at: candidate.at, turn: candidate.turn }, moves)
    const judged = seat(this.bayOf(candidate), undefined, this.meshes, { need: this.need, moves: told })
    const proved = judged.ok && judged.value.answer !== 'refuted' ? judged.value.path : null
    return proved?.least && proved.least.atLeast >= 0
      ? { start: proved.start, moves: proved.moves, least: proved.least }
      : null
  }

  private enlarge({ candidate, path }: SeatedCore, largestAtSeat: Candidate): void {
    const isShifts = path.moves.every(({ angle }) => angle === 0)
    const along = isShifts ? this.alongShifts(candidate, path) : null
    this.between(candidate, path, along ?? largestAtSeat)
  }

  /** The largest that comes in by these shifts; its bound is kept whatever comes of it. */
  private alongShifts(candidate: Candidate, path: SeatPath): Candidate | null {
    const swept = sweptBay(this.bay, this.own, this.meshes, path, this.need)
    const bounded = swept && this.largestIn(swept.bay)
    if (!swept || !bounded) return null
    const aside = this.largestIn(withHair(swept.bay, Infinity))
    if (aside?.answer !== 'found') return null
    const { mounts } = this.own
    const larger: Candidate = { ...aside.candidate, ...(mounts && { mounts }) }
    const same = this.valueOf(larger) > this.value ? this.same(larger, candidate, path) : null
    if (same) this.take(larger, same)
    this.upperBoundPath = Math.max(Math.min(bounded.upperBound, this.top.upperBound), this.value)
    this.notCounted = swept.notCounted
    return same ? null : larger
  }

  /** Sizes and places between a core that comes in and one that is too large for this way. */
  private between(small: Candidate, path: SeatPath, large: Candidate): void {
    const bound = this.upperBoundPath
    let [low, high] = [0, 1]
    for (let i = 0; i < halvings && !this.isOver(); i++) {
      const share = (low + high) / 2
      const middle = sizeBetween(small, large, share)
      const way = this.valueOf(middle) > this.value ? this.same(middle, small, path) : null
      if (way) this.take(middle, way)
      if (way || this.valueOf(middle) <= this.value) low = share
      else high = share
    }
    if (bound !== null && this.best) this.upperBoundPath = Math.max(bound, this.value)
  }

  /** Nothing that was tried comes in: smaller ones about the same middle, until one does. */
  private shrink(largestAtSeat: Candidate): void {
    const { limits } = this.own
    const least = (k: 'depth' | 'width' | 'height') => limits?.[k]?.min ?? 0.3 * largestAtSeat.core[k]
    const small: Candidate = {
      ...largestAtSeat,
      core: { ...largestAtSeat.core, width: least('width'), height: least('height') },
    }
    for (let i = 1; i <= halvings && !this.best && !this.isOver(); i++) {
      const tried = sizeBetween(largestAtSeat, small, i / halvings)
      const path = this.clears(tried) ? this.wayIn(tried) : null
      if (path) this.take(tried, path)
    }
  }
}

/**
 * The bay with a hair more clearance wherever as much is wanted on the way as at the seat: a search for a way, and moves in
 * rounded numbers, need something to live on.
 */
function withHair(bay: Bay, need: number): Bay {
  const keepOuts = bay.keepOuts.map((keepOut) => {
    const { required } = askedBy(keepOut)
    const least = Math.min(need, required) + hair
    return least > required ? { ...keepOut, clearance: least } : keepOut
  })
  return { ...bay, keepOuts }
}
