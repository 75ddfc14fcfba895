import { BoundQueue } from '../../clearance/boundQueue.ts'
import type { Bounds } from '../../shape/form.ts'
import { dot, length, sub, type Vec3 } from '../../shape/vec.ts'
import type { Cell } from './cell.ts'
import { CellRoom } from './cellRoom.ts'
import { inLineRad } from './certify.ts'
import { type Ball, endSlack, excusedInBlocks, freeFrom, type Keeper } from './keepers.ts'
import type { RouteEnd, RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** Cells looked at for the point half-way. */
const mostCells = 10_000
/** Half the length is found to this share of it. */
const within = 5e-4
/** Rounding in sums of lengths of a car's size, mm. */
const rounding = 1e-7

/**
 * A length that no route is shorter than, mm: of any curve between the two end straights, tangent to them, that nowhere
 * bends tighter than the bend radius, within the search box.
 *
 * The greatest of
 * - the straight between the ends of the end straights;
 * - from either end, the shortest curve that leaves it as it has to and comes to the other end however it likes (`arm`);
 * - twice the least that the longer of two such curves, one from each end, can be long to a point M that they share: half-way
 *   along the route both halves are as long. Least over all M by branch and bound, M only where a centreline can be.
 * What the ends may deviate, 0.1° as a pipe's ends are read, is taken off.
 * @param keepers see `keepersOf`
 */
export function lengthBound(problem: RouteProblem, keepers: readonly Keeper[], work: Work): number {
  const arms: readonly [Arm, Arm] = [armOf(problem.from, problem.bendRadius), armOf(problem.to, problem.bendRadius)]
  const [a, b] = arms
  const straight = length(sub(a.at, b.at)) - a.slack - b.slack
  const plain = Math.max(straight, leastArm(a, b.at, b.slack), leastArm(b, a.at, a.slack), 0)
  const halves = halfWay(problem, keepers, arms, plain, work)
  return Math.max(0, problem.from.leastStraight + problem.to.leastStraight + Math.max(plain, halves) - rounding)
}

/** Where the free part of the centreline begins, and how. */
interface Arm {
  readonly at: Vec3
  readonly direction: Vec3
  readonly bendRadius: number
  /** How far the beginning may be from `at`, mm. */
  readonly slack: number
}

const armOf = (end: RouteEnd, bendRadius: number): Arm => ({
  at: freeFrom(end),
  direction: end.direction,
  bendRadius,
  slack: endSlack(end),
})

/**
 * Lower bound on the curves of bounded bend from an end to any point within `reach` of m, mm.
 *
 * In the plane of the direction and the point: an arc of the bend radius, then its tangent, is the shortest way to a point
 * outside of both turning circles; the length changes by no more than the point moves, as long as it stays outside. Near a
 * turning circle the plain distance has to do. In space nothing is shorter than in the plane.
 * Source: planar: J.-D. Boissonnat, X.-N. Bui, Accessibility region for a car that only moves forwards along optimal paths
 *         (1994), from memory; in space: what curves of bounded curvature reach is the solid of revolution of the planar set,
 *         arXiv 2403.18707, from the project's notes.
 */
export function leastArm({ at, direction, bendRadius: R, slack }: Arm, m: Vec3, reach: number): number {
  const w = sub(m, at)
  const far = length(w)
  const near = Math.max(0, far - reach - slack)
  if (!(far > 0)) return near
  const cosine = Math.min(1, Math.max(-1, dot(w, direction) / far))
  const angle = Math.max(0, Math.acos(cosine) - inLineRad)
  const [x, y] = [far * Math.cos(angle), far * Math.sin(angle)]
  const toCentre = Math.hypot(x, y - R)
  // No direction that the end may have puts any such point within the circle.
  if (toCentre <= R + reach + slack + 2 * inLineRad * far) return near
  // Turned until the tangent from the circle meets the point; the turn counts from the end's own direction.
  let turn = Math.atan2(y - R, x) + Math.PI / 2 - Math.acos(R / toCentre)
  // Straight ahead it is 0, but for rounding; else what is negative lies behind.
  if (turn < -1e-6) turn += 2 * Math.PI
  const tangent = Math.sqrt((toCentre - R) * (toCentre + R))
  return Math.max(near, R * turn + tangent - reach - slack)
}

/** Twice the least of the longer half, a lower bound that is at least `known`. */
function halfWay(
  { box, bendRadius }: RouteProblem,
  keepers: readonly Keeper[],
  [a, b]: readonly [Arm, Arm],
  known: number,
  work: Work,
): number {
  const cells: Cell[] = []
  const queue = new BoundQueue()
  const room = new CellRoom(excusedInBlocks(keepers, boxAbout), bendRadius)
  const all = Int32Array.from(keepers, (_, number) => number)
  const near: (Int32Array | undefined)[] = []
  const push = (cell: Cell, among: Int32Array) => {
    const reach = Math.hypot(cell.hx, cell.hy, cell.hz)
    const middle: Vec3 = [cell.x, cell.y, cell.z]
    cells.push(cell)
    near.push(among)
    queue.push(Math.max(leastArm(a, middle, reach), leastArm(b, middle, reach)), cells.length - 1, 0)
  }
  push(cellOf(box.min, box.max), all)
  let shortest = Infinity
  for (let looked = 0; looked < mostCells; looked++) {
    const bound = queue.least()
    // Everywhere blocked: no route at all, and no bound that anybody could use.
    if (bound === Infinity) return known
    if (shortest - bound <= within * bound) return 2 * bound
    if (work.ends(5)) return Math.max(known, 2 * bound)
    queue.take()
    const number = queue.first
    const cell = cells[number]
    room.measure(cell, near[number] ?? all, 0, 0)
    work.ends(room.asked)
    room.asked = 0
    near[number] = undefined
    if (room.bound < 0) continue
    const middle: Vec3 = [cell.x, cell.y, cell.z]
    if (room.middle >= 0) shortest = Math.min(shortest, Math.max(leastArm(a, middle, 0), leastArm(b, middle, 0)))
    for (const part of eighths(cell)) push(part, room.near)
  }
  return Math.max(known, 2 * queue.least())
}

const boxAbout = ({ at: [x, y, z], radius: r }: Ball): Bounds => ({
  min: [x - r, y - r, z - r],
  max: [x + r, y + r, z + r],
})

const cellOf = (min: Vec3, max: Vec3): Cell => ({
  x: (min[0] + max[0]) / 2,
  y: (min[1] + max[1]) / 2,
  z: (min[2] + max[2]) / 2,
  hx: (max[0] - min[0]) / 2,
  hy: (max[1] - min[1]) / 2,
  hz: (max[2] - min[2]) / 2,
})

function eighths({ x, y, z, hx, hy, hz }: Cell): Cell[] {
  const [u, v, w] = [hx / 2, hy / 2, hz / 2]
  return Array.from({ length: 8 }, (_, part) => ({
    x: x + (part & 1 ? u : -u),
    y: y + (part & 2 ? v : -v),
    z: z + (part & 4 ? w : -w),
    hx: u,
    hy: v,
    hz: w,
  }))
}
