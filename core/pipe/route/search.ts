import { along, distance, dot, sub, type Vec3 } from '../../shape/vec.ts'
import { type Draft, bendFits, bendSearch } from './bendSearch.ts'
import { corridor, medialPoints, roomyMargin } from './corridor.ts'
import { type Field, type MarginAt, fieldOf } from './field.ts'
import { fewerBends } from './fewerBends.ts'
import { corridorNodes, spreadNodes } from './nodes.ts'
import { bentAlong, type FoundRoute, type Judged, Pool } from './pool.ts'
import { pointsAlong } from './likeness.ts'
import { type Ball, meetingCorner } from './polish.ts'
import type { Corners, RouteEnd, RouteProblem } from './problem.ts'
import { passesThrough } from './passesThrough.ts'
import { type Roadmap, roadmapOf } from './roadmap.ts'
import { scattered } from './scatter.ts'
import type { Weights } from './weights.ts'
import type { Work } from './work.ts'

export interface SearchOptions {
  /** Different routes wanted. */
  readonly want: number
  readonly weights: Weights
  /** Fewer bends than this are proved to be impossible. */
  readonly fewestBends: number
  /** Corners to begin with, a present path for example. */
  readonly starts: readonly Corners[]
  /** A way that is proved to be open, bends aside: another corridor where the first one comes to nothing. Empty: none. */
  readonly way: readonly Vec3[]
  readonly marginAt: MarginAt
  /** Makes corners into a route that clears and can be bent; null where it does not get there. */
  readonly polish: (corners: Corners, balls: readonly Ball[]) => Corners | null
  /** The last word: what the ledger says; null where the route is refused. */
  readonly judge: (corners: Corners) => Judged | null
  readonly work: Work
  /** Told the cost of the cheapest route as often as something was tried, mm; Infinity while there is none. */
  readonly told: (cost: number) => void
}

/** Counted work, so that every machine gives up at the same point. */
const mostRounds = 60
/** Rounds without balls: each leads over other edges than those before, and may come to a cheaper route. */
const freeRounds = 8
const mostFailures = 60
const retriesFree = 14
const retriesWithBalls = 6
const mostBalls = 6
/** What looks like another way, mm; of our own. */
const plainlyApart = 40
/** Smaller balls, as a share of the diameter, are passed too near to be another way. */
const leastBall = 0.4
/** Once there are enough routes, so many rounds more for each that says nothing new in words. */
const roundsForWords = 1
const mostFits = 3
const bendsOfFits = 6
/** Where along an earlier route the next one is kept from it. */
const ballShares = [0.5, 0.35, 0.65, 0.25, 0.75]

/** A search for routes that keep out of virtual balls, which lie on earlier routes: what is left are other ways. */
interface Task {
  readonly balls: readonly Ball[]
  readonly failures: number
}

interface Round {
  readonly edges: readonly number[]
  /** Nothing came of polishing. */
  readonly failed: boolean
  readonly found: FoundRoute | null
}

/**
 * Looks for routes: those of no or one bend, along one corridor, over a roadmap of possible corners, and, while nothing is
 * found, from scattered starts. It counts its work; nothing depends on a clock.
 */
export class RouteSearch {
  /** Starts polished. */
  tried = 0
  readonly pool: Pool
  private readonly problem: RouteProblem
  private readonly options: SearchOptions
  private readonly field: Field
  readonly work: Work

  constructor(problem: RouteProblem, options: SearchOptions) {
    this.problem = problem
    this.options = options
    this.work = options.work
    this.pool = new Pool(2 * problem.radius)
    this.field = fieldOf(problem, options.marginAt)
  }

  /** @returns the routes to offer, best first */
  run(): FoundRoute[] {
    for (const corners of [...fewCorners(this.problem), ...this.options.starts]) this.begin(corners)
    const corridors = [this.pushed(this.corridor())]
    this.along(corridors[0])
    if (this.pool.size === 0 && !this.work.ended) {
      corridors.push(this.pushed(this.options.way))
      this.along(corridors[1])
    }
    this.rounds(corridors)
    if (this.pool.size === 0) this.scatter()
    return this.pool.offered(this.options.want)
  }

  private corridor(): readonly Vec3[] {
    const { problem, field, work } = this
    return corridor(field, before(problem.from, problem), before(problem.to, problem), roomyMargin(problem), work) ?? []
  }

  /** Begins with bends along a corridor. */
  private along(points: readonly Vec3[]): void {
    for (const { corners } of this.fits(points)) this.begin(corners)
  }

  private pushed(way: readonly Vec3[]): readonly Vec3[] {
    return medialPoints(this.field, way, 0.8 * roomyMargin(this.problem), this.work)
  }

  private fits(points: readonly Vec3[]): Draft[] {
    const { problem, field, work, options } = this
    if (points.length === 0) return []
    const map = roadmapOf(problem, field, corridorNodes(problem, field, points), true, work)
    const fits = bendFits(problem, options.weights, map, bendsOfFits, work)
    const fewest = fits.reduce((least, { corners }) => Math.min(least, corners.length), Infinity)
    return fits.filter(({ corners }, k) => k < mostFits || corners.length === fewest)
  }

  private begin(corners: Corners): void {
    const polished = this.polish(corners, [])
    if (polished) this.keep(this.withFewer(polished, []))
  }

  private polish(corners: Corners, balls: readonly Ball[]): Corners | null {
    if (this.work.asks()) return null
    this.tried++
    return this.options.polish(corners, balls)
  }

  private withFewer(corners: Corners, balls: readonly Ball[]): Corners {
    const { weights, fewestBends } = this.options
    return fewerBends(this.problem, weights, corners, fewestBends, (fewer) => this.polish(fewer, balls))
  }

  /** Puts a route to the ledger and into the pool; the route where it is another way than all before. */
  private keep(corners: Corners): FoundRoute | null {
    const bent = bentAlong(this.problem, this.options.weights, corners)
    const judged = bent && this.options.judge(corners)
    if (!bent || !judged) return null
    const points = pointsAlong(bent.pieces)
    const fresh = this.pool.isFresh(points)
    const route = { ...bent, judged, points }
    this.pool.add(route)
    this.options.told(this.pool.best)
    return fresh ? route : null
  }

  private rounds(corridors: readonly (readonly Vec3[])[]): void {
    const { problem, field, work } = this
    const map = roadmapOf(problem, field, spreadNodes(problem, field, corridors, work), false, work)
    this.freeRounds(map)
    const queue = this.pool.offered(Infinity).flatMap((route) => this.children(route, []))
    let [failures, beyond] = [0, 0]
    for (let round = 0; round < mostRounds && queue.length > 0 && !work.ended; round++) {
      const { different, inWords } = this.pool.counts()
      const { want } = this.options
      if (inWords >= want || (different >= want && ++beyond > roundsForWords * (want - inWords))) break
      const task = queue.shift() as Task
      const outcome = this.round(map, task.balls)
      if (outcome?.found) queue.push(...this.children(outcome.found, task.balls))
      else if (outcome?.failed && failures++ < mostFailures && task.failures < retriesWithBalls)
        queue.unshift({ balls: task.balls, failures: task.failures + 1 })
    }
  }

  /** Ways without balls, each over other edges than those before: the cheapest on the map need not be so once polished. */
  private freeRounds(map: Roadmap): void {
    const used: (readonly number[])[] = []
    for (let failures = 0; failures <= retriesFree && used.length < freeRounds && !this.work.ended; ) {
      const outcome = this.round(map, [])
      if (!outcome) break
      if (outcome.failed) failures++
      else used.push(outcome.edges)
      map.penalise(outcome.edges)
    }
    for (const edges of used) map.forgive(edges)
  }

  /** One way over the roadmap, polished; null where there is no way. `found` where it is a route, and another one. */
  private round(map: Roadmap, balls: readonly Ball[]): Round | null {
    const { problem, work, options } = this
    const draft = bendSearch(problem, options.weights, map, passesThrough(map, balls), work)
    if (!draft) return null
    const polished = this.polish(draft.corners, balls)
    this.options.told(this.pool.best)
    if (!polished) {
      if (balls.length > 0) map.penalise(draft.edges)
      return { edges: draft.edges, failed: true, found: null }
    }
    const fewer = this.withFewer(polished, balls)
    const found = this.keep(balls.length > 0 ? this.freed(fewer) : fewer)
    return { edges: draft.edges, failed: false, found }
  }

  /** Once more without the balls, where the route stays another way than those before. */
  private freed(held: Corners): Corners {
    const { problem, options } = this
    const free = this.polish(held, [])
    const bent = free && bentAlong(problem, options.weights, free)
    return free && bent && this.pool.isFresh(pointsAlong(bent.pieces)) ? free : held
  }

  /** The same with one more ball, at a few places along a route. */
  private children(route: FoundRoute, balls: readonly Ball[]): Task[] {
    if (balls.length >= mostBalls) return []
    return ballShares.flatMap((share) => {
      const ball = ballOn(this.problem, route.points[Math.round(share * (route.points.length - 1))])
      return ball ? [{ balls: [...balls, ball], failures: 0 }] : []
    })
  }

  private scatter(): void {
    const { problem, field, work, options } = this
    for (const corners of scattered(problem, options.weights, field, Math.max(2, options.fewestBends), work)) {
      this.begin(corners)
      if (this.pool.size >= options.want) return
    }
  }
}

/**
 * A ball about a point of a route: as large as the distance from which routes are different, and larger for a thin tube,
 * or the next route would hardly look like another one; smaller where it would reach into the straights that every
 * route has at the ports; none where little is left of it.
 */
function ballOn(problem: RouteProblem, centre: Vec3): Ball | null {
  const apart = 2 * problem.radius
  const room = [problem.from, problem.to].map(({ at, direction, leastStraight }) => {
    const onward = Math.min(leastStraight, Math.max(0, dot(sub(centre, at), direction)))
    return distance(centre, along(at, direction, onward))
  })
  const radius = Math.min(Math.max(apart, plainlyApart), ...room.map((free) => free - 1))
  return radius >= leastBall * apart ? { centre, radius } : null
}

/** Where a first bend may be: the corridor begins there. */
const before = ({ at, direction, leastStraight }: RouteEnd, { bendRadius }: RouteProblem): Vec3 =>
  along(at, direction, leastStraight + 0.3 * bendRadius)

/** Corners of the routes that leave nothing to choose: the straight one, and one bend where the ports' lines meet. */
function fewCorners(problem: RouteProblem): Corners[] {
  const corner = meetingCorner(problem)
  return corner ? [[], [corner]] : [[]]
}
