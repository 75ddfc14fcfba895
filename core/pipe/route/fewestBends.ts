import { centrelineLength, pieceLength, pointAlong, roundCorners, trimCentreline } from '../../shape/centreline.ts'
import { along, cross, distance, dot, length, mix, scale, sub } from '../../shape/vec.ts'
import { certify, inLineRad } from './certify.ts'
import { isBreach, type Keeper } from './keepers.ts'
import type { Corners, RouteEnd, RouteProblem } from './problem.ts'
import { twoBends } from './twoBends.ts'
import type { Work } from './work.ts'

/** What the exact check finds missing is proved to be missing beyond this, mm or degrees: twice the error of a clearance. */
const proved = 2e-3
/** Ends that miss each other's line by no more than this count as meeting it, mm. */
const meeting = 1e-3
/** Lines at less than this to each other are too nearly parallel for a corner, radians. */
const parallel = 0.02
/** No bend of a route turns this far: its corner would lie eleven radii out, radians. */
const sharpest = (170 * Math.PI) / 180

export interface FewestBends {
  /** Proved: no route has fewer, within the search box; 3 at most. */
  readonly fewest: number
  /** Corners of a route with that many, by the exact check, where one was met. */
  readonly found: Corners | null
}

/**
 * How few bends a route can have: none and one in closed form, two by exhaustive search (`twoBends`).
 *
 * The straight line is one route and either passes the exact check or does not. With one bend the corner is where the lines
 * of both ends meet; as ends may deviate by 0.1°, the corner may lie a little beside, and what is excluded is excluded for all
 * such corners. Bends of up to 170°.
 */
export function fewestBends(problem: RouteProblem, keepers: readonly Keeper[], work: Work): FewestBends {
  for (const [bends, look] of [straight, oneBend].entries()) {
    const { excluded, found } = look(problem, keepers)
    if (!excluded) return { fewest: bends, found }
  }
  const { excluded, found } = twoBends(problem, keepers, work)
  return excluded ? { fewest: 3, found: null } : { fewest: 2, found }
}

interface Look {
  readonly excluded: boolean
  readonly found: Corners | null
}
const excluded: Look = { excluded: true, found: null }
const open: Look = { excluded: false, found: null }

function straight(problem: RouteProblem): Look {
  if (distance(problem.from.at, problem.to.at) <= meeting) return open
  const { valid, reasons } = certify(problem, [])
  if (valid) return { excluded: false, found: [] }
  return reasons.some(({ kind, missing }) => kind !== 'self' && kind !== 'rounding' && missing > proved)
    ? excluded
    : open
}

function oneBend(problem: RouteProblem, keepers: readonly Keeper[]): Look {
  const { from, to, bendRadius, largestAngle } = problem
  const onward = scale(to.direction, -1)
  const angle = Math.atan2(length(cross(from.direction, onward)), dot(from.direction, onward))
  const [least, most] = [angle - 2 * inLineRad, angle + 2 * inLineRad]
  if (least > Math.min(largestAngle, sharpest)) return excluded
  if (angle < parallel) return nearlyInLine(problem, keepers, most)
  const meet = meetingOf(from, to)
  // Lines that lean by the deviation stay within `slack` of themselves near here; corners stay within `stray` of the middle.
  const sine = Math.sin(angle)
  const slack = ((Math.abs(meet.s) + Math.abs(meet.t)) * inLineRad) / (1 - (2 * inLineRad) / sine) + meeting
  if (meet.gap > slack) return excluded
  const along = slack / sine
  const setback = bendRadius * Math.tan(Math.max(0, least) / 2)
  if (meet.s + along - setback < from.leastStraight || meet.t + along - setback < to.leastStraight) return excluded
  const corners = [mix(meet.onFrom, meet.onTo, 0.5)]
  if (certify(problem, corners).valid) return { excluded: false, found: corners }
  const stray = slack + along + meet.gap
  const lever = 1 + 0.5 / Math.cos(most / 2) ** 2 + Math.tan(most / 2)
  const moves = stray + 4 * inLineRad * (bendRadius * (lever + Math.tan(most / 2)) + problem.radius) + proved
  return isTooNear(problem, keepers, corners, moves) ? excluded : open
}

/** Where the lines of the ends are nearest to each other: lengths along them from the ends, points, and how far apart, mm. */
function meetingOf(from: RouteEnd, to: RouteEnd) {
  const between = sub(to.at, from.at)
  const cosine = dot(from.direction, to.direction)
  const sine2 = 1 - cosine * cosine
  const [a, b] = [dot(between, from.direction), dot(between, to.direction)]
  const s = (a - b * cosine) / sine2
  const t = (a * cosine - b) / sine2
  const [onFrom, onTo] = [along(from.at, from.direction, s), along(to.at, to.direction, t)]
  return { s, t, onFrom, onTo, gap: distance(onFrom, onTo) }
}

/**
 * Ends that look at each other along nearly the same line: a route of one bend turns by so little that it stays near the
 * straight between them.
 */
function nearlyInLine(problem: RouteProblem, keepers: readonly Keeper[], turn: number): Look {
  const { from, to } = problem
  const between = sub(to.at, from.at)
  const far = length(between)
  const aside = Math.atan2(length(cross(between, from.direction)), dot(between, from.direction))
  if (aside > turn + inLineRad) return excluded
  return isTooNear(problem, keepers, [], (turn + inLineRad) * (far + problem.radius) + proved) ? excluded : open
}

/** Points of a route are looked at so far apart, mm. */
const step = 3

/** Whether some point of the route's free part is too near to something wherever it moves by no more than `moves`, mm. */
function isTooNear(problem: RouteProblem, keepers: readonly Keeper[], corners: Corners, moves: number): boolean {
  const { from, to, radius, bendRadius } = problem
  const rounded = roundCorners([from.at, ...corners, to.at], bendRadius, { radius })
  if (!rounded.ok) return false
  const whole = centrelineLength(rounded.value)
  const free = trimCentreline(rounded.value, from.leastStraight + moves, whole - to.leastStraight - moves)
  return free.some((piece) => {
    const count = Math.ceil(pieceLength(piece) / step)
    return Array.from({ length: count + 1 }, (_, i) => pointAlong(piece, i / count).point).some((point) =>
      keepers.some((keeper) => isBreach(keeper, point, moves)),
    )
  })
}
