import { cross, distance, dot, length, mix, sub, type Vec3 } from '../../shape/vec.ts'
import { BentLine, unknownsOf } from './bentLine.ts'
import { type Certificate, certify } from './certify.ts'
import type { Corners, RouteProblem, Stop } from './problem.ts'
import { Sqp, type SqpAnswer } from './sqp.ts'
import { type Ball, WitnessFinder } from './witnesses.ts'

export type { Ball } from './witnesses.ts'

export interface PolishOptions {
  /** What each bend costs beside its length, mm. */
  readonly bendWeight: number
  /** Instead of `bendWeight`: what a bend costs by the angle turned (radians), mm; smooth. */
  readonly ofBend?: (angle: number) => number
  /** Balls that the centreline keeps out of; none by default. */
  readonly balls?: readonly Ball[]
  readonly stop: Stop
  /** Whether bends that cost more than they bring are taken out; true by default, never with balls. */
  readonly dropBends?: boolean
}

/** Asked beyond what is needed from the beginning, mm: what a converged search may still be off, and then some. */
const ahead = 0.002
/** Left broken after the first phase, mm: what is further off has not come right in any trial. */
const hopeless = 3
/** After the second phase what is broken more than this is not mended by asking for more, mm. */
const notMet = 0.05
const mostRounds = 4

/**
 * The best route near a rough one: its corners moved until the cost is least, everything cleared and every limit of the
 * bender kept, certified by the exact check.
 *
 * First a way that breaks nothing is sought, with little regard to cost, then the cheapest one. Where the exact check still
 * finds something missing, so much more is asked of just that, four times at most.
 * @param start corners between the ends, bay frame, mm; any number of them, they may break everything by a little. None: a
 *   straight; one: a bend in one plane. Both are what they are or are not.
 * @returns corners of a valid route, perhaps fewer; null where none was found, or where it was broken off
 */
export function polish(problem: RouteProblem, start: Corners, options: PolishOptions): Corners | null {
  return new Polisher(problem, options).polish(start)
}

/** What a route costs: developed length and what its bends cost, mm. */
export function routeCost(
  { length, centreline }: Pick<Certificate, 'length' | 'centreline'>,
  { bendWeight, ofBend = () => bendWeight }: Pick<PolishOptions, 'bendWeight' | 'ofBend'>,
): number {
  return centreline.reduce((cost, piece) => (piece.kind === 'arc' ? cost + ofBend(piece.angle) : cost), length)
}

interface Polished {
  readonly corners: Corners
  readonly cost: number
}

class Polisher {
  private readonly problem: RouteProblem
  private readonly options: PolishOptions
  private readonly finder: WitnessFinder
  private readonly ofBend: (angle: number) => number

  constructor(problem: RouteProblem, options: PolishOptions) {
    this.problem = problem
    this.options = options
    this.finder = new WitnessFinder(problem, options.balls)
    this.ofBend = options.ofBend ?? (() => options.bendWeight)
  }

  polish(start: Corners): Corners | null {
    let best = this.solve(start)
    const drops = this.options.dropBends !== false && (this.options.balls ?? []).length === 0
    for (let better = drops ? best : null; better; better = this.withFewer(best as Polished)) best = better
    return best?.corners ?? null
  }

  /** A cheaper route with a corner less, or with all those less that hardly turn. */
  private withFewer(route: Polished): Polished | null {
    for (const corners of fewer(this.problem, route.corners)) {
      const tried = this.solve(corners)
      if (tried && tried.cost < route.cost - 1e-6) return tried
    }
    return null
  }

  private solve(start: Corners): Polished | null {
    const corners = apart(start)
    if (corners.length === 0) return this.asIs([])
    if (corners.length === 1) {
      const corner = meetingCorner(this.problem)
      return corner && this.asIs([corner])
    }
    return this.moved(corners)
  }

  /** What has no corner to move. Balls are for routes that have. */
  private asIs(corners: Corners): Polished | null {
    const certificate = certify(this.problem, corners)
    return certificate.valid ? { corners, cost: this.costOf(certificate) } : null
  }

  private costOf(certificate: Certificate): number {
    return routeCost(certificate, { bendWeight: this.options.bendWeight, ofBend: this.ofBend })
  }

  private moved(start: Corners): Polished | null {
    const { problem } = this
    const sqp = new Sqp(problem, start.length, this.finder, this.ofBend, this.options.stop)
    const extra = new Float64Array(problem.obstacles.length).fill(ahead)
    const line = new BentLine(problem, start.length)
    let spare = 1e-7
    let at: SqpAnswer | null = sqp.run(unknownsOf(problem, start), {
      steps: 30,
      reach: 15,
      aimShare: 0.03,
      untilClear: true,
      extra,
      spare,
    })
    if (!at || at.broken > hopeless) return null
    for (let round = 0; round < mostRounds; round++) {
      const first = round === 0
      at = sqp.run(at.x, {
        steps: first ? 40 : 12,
        reach: first ? 25 : 1,
        aimShare: 1,
        untilClear: false,
        extra,
        spare,
      })
      if (!at || at.broken > notMet) return null
      const corners = line.lay(at.x).corners()
      const certificate = certify(problem, corners)
      if (certificate.valid) return { corners, cost: this.costOf(certificate) }
      const missing = this.askMore(certificate, extra)
      if (missing === null) return null
      spare += 2 * missing
    }
    return null
  }

  /** Asks more of what fell short; returns what straights lack, mm, or null where more asking does not help. */
  private askMore({ reasons }: Certificate, extra: Float64Array): number | null {
    let straights = 0
    for (const { kind, missing, obstacle } of reasons) {
      if (kind === 'clearance')
        this.problem.obstacles.forEach(({ name }, k) => {
          if (name === obstacle) extra[k] += missing + ahead
        })
      else if (kind === 'straight' || kind === 'end-straight') straights = Math.max(straights, missing)
      else if (kind === 'angle') straights = Math.max(straights, ((missing * Math.PI) / 180) * this.problem.bendRadius)
      else return null
    }
    return straights
  }
}

/** Corners without those that repeat the one before. */
const apart = (corners: Corners): Corners =>
  corners.filter((corner, k) => k === 0 || distance(corner, corners[k - 1]) > 1e-6)

/** A corner that turns less than this does nothing for a route, radians. */
const hardly = 0.01

/**
 * What to try with fewer corners, the most promising first: without all that hardly turn; without one that lies between
 * others, those first that stand off least from the way past them; of two, the one where the ports' lines meet; of one, none.
 */
function fewer({ from, to }: RouteProblem, corners: Corners): Corners[] {
  if (corners.length === 0) return []
  if (corners.length === 1) return [[]]
  const points = [from.at, ...corners, to.at]
  const turning = corners.filter((corner, k) => turnAt(points[k], corner, points[k + 2]) > hardly)
  const straightened = turning.length < corners.length && turning.length !== 1 ? [turning] : []
  if (corners.length === 2) return [...straightened, [mix(from.at, to.at, 0.5)]]
  const inner = corners.slice(1, -1).map((_, k) => k + 1)
  const off = inner.map((k) => distance(corners[k], onWay(corners[k - 1], corners[k], corners[k + 1])))
  const order = [...inner].sort((a, b) => off[a - 1] - off[b - 1])
  return [...straightened, ...order.map((k) => corners.filter((__, i) => i !== k))]
}

function turnAt(before: Vec3, at: Vec3, after: Vec3): number {
  const [way, on] = [sub(at, before), sub(after, at)]
  return Math.atan2(length(cross(way, on)), dot(way, on))
}

/** Nearest point of the straight past a corner. */
function onWay(before: Vec3, at: Vec3, after: Vec3): Vec3 {
  const way = sub(after, before)
  const share = dot(sub(at, before), way) / Math.max(dot(way, way), 1e-12)
  return mix(before, after, Math.min(1, Math.max(0, share)))
}

/** Where the lines of both ports meet before them, mm; null where they pass each other or lie side by side. */
export function meetingCorner({ from, to }: Pick<RouteProblem, 'from' | 'to'>): Vec3 | null {
  const across = cross(from.direction, to.direction)
  const squared = dot(across, across)
  if (!(squared > 1e-12)) return null
  const way = sub(to.at, from.at)
  const passing = Math.abs(dot(way, across)) / Math.sqrt(squared)
  if (passing > 1e-6 * (1 + length(way))) return null
  const s = dot(cross(way, to.direction), across) / squared
  const t = dot(cross(way, from.direction), across) / squared
  if (!(s > 0 && t > 0)) return null
  return [from.at[0] + s * from.direction[0], from.at[1] + s * from.direction[1], from.at[2] + s * from.direction[2]]
}
