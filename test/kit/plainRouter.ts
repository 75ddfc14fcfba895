import { clearance } from '../../core/clearance/clearance.ts'
import { certify } from '../../core/pipe/route/certify.ts'
import type { Corners, RouteObstacle, RouteProblem } from '../../core/pipe/route/problem.ts'
import type { ArcPiece, Piece } from '../../core/shape/form.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import { along, distance, dot, length, scale, sub, unit, type Vec3 } from '../../core/shape/vec.ts'
import { type Random, seeded } from './random.ts'
import { arcPoint } from './tubes.ts'

/** What anybody would try first, to compare with: a tree of random bend points grown from one port towards the other. */
export interface PlainRoute {
  readonly corners: Corners
  readonly cost: number
  /** Which sample it came with. */
  readonly sample: number
}

export interface PlainRequest {
  readonly seed: number
  /** Random points to try. */
  readonly samples: number
  /** Ends with the first route, or goes on to the last sample and gives the cheapest. */
  readonly first?: boolean
  readonly bendWeight?: number
  readonly stop?: () => boolean
}

/** A bend point, reached in a straight line: `room` of it lies behind the arc before. */
interface Node {
  readonly at: Vec3
  readonly way: Vec3
  readonly room: number
  /** Length of centreline up to `at`, as if it went straight on there. */
  readonly along: number
  readonly before: Node | null
}

/**
 * RRT over bend points, S. M. LaValle (1998), from memory: a random point, the tree's nearest node, one step from there
 * towards it. Every arc and straight is tested exactly as the ledger would test it; a way that reaches the far port is
 * checked whole.
 * @returns null where no sample led to a route
 */
export function plainRoute(problem: RouteProblem, request: PlainRequest): PlainRoute | null {
  const { seed, samples, first = false, bendWeight = 100, stop = () => false } = request
  const random = seeded(seed)
  const tree: Node[] = []
  let best: PlainRoute | null = null
  for (let sample = 0; sample < samples && !stop(); sample++) {
    const node = grown(problem, tree, random)
    if (!node) continue
    tree.push(node)
    const corners = reached(problem, node, random)
    if (!corners) continue
    const { valid, length: long, bends } = certify(problem, corners)
    if (!valid) continue
    const cost = long + bendWeight * bends
    if (!best || cost < best.cost) best = { corners, cost, sample }
    if (first) return best
  }
  return best
}

/** One time in ten the goal's line is aimed at, and one time in ten a new straight leaves the port. */
function grown(problem: RouteProblem, tree: readonly Node[], random: Random): Node | null {
  const { from, to, bendRadius, box } = problem
  if (tree.length < 4 || random.chance(0.1)) {
    const at = along(from.at, from.direction, from.leastStraight + bendRadius * random.real(0.2, 3.2))
    const room = distance(from.at, at)
    const node: Node = { at, way: from.direction, room, along: room, before: null }
    return isClear(problem, [{ kind: 'straight', from: from.at, to: at }], 0) ? node : null
  }
  const aim: Vec3 = random.chance(0.1)
    ? along(to.at, to.direction, to.leastStraight + 3 * bendRadius * random.real(0, 1))
    : [random.real(box.min[0], box.max[0]), random.real(box.min[1], box.max[1]), random.real(box.min[2], box.max[2])]
  const near = tree.reduce((a, b) => (distance(a.at, aim) <= distance(b.at, aim) ? a : b))
  const far = distance(near.at, aim)
  const step = 3 * bendRadius
  return extended(problem, near, far > step ? along(near.at, sub(aim, near.at), step / far) : aim)
}

/** Bends at a node towards a point; null where that cannot be bent or does not clear. */
function extended(problem: RouteProblem, node: Node, at: Vec3): Node | null {
  const bend = bendAt(problem, node, at)
  if (!bend) return null
  const { arc, setback, end, way } = bend
  const start = node.along - setback
  const next: Node = {
    at,
    way,
    room: distance(end, at),
    along: start + arc.radius * arc.angle + distance(end, at),
    before: node,
  }
  return isClear(problem, [arc, { kind: 'straight', from: end, to: at }], start) ? next : null
}

function bendAt({ bendRadius, largestAngle, from, leastStraight }: RouteProblem, node: Node, at: Vec3) {
  const run = sub(at, node.at)
  const far = length(run)
  if (far < 1e-6) return null
  const way = unit(run)
  const angle = Math.acos(Math.max(-1, Math.min(1, dot(node.way, way))))
  if (angle > largestAngle || angle < 1e-3) return null
  const setback = bendRadius * Math.tan(angle / 2)
  const least = node.before ? leastStraight : from.leastStraight
  if (node.room - setback < least || far - setback < 1e-6) return null
  const inward = unit(along(way, node.way, -dot(way, node.way)))
  const start = along(node.at, node.way, -setback)
  const arc: ArcPiece = {
    kind: 'arc',
    centre: along(start, inward, bendRadius),
    x: scale(inward, -1),
    y: node.way,
    radius: bendRadius,
    angle,
  }
  return { arc, setback, end: arcPoint(arc, angle), way }
}

/** Corners of a way on to the far port, if it can be bent so: one more corner on the port's line. */
function reached(problem: RouteProblem, node: Node, random: Random): Corners | null {
  const { to, bendRadius } = problem
  const at = along(to.at, to.direction, to.leastStraight + bendRadius * random.real(0.3, 2.5))
  if (!extended(problem, node, at)) return null
  const corners: Vec3[] = [at]
  for (let one: Node | null = node; one; one = one.before) corners.unshift(one.at)
  return corners
}

/**
 * Whether pieces keep clear of everything. What is not held against the ends of the pipe: at the beginning it is known how
 * far these pieces are along it, at the far end only the whole route tells, so there nothing is held against them.
 */
function isClear(problem: RouteProblem, pieces: readonly Piece[], start: number): boolean {
  const whole = solidFrom([{ form: 'round', centreline: pieces, radius: problem.radius }])
  return problem.obstacles.every((obstacle) => {
    if (start < obstacle.exempt.from || isAtTheFarEnd(problem, pieces, obstacle)) return true
    return clearance(whole, obstacle.solid, { upTo: obstacle.need, depth: false }).atLeast >= obstacle.need
  })
}

const isAtTheFarEnd = ({ to }: RouteProblem, pieces: readonly Piece[], { exempt }: RouteObstacle): boolean =>
  exempt.to > 0 &&
  pieces.some((piece) => {
    const ends = piece.kind === 'straight' ? [piece.from, piece.to] : [arcPoint(piece, 0), arcPoint(piece, piece.angle)]
    return ends.some((end) => distance(end, to.at) < exempt.to)
  })
