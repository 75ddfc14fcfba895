import type { Bounds } from '../../shape/form.ts'
import { along, type Vec3 } from '../../shape/vec.ts'
import type { Body } from './distanceBodies.ts'
import { emptyPointDistance, pointToBody } from './distancePoint.ts'
import { readyObstacles } from './margin.ts'
import { inLineRad } from './certify.ts'
import type { RouteEnd, RouteProblem } from './problem.ts'

/** A ball, mm. */
export interface Ball {
  readonly at: Vec3
  readonly radius: number
}

/** One body of an obstacle, and how far the centreline keeps from it. */
export interface Keeper {
  readonly body: Body
  /** Number of the obstacle in the problem. */
  readonly obstacle: number
  /** need + the pipe's radius, mm. */
  readonly keep: number
  /** A centreline within one of these may be nearer than `keep` and yet right: the body does not count there. */
  readonly excused: readonly Ball[]
}

/** A keeper that is excused in boxes, each of which holds one of the balls. */
export interface RoomKeeper extends Keeper {
  readonly blocks: readonly Bounds[]
}

/** @param blockOf a box that holds a ball: of the cells of a grid for example, so that none lies across its border */
export const excusedInBlocks = (keepers: readonly Keeper[], blockOf: (ball: Ball) => Bounds): readonly RoomKeeper[] =>
  keepers.map((keeper) => ({ ...keeper, blocks: keeper.excused.map(blockOf) }))

/** How far the end of the first straight may lie from where the end's direction puts it, mm; what rounding does is less. */
export const endSlack = ({ leastStraight }: RouteEnd): number => leastStraight * inLineRad + 1e-6

/** Where the centreline begins to be free: at the end of the straight that every route has there. */
export const freeFrom = ({ at, direction, leastStraight }: RouteEnd): Vec3 => along(at, direction, leastStraight)

/**
 * Everything that a centreline between the two end straights keeps from, body by body.
 *
 * A point of the centreline nearer to a body than `keep` is a breach, with two exceptions near an end.
 * - The body is exempt there and the point lies within the exempt length (of no consequence where that is no longer than the
 *   end straight, which is left out).
 * - The pipe that is held against the body begins with a flat face: a point q of the body behind that face may be nearer
 *   than `keep` to its middle h without being near to the pipe. Then |h − q| < keep, and a breach that leads to q lies
 *   within 2·keep of h.
 * So a body that comes that near to h is excused in a ball about h. Where h is not known, since the exempt length reaches
 * past the end straight, the ball is drawn about the port and that length is added.
 */
export function keepersOf(problem: RouteProblem): readonly Keeper[] {
  return readyObstacles(problem).flatMap(({ obstacle, bodies, keep }, number) =>
    bodies.map((body) => ({
      body,
      obstacle: number,
      keep,
      excused: [
        ...excusedAt(body, keep, problem.from, obstacle.exempt.from),
        ...excusedAt(body, keep, problem.to, obstacle.exempt.to),
      ],
    })),
  )
}

const there = emptyPointDistance()

function excusedAt(body: Body, keep: number, end: RouteEnd, exempt: number): Ball[] {
  const known = exempt <= end.leastStraight
  const at = known ? along(end.at, end.direction, exempt) : end.at
  const stray = known ? exempt * inLineRad + 1e-6 : exempt
  const reach = keep + stray
  pointToBody(body, at[0], at[1], at[2], reach, there)
  return there.atLeast < reach ? [{ at, radius: 2 * keep + stray }] : []
}

/**
 * A signed distance as far as it bounds: inside, depth counts where it is one, but not through an open shell, which has no
 * inside, nor in a tube, whose flat ends may be nearer than its side.
 */
export function certainDistance({ body }: Keeper, signed: number): number {
  const isDepth = body.kind !== 'tube' && (body.kind !== 'mesh' || body.tree.mesh.closed)
  return isDepth ? signed : Math.max(signed, 0)
}

/** Whether a point that may move by so much is nearer to a body than it keeps wherever it moves to, and is not excused. */
export function isBreach(keeper: Keeper, point: Vec3, moves: number): boolean {
  const { body, keep } = keeper
  if (isExcused(keeper, point, moves)) return false
  pointToBody(body, point[0], point[1], point[2], keep, there)
  return certainDistance(keeper, there.atMost) + moves < keep - 1e-7
}

/** Whether a point that may move by so much can come to where the body does not count. */
export const isExcused = ({ excused }: Keeper, [x, y, z]: Vec3, moves: number): boolean =>
  excused.some(({ at, radius }) => Math.hypot(x - at[0], y - at[1], z - at[2]) <= radius + moves)

/** Whether every way out of the box through a side is barred by a half-space square to it: sides −X, −Y, −Z, +X, +Y, +Z. */
export function barredSides({ min, max }: Bounds, keepers: readonly Keeper[]): readonly boolean[] {
  return [0, 1, 2, 3, 4, 5].map((side) =>
    keepers.some(({ body, keep, excused }) => {
      if (body.kind !== 'halfSpace' || excused.length > 0) return false
      const k = side % 3
      const { normal: n, point: p } = body.form
      const sign = side < 3 ? 1 : -1
      if (n[k] !== sign) return false
      const beyond = side < 3 ? min[k] - p[k] : p[k] - max[k]
      return beyond <= keep + 1e-7
    }),
  )
}
