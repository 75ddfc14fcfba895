import { clearance } from '../../clearance/clearance.ts'
import { boxGap } from '../../clearance/formBounds.ts'
import { centrelineLength, roundCorners, trimCentreline } from '../../shape/centreline.ts'
import type { Piece, Solid } from '../../shape/form.ts'
import { solidFrom } from '../../shape/solid.ts'
import { cross, dot, length, sub, type Vec3 } from '../../shape/vec.ts'
import type { Corners, RouteEnd, RouteObstacle, RouteProblem } from './problem.ts'
import { selfMargin } from './selfMargin.ts'

/** Why a route is refused, and by how much: mm missing, or degrees too many for `angle` and `direction`. */
export interface RouteReason {
  /** `rounding`: the corners cannot be rounded, `missing` then is no length. */
  readonly kind: 'clearance' | 'straight' | 'end-straight' | 'angle' | 'direction' | 'self' | 'rounding'
  readonly missing: number
  /** Of `clearance`. */
  readonly obstacle?: string
}

/** What the exact check says of a route. Lengths mm. */
export interface Certificate {
  readonly valid: boolean
  /** Least of the ledger's margins, proved; Infinity where nothing stands anywhere, −Infinity where nothing can be built. */
  readonly leastMargin: number
  /** What has the least margin. */
  readonly obstacle: string | null
  /** On the pipe, where that is. */
  readonly at: Vec3 | null
  /** All that is wrong; none where valid. */
  readonly reasons: readonly RouteReason[]
  /** Developed. */
  readonly length: number
  readonly bends: number
  readonly centreline: readonly Piece[]
}

/** Sums of what is asked are rounded otherwise here than in the ledger: a margin must be this much over nothing, mm. */
const overRounding = 1e-9
/** As the bay reads ends: what leaves a port within 0.1° leaves it in line. */
export const inLineRad = (0.1 * Math.PI) / 180

/**
 * The exact check of a route: the round sweep that the ledger would build from these corners, by the ledger's own
 * clearance against every obstacle, with the same ends left out; all straights, angles and ends; and the pipe against
 * itself.
 * @param corners between the ends, bay frame, mm
 * @returns figures proved as in the ledger. A margin beyond the least one is not followed to the end, so only the least
 *   one and all negative ones are exact.
 */
export function certify(problem: RouteProblem, corners: Corners): Certificate {
  const { from, to, radius, bendRadius } = problem
  const points = [from.at, ...corners, to.at]
  const rounded = roundCorners(points, bendRadius, { radius })
  if (!rounded.ok) return notBuilt()
  const centreline = rounded.value
  const margins = marginsOf(problem, centreline)
  const short = margins.filter(({ margin }) => !(margin >= overRounding))
  const reasons: RouteReason[] = [
    ...short.map(({ name, margin }) => ({ kind: 'clearance' as const, missing: -margin, obstacle: name })),
    ...bendReasons(problem, centreline),
    ...directionReasons(points, from, to),
    ...selfReasons(problem, centreline),
  ]
  const least = margins.reduce<Margin | null>((a, b) => (a && a.margin <= b.margin ? a : b), null)
  return {
    valid: reasons.length === 0,
    leastMargin: least?.margin ?? Infinity,
    obstacle: least?.name ?? null,
    at: least?.at ?? null,
    reasons,
    length: centrelineLength(centreline),
    bends: centreline.filter(({ kind }) => kind === 'arc').length,
    centreline,
  }
}

const notBuilt = (): Certificate => ({
  valid: false,
  leastMargin: -Infinity,
  obstacle: null,
  at: null,
  reasons: [{ kind: 'rounding', missing: Infinity }],
  length: Infinity,
  bends: Infinity,
  centreline: [],
})

interface Margin {
  readonly name: string
  readonly margin: number
  readonly at: Vec3
}

/** Nearest first, so that what lies far is settled by a bound; obstacles against which nothing of the pipe counts give none. */
function marginsOf(problem: RouteProblem, centreline: readonly Piece[]): Margin[] {
  const sweepFor = sweeps(problem, centreline)
  const meetings = problem.obstacles
    .flatMap((obstacle) => {
      const solid = sweepFor(obstacle)
      return solid ? [{ obstacle, solid, bound: boxGap(solid.bounds, obstacle.solid.bounds) - obstacle.need }] : []
    })
    .sort((a, b) => a.bound - b.bound)
  let least = Infinity
  return meetings.map(({ obstacle, solid }) => {
    const upTo = obstacle.need + Math.max(least, 0) + overRounding
    const { atLeast, onPart } = clearance(solid, obstacle.solid, { upTo, depth: false })
    const margin = atLeast - obstacle.need
    least = Math.min(least, margin)
    return { name: obstacle.name, margin, at: onPart }
  })
}

/** The sweep less the ends that an obstacle does not count; one solid for all that count the same. */
function sweeps({ radius }: RouteProblem, centreline: readonly Piece[]): (obstacle: RouteObstacle) => Solid | null {
  const whole = centrelineLength(centreline)
  const made = new Map<string, Solid | null>()
  return ({ exempt }) => {
    const key = `${exempt.from} ${exempt.to}`
    let solid = made.get(key)
    if (solid === undefined) {
      const [start, end] = [Math.min(exempt.from, whole), whole - Math.min(exempt.to, whole)]
      const left = start < end ? trimCentreline(centreline, start, end) : []
      solid = left.length > 0 ? solidFrom([{ form: 'round', centreline: left, radius }]) : null
      made.set(key, solid)
    }
    return solid
  }
}

function bendReasons(problem: RouteProblem, centreline: readonly Piece[]): RouteReason[] {
  const reasons: RouteReason[] = []
  const straights = [0]
  for (const piece of centreline) {
    if (piece.kind === 'straight') straights[straights.length - 1] = length(sub(piece.to, piece.from))
    else {
      straights.push(0)
      const over = piece.angle - problem.largestAngle
      if (over > 1e-12) reasons.push({ kind: 'angle', missing: (over * 180) / Math.PI })
    }
  }
  const last = straights.length - 1
  straights.forEach((straight, k) => {
    const isEnd = k === 0 || k === last
    const least = Math.max(
      k === 0 ? problem.from.leastStraight : 0,
      k === last ? problem.to.leastStraight : 0,
      isEnd ? 0 : problem.leastStraight,
    )
    if (straight < least - overRounding)
      reasons.push({ kind: isEnd ? 'end-straight' : 'straight', missing: least - straight })
  })
  return reasons
}

function directionReasons(points: readonly Vec3[], from: RouteEnd, to: RouteEnd): RouteReason[] {
  const last = points.length - 1
  const ways = [
    [sub(points[1], points[0]), from.direction],
    [sub(points[last - 1], points[last]), to.direction],
  ]
  return ways.flatMap(([way, direction]) => {
    const off = Math.atan2(length(cross(way, direction)), dot(way, direction))
    return off <= inLineRad ? [] : [{ kind: 'direction' as const, missing: (off * 180) / Math.PI }]
  })
}

function selfReasons(problem: RouteProblem, centreline: readonly Piece[]): RouteReason[] {
  const margin = selfMargin(problem, centreline)
  return margin >= 0 ? [] : [{ kind: 'self', missing: -margin }]
}
