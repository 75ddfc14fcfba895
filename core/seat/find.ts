import type { LeastOnTheWay, ProvedPath, SeatPath } from './answer.ts'
import { certify, certifyMotions, decide } from './certify.ts'
import { isClosed } from './closed.ts'
import { climb } from './climb.ts'
import { fewMoves } from './fewMoves.ts'
import { motionsOf } from './motion.ts'
import { offeredUp } from './move.ts'
import { rounded } from './rounding.ts'
import { SeatSearch } from './search.ts'
import { shorten } from './shorten.ts'
import { movesAlong, type Step } from './steps.ts'
import type { SeatSubject } from './subject.ts'
import { Sweeps } from './sweeps.ts'
import { plainer } from './plainer.ts'
import { planes, tree } from './tree.ts'
import { turnThrough } from './turnThrough.ts'
import { tune, type Tuned } from './tune.ts'
import { type Stop, Work } from './work.ts'

/** Distance queries that a search may make where nothing else is said: about 5 s. */
export const defaultWork = 1_500_000
/** Asked for by the searches, so that rounding to whole numbers has something to live on, mm. */
const hair = 0.005
/** A way without a turn may have so much less margin, mm. */
const spared = 0.3

export interface FindOptions {
  /** Distance queries. */
  readonly work?: number
  readonly seed?: number
  readonly stop?: Stop
  /** Share of the work that is done, and the best way so far. */
  readonly progress?: (share: number, best: ProvedPath | null) => void
}

export interface Found {
  /** The widest margin found, proved; null where none was found. */
  readonly path: ProvedPath | null
  /** Fewer moves, with less margin; null where the widest has the fewest. */
  readonly fewest: ProvedPath | null
  /** It is proved that there is none. */
  readonly closed: boolean
  readonly queries: number
  readonly stopped: 'done' | 'time' | 'cancelled'
}

/**
 * A proved way from outside to the seat, looked for from the seat outwards: few moves in order first, trees in the three
 * views, a tree in space last; then shortened, tuned, raised and rounded.
 * @returns ways whose very moves are proved to keep a margin of at least 0; null is no proof that there is none
 * Same subject, work and seed: same answer, everywhere. `stop` ends it early with the best so far.
 */
export function findPath(subject: SeatSubject, options: FindOptions = {}): Found {
  const { work: most = defaultWork, seed = 1, stop, progress } = options
  let best: ProvedPath | null = null
  const work = new Work(most, stop, (share) => progress?.(share, best))
  const search = new SeatSearch(subject, work)
  const few = fewMoves(search, hair, Math.min(60_000, 0.2 * most))
  const none = { path: null, fewest: null }
  if (!few && isClosed(subject, work, work.done + Math.min(40_000, 0.1 * most)))
    return { ...none, closed: true, queries: work.done, stopped: 'done' }
  const first = few ?? turnThrough(search, hair, work.done + 0.08 * most) ?? byTrees(search, seed, hair, most)
  if (!first) return { ...none, closed: false, queries: work.done, stopped: work.stopped ?? 'done' }
  best = proved(subject, [first])
  const ways = bettered(search, first, seed, (steps) => {
    best = proved(subject, [steps, first])
  })
  const path = proved(subject, [ways.widest, ...ways.others, first])
  const fewer = proved(subject, [ways.fewest])
  return {
    path,
    fewest: fewer && path && fewer.moves.length < path.moves.length ? fewer : null,
    closed: false,
    queries: work.done,
    stopped: work.stopped ?? 'done',
  }
}

/** A quarter turn is rarely needed, and looking for it makes all else slower. */
const rounds = [
  { share: 0.05, widest: 60 },
  { share: 0.12, widest: 110 },
]

/** The three views twice, with little work first, then space with all the rest. */
function byTrees(search: SeatSearch, seed: number, margin: number, most: number): readonly Step[] | null {
  const { work } = search
  for (const [round, { share, widest }] of rounds.entries())
    for (const plane of planes) {
      if (work.isOver()) return null
      const until = work.done + share * most
      const way = tree(search, { plane, widest, seed: seed + 1000 * round, margin, until })
      if (way) return way
    }
  return tree(search, { seed, margin, until: most })
}

interface Ways {
  readonly widest: readonly Step[]
  readonly fewest: readonly Step[]
  readonly others: readonly (readonly Step[])[]
}

function bettered(
  search: SeatSearch,
  first: readonly Step[],
  seed: number,
  told: (steps: readonly Step[]) => void,
): Ways {
  const { work } = search
  const ceiling = leastAtSeat(search)
  const budget = work.left
  const until = (share: number) => work.done + share * budget
  const short = shorten(search, first, hair, until(0.2))
  const tuned = tune(search, short, { seed, margin: hair, trials: 500, ceiling, until: until(0.2) })
  const few = rounded(search, tuned, hair)
  told(few)
  const ways = [tuned]
  let fewest = few
  // Other ways than the first one found may be wider, or shorter, or do without a turn.
  for (const [k, widestTurn] of [0, 60, 60].entries()) {
    if (short.length < 2 || work.isOver()) break
    const other = otherWay(search, seed + 97 * (k + 1), widestTurn, until(0.06))
    if (!other) continue
    const shorter = shorten(search, other, hair, until(0.1))
    const next = tune(search, shorter, { seed: seed + k, margin: hair, trials: 250, ceiling, until: until(0.1) })
    if (shorter.length < fewest.length) fewest = rounded(search, next, hair)
    ways.push(next)
  }
  ways.push(climb(search, preferred(ways), { seed, ceiling, until: until(1), share: 0.06 * budget }))
  ways.push(...withoutTurns(search, preferred(ways), seed, until(0.1)))
  const raised = preferred(ways)
  const wide = rounded(search, plainer(search, raised, { seed, ceiling, until: until(1) }), hair)
  told(wide)
  return { widest: wide, fewest, others: [raised.steps, few, short] }
}

/** The widest; one without a turn where that costs little: shifts are easier to do by hand. */
function preferred(ways: readonly Tuned[]): Tuned {
  const widest = ways.reduce((a, b) => (b.margin > a.margin ? b : a))
  const plain = ways.filter(
    ({ steps, margin }) => margin >= widest.margin - spared && steps.every(({ angle }) => angle === 0),
  )
  return plain.length > 0 ? plain.reduce((a, b) => (b.margin > a.margin ? b : a)) : widest
}

/** Nearly the same margin by shifts alone, where a tree of shifts that is asked for it finds a way. */
function withoutTurns(search: SeatSearch, { steps, margin }: Tuned, seed: number, until: number): Tuned[] {
  if (steps.every(({ angle }) => angle === 0)) return []
  const enough = Math.max(hair, margin - spared / 2)
  const way = otherWay(search, seed + 7, 0, until, enough)
  return way ? [{ steps: shorten(search, way, enough, until), margin: enough }] : []
}

function otherWay(
  search: SeatSearch,
  seed: number,
  widest: number,
  until: number,
  margin = hair,
): readonly Step[] | null {
  const share = (until - search.work.done) / planes.length
  for (const plane of planes) {
    const way = tree(search, { plane, widest, seed, margin, until: search.work.done + share })
    if (way) return way
  }
  return null
}

function leastAtSeat({ subject, work }: SeatSearch): number {
  return certifyMotions(subject, motionsOf([subject.seat], []), work.sweeps, 4000).atLeast
}

/** The first of some ways whose very moves, as they will be told, are proved to keep a margin of 0 or more. */
function proved(subject: SeatSubject, ways: readonly (readonly Step[])[]): ProvedPath | null {
  for (const steps of ways) {
    const path = offeredUp(subject.seat, movesAlong(subject.seat, steps))
    if (decide(subject, path) === 'proved') return { ...path, least: leastProved(subject, path) }
  }
  return null
}

/** What is certified of a path that is proved to keep 0: no less than that. */
export function leastProved(subject: SeatSubject, path: SeatPath, sweeps = new Sweeps()): LeastOnTheWay {
  const least = certify(subject, path, { sweeps })
  return { ...least, atLeast: Math.max(0, least.atLeast) }
}
