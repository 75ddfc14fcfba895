import type { Bounds } from '../../shape/form.ts'
import { along, distance, dot, sub, type Vec3 } from '../../shape/vec.ts'
import { type TurnCorner, turnCorners } from './corridor.ts'
import type { Field } from './field.ts'
import { halton } from './halton.ts'
import type { RouteEnd, RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** Where corners of a pipe may stand. The first point is the pipe's beginning, the last its end. */
export interface Nodes {
  readonly points: readonly Vec3[]
  /** Numbers of the first free node and of the first on the line of the far end; those before lie on the near end's line. */
  readonly free: number
  readonly far: number
  /** For free nodes that lie along a corridor, how far along it; others have none. */
  readonly order: readonly (number | undefined)[]
}

/** The nodes along one corridor alone, in its order. */
export function corridorNodes(problem: RouteProblem, field: Field, points: readonly Vec3[]): Nodes {
  const corners = turnCorners(problem, points).slice(0, 50)
  const free = [...points.map((at, order): TurnCorner => ({ at, order })), ...corners]
  free.sort((a, b) => a.order - b.order)
  return nodesOf(problem, field, points, free)
}

/** Nodes on both ends' lines, along the corridors that there are, and spread over the box: 400 free ones in all. */
export function spreadNodes(
  problem: RouteProblem,
  field: Field,
  corridors: readonly (readonly Vec3[])[],
  work: Work,
): Nodes {
  const points = corridors.flat()
  const along = [...points, ...corridors.flatMap((each) => turnCorners(problem, each).map(({ at }) => at))]
  return nodesOf(problem, field, points, [
    ...along.map((at) => ({ at })),
    ...spread(problem.box, field, Math.max(0, 400 - along.length), work).map((at) => ({ at })),
  ])
}

function nodesOf(
  problem: RouteProblem,
  field: Field,
  points: readonly Vec3[],
  free: readonly { at: Vec3; order?: number }[],
): Nodes {
  const near = onLine(problem.from, problem, field, points)
  const far = onLine(problem.to, problem, field, points)
  return {
    points: [problem.from.at, ...near, ...free.map(({ at }) => at), ...far, problem.to.at],
    free: 1 + near.length,
    far: 1 + near.length + free.length,
    order: [undefined, ...near.map(() => undefined), ...free.map(({ order }) => order)],
  }
}

/**
 * Corners that may follow an end: on its line, in steps of a fifth of the bend radius that grow later, as far as the line
 * is not blocked; and beside each point of the corridor, which is where a tight corridor wants them.
 */
function onLine(end: RouteEnd, { bendRadius, box }: RouteProblem, field: Field, points: readonly Vec3[]): Vec3[] {
  const longest = distance(box.min, box.max)
  const lengths: number[] = []
  for (let f = 0.2; f * bendRadius < longest; f = f < 2 ? f + 0.2 : f * 1.2) {
    const length = end.leastStraight + f * bendRadius
    const at = along(end.at, end.direction, length)
    if (field.near(...at) < -field.reach) break
    lengths.push(length)
  }
  for (const point of points) {
    const length = dot(sub(point, end.at), end.direction)
    if (length > end.leastStraight + 0.15 * bendRadius) lengths.push(length)
  }
  return lengths.map((length) => along(end.at, end.direction, length))
}

/** Room missing at a node for which it is still taken, mm: the corner of a bend is not on the centreline. */
const missing = 2
const triesPerNode = 12

function spread({ min, max }: Bounds, field: Field, count: number, work: Work): Vec3[] {
  const nodes: Vec3[] = []
  for (let i = 1; nodes.length < count && i <= count * triesPerNode; i++) {
    if (work.ends(6)) break
    const at = [0, 1, 2].map((k) => min[k] + halton(i, k) * (max[k] - min[k])) as unknown as Vec3
    if (field.near(...at) >= -missing) nodes.push(at)
  }
  return nodes
}
