import type { Meshes } from '../bay/part.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { good, type Outcome } from '../fault.ts'
import { eachDepth, type LargestAnswer, type LargestRequest, largest, type NothingFits } from '../largest/largest.ts'
import { candidateOf, ledger } from '../verdict/ledger.ts'
import { isAllowed, sizeBetween } from './allowedSize.ts'
import type { Move, ProvedPath, SeatPath } from './answer.ts'
import { endingAt, gripped } from './edited.ts'
import { findPath } from './find.ts'
import { beginningBeyond, isSameMotion } from './sameMoves.ts'
import { seat } from './seat.ts'
import { defaultNeed, seatSubject } from './subject.ts'
import { type SweptBay, sweptBay } from './sweptBay.ts'
import { hair, withHair } from './withHair.ts'

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
  /** No core that comes in by the very moves of `best` has a greater value, wherever its seat; null where not bounded. */
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
/** mm; what is met between two moments of a turn that are looked at. */
const turningHair = 0.3
/** Rounds of taking a new way for a larger core. */
const rounds = 3

/**
 * The largest core that clears at its seat and can be offered up to it.
 *
 * Cores that clear are tried in order of size, the candidate as it is among them; each is asked for a way in. A way is then made
 * use of wholly: the largest core that comes in by its moves is that of a bay in which every keep-out also stands as it comes by
 * on the way (see `sweptBay`), and its proved bound is that of the way. Sizes between are tried by halving.
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
  const top = largest(bay, candidateId, meshes, plainOf(request))
  if (!top.ok) return top
  const search = new Seated(bay, chosen.value, meshes, request, top.value)
  if (top.value.answer === 'found') search.run()
  return good(search.answer())
}

/** What the search for the largest core is asked. */
function plainOf({ need: _, queries: __, progress: ___, ...plain }: SeatedRequest): LargestRequest {
  return { ...plain, holds: false }
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
    this.takeOwn()
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
    this.boundBest()
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

  /** The way of the best may have been found, or made longer, after the last bound was told. */
  private boundBest(): void {
    if (!this.best || this.upperBoundPath !== null || this.isOver()) return
    const { moves } = this.best.path
    const told = this.boundOf(moves)
    if (told) this.keepBound(moves, told.bound, told.swept.notCounted)
  }

  /** The candidate as it is, by its own way where it has a good one: something is in hand from the beginning. */
  private takeOwn(): void {
    const { offering } = this.own
    const path = offering && this.isOwnAllowed() ? this.by(offering.moves, this.own) : null
    if (path) this.take(this.own, path)
  }

  /** The largest at the seat, the largest of each stock depth, and the candidate as it is where it clears. */
  private fromLargeToSmall(): Candidate[] {
    const aside = withHair(this.bay, this.need)
    const first = this.largestIn(aside)
    const { for: _, ...plain } = plainOf(this.request)
    const depths = this.isOver() ? null : eachDepth(aside, this.own.id, this.meshes, plain)
    const others = depths?.ok ? depths.value.map(({ answer }) => answer) : []
    const found = [first, ...others].flatMap((each) => (each?.answer === 'found' ? [each.candidate] : []))
    return [...found, ...(this.isOwnAllowed() ? [this.own] : [])].sort((a, b) => this.valueOf(b) - this.valueOf(a))
  }

  private largestIn(bay: Bay): LargestAnswer | NothingFits | null {
    const found = largest(bay, this.own.id, this.meshes, plainOf(this.request))
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
    this.notCounted = []
    this.request.progress?.(value, this.top.upperBound)
  }

  /** The same moves, with edges that are turned about still those edges, for another core; null unless they are proved. */
  private same(candidate: Candidate, { core }: Candidate, path: SeatPath): ProvedPath | null {
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
    return this.by(told.moves, candidate)
  }

  private enlarge({ candidate, path }: SeatedCore, largestAtSeat: Candidate): void {
    const along = this.alongMoves(path)
    const isShifts = path.moves.every(({ angle }) => angle === 0)
    // By shifts alone nothing that is larger than the largest along them comes in.
    this.between(candidate, path, isShifts && along ? along : largestAtSeat)
  }

  /** The largest that comes in by these very moves; their bound is kept where they are the best's. Null where it was taken. */
  private alongMoves({ moves }: SeatPath): Candidate | null {
    const told = this.boundOf(moves)
    if (!told) return null
    const { swept, bound } = told
    const isShifts = moves.every(({ angle }) => angle === 0)
    const aside = this.largestIn(withHair(swept.bay, Infinity, isShifts ? hair : turningHair))
    const { mounts } = this.own
    const larger: Candidate | null =
      aside?.answer === 'found' ? { ...aside.candidate, ...(mounts && { mounts }) } : null
    const path = larger && this.valueOf(larger) > this.value ? this.by(moves, larger) : null
    if (larger && path) this.take(larger, path)
    this.keepBound(moves, bound, swept.notCounted)
    return path ? null : larger
  }

  /** What no core that comes in by these very moves exceeds. */
  private boundOf(moves: readonly Move[]): { readonly swept: SweptBay; readonly bound: number } | null {
    const swept = sweptBay(this.bay, this.own, this.meshes, moves, this.need)
    const bounded = swept && this.largestIn(swept.bay)
    return swept && bounded ? { swept, bound: Math.min(bounded.upperBound, this.top.upperBound) } : null
  }

  /** A bound is one of very moves, and told only for as long as these are the ones of the best core. */
  private keepBound(moves: readonly Move[], bound: number, notCounted: readonly string[]): void {
    if (!this.best || !isSameMotion(this.best.path.moves, moves) || !Number.isFinite(bound)) return
    this.upperBoundPath = Math.max(bound, this.value)
    this.notCounted = notCounted
  }

  /** These very moves to a core's seat, the first one longer where it has to be; null unless they are proved. */
  private by(moves: readonly Move[], candidate: Candidate): ProvedPath | null {
    const own = this.bayOf(candidate)
    const subject = this.clears(candidate) ? seatSubject(own, undefined, this.meshes, { need: this.need }) : null
    if (!subject?.ok) return null
    const path = beginningBeyond(subject.value, moves)
    const judged = seat(own, undefined, this.meshes, { need: this.need, moves: path })
    const told = judged.ok && judged.value.answer !== 'refuted' ? judged.value.path : null
    return told?.least && told.least.atLeast >= 0 ? { start: told.start, moves: told.moves, least: told.least } : null
  }

  /** Sizes and places between a core that comes in and one that is too large for this way. */
  private between(small: Candidate, path: SeatPath, large: Candidate): void {
    const { upperBoundPath: bound, notCounted } = this
    let [low, high] = [0, 1]
    for (let i = 0; i < halvings && !this.isOver(); i++) {
      const share = (low + high) / 2
      const middle = sizeBetween(small, large, share)
      const way = this.valueOf(middle) > this.value ? this.same(middle, small, path) : null
      if (way) this.take(middle, way)
      if (way || this.valueOf(middle) <= this.value) low = share
      else high = share
    }
    if (bound !== null) this.keepBound(path.moves, bound, notCounted)
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
