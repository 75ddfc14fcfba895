import type { Vec3 } from '../../shape/vec.ts'
import { bodiesOf, type Body } from './distanceBodies.ts'
import { boxGap, emptyPointDistance, pointToBody } from './distancePoint.ts'
import { emptyContact, type Segment, segmentToBody } from './distanceSegment.ts'
import type { RouteObstacle, RouteProblem } from './problem.ts'

/** An obstacle ready for many questions. */
export interface ReadyObstacle {
  readonly obstacle: RouteObstacle
  readonly bodies: readonly Body[]
  /** Of all bodies together: least x, y, z, greatest x, y, z, mm. */
  readonly box: Float64Array
  /** need + the pipe's radius: what the centreline keeps from it, mm. */
  readonly keep: number
  /** It has a mesh, and asking it costs more than all the others. */
  readonly isDear: boolean
}

const ready = new WeakMap<RouteProblem, readonly ReadyObstacle[]>()

/** The obstacles of a problem, in its order; made once for each problem, the bodies once for each solid. */
export function readyObstacles(problem: RouteProblem): readonly ReadyObstacle[] {
  let made = ready.get(problem)
  if (!made) {
    made = problem.obstacles.map((obstacle) => {
      const { min, max } = obstacle.solid.bounds
      const box = Float64Array.from([...min, ...max])
      const bodies = bodiesOf(obstacle.solid)
      const isDear = bodies.some(({ kind }) => kind === 'mesh')
      return { obstacle, bodies, box, keep: obstacle.need + problem.radius, isDear }
    })
    ready.set(problem, made)
  }
  return made
}

/** Room for the centreline at a point, mm: distance less need less the pipe's radius; negative in a solid. */
export interface PointMargin {
  /** Proved. */
  readonly atLeast: number
  /** Proved; Infinity where nothing was found below what was asked. */
  readonly atMost: number
  /** Number of the obstacle that decides, in the problem's order; −1 where none does. */
  readonly obstacle: number
}

// Private to one call, which calls nothing back.
const there = emptyPointDistance()
const contact = emptyContact()
const found = { atLeast: 0, atMost: 0, obstacle: -1 }
let gaps = new Float64Array(64)

/**
 * How much room a centreline has at a point.
 *
 * An obstacle that is exempt near a port does not count within that length of the port: the pipe there may be the part
 * that is not held against it.
 * @param point bay frame, mm
 * @param upTo  a margin of at least this need not be known any better
 * @returns bounds on the signed margin; of an open shell nothing is inside. Their width is rounding, but beside the flat
 *   end of a tube, where it may be up to that tube's radius, and within tubes.
 */
export function marginAt(problem: RouteProblem, [x, y, z]: Vec3, upTo = Infinity): PointMargin {
  const obstacles = readyObstacles(problem)
  if (gaps.length < obstacles.length) gaps = new Float64Array(2 * obstacles.length)
  let nearest = -1
  for (let k = 0; k < obstacles.length; k++) {
    const { obstacle, box, keep, isDear } = obstacles[k]
    gaps[k] = isExempt(problem, obstacle, x, y, z) ? Infinity : boxGap(box, x, y, z) - keep - 1e-9
    if (!isDear && (nearest < 0 || gaps[k] < gaps[nearest])) nearest = k
  }
  found.atLeast = upTo
  found.atMost = Infinity
  found.obstacle = -1
  // What its box says is nearest goes first: it mostly is, and then settles the others. Meshes go last, and gain most by it.
  if (nearest >= 0) against(obstacles[nearest], nearest, x, y, z, upTo)
  for (let k = 0; k < obstacles.length; k++)
    if (k !== nearest && !obstacles[k].isDear) against(obstacles[k], k, x, y, z, upTo)
  for (let k = 0; k < obstacles.length; k++) if (obstacles[k].isDear) against(obstacles[k], k, x, y, z, upTo)
  return { ...found }
}

function against({ bodies, keep }: ReadyObstacle, k: number, x: number, y: number, z: number, upTo: number): void {
  if (gaps[k] >= Math.min(upTo, found.atMost)) {
    if (gaps[k] < found.atLeast) found.atLeast = gaps[k]
    return
  }
  for (const body of bodies) {
    pointToBody(body, x, y, z, Math.min(upTo, found.atMost) + keep, there)
    if (there.atLeast - keep < found.atLeast) found.atLeast = there.atLeast - keep
    if (there.atMost - keep >= found.atMost) continue
    found.atMost = there.atMost - keep
    found.obstacle = k
  }
}

function isExempt({ from, to }: RouteProblem, { exempt }: RouteObstacle, x: number, y: number, z: number): boolean {
  return (
    (exempt.from > 0 && isWithin(from.at, exempt.from, x, y, z)) ||
    (exempt.to > 0 && isWithin(to.at, exempt.to, x, y, z))
  )
}

const isWithin = (at: Vec3, length: number, x: number, y: number, z: number): boolean =>
  (x - at[0]) ** 2 + (y - at[1]) ** 2 + (z - at[2]) ** 2 < length * length

/** Segments longer than this are asked piece by piece, mm: the boxes of a tree fit short ones better. */
const longest = 60

/**
 * Least room of a centreline along a straight from a to b, mm, as `marginAt`; where it goes through something, minus the
 * depth of the deepest of a few points, which is a guess.
 * @param upTo a margin of at least this need not be known any better
 * @returns `atLeast` proved, of the distance with depths counted as 0: −(need + radius) where it may meet a solid; `margin`
 *   as good a guess as there is
 */
export function marginAlong(problem: RouteProblem, a: Vec3, b: Vec3, upTo = Infinity): Readonly<AlongMargin> {
  const best: AlongMargin = { margin: upTo, atLeast: upTo, obstacle: -1 }
  const count = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]) / longest))
  const obstacles = readyObstacles(problem)
  for (const dear of [false, true])
    for (let k = 0; k < obstacles.length; k++)
      if (obstacles[k].isDear === dear)
        for (let i = 0; i < count; i++) {
          const segment = partOutside(problem, obstacles[k].obstacle, a, b, i / count, (i + 1) / count)
          if (segment) alongside(obstacles[k], k, segment, best)
        }
  return { ...best, atLeast: Math.min(best.atLeast, best.margin) }
}

interface AlongMargin {
  margin: number
  atLeast: number
  obstacle: number
}

function alongside({ bodies, keep }: ReadyObstacle, k: number, segment: Segment, best: AlongMargin): void {
  // Already deeper in something than this one could matter, but it may be met all the same.
  if (!(best.margin + keep > 0)) {
    best.atLeast = Math.min(best.atLeast, -keep)
    return
  }
  for (const body of bodies) {
    if (!(best.margin + keep > 0) || !segmentToBody(body, segment, best.margin + keep, contact)) continue
    best.atLeast = Math.min(best.atLeast, contact.atLeast - keep)
    if (contact.distance - keep >= best.margin) continue
    best.margin = contact.distance - keep
    best.obstacle = k
  }
}

const part: Segment = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }

/** The part of a segment that counts: what begins within the exempt length of a port begins where that ends. */
function partOutside(
  { from, to }: RouteProblem,
  { exempt }: RouteObstacle,
  a: Vec3,
  b: Vec3,
  start: number,
  end: number,
): Segment | null {
  let [low, high] = [start, end]
  if (exempt.from > 0) [low, high] = beyond(from.at, exempt.from, a, b, low, high)
  if (exempt.to > 0) [low, high] = beyond(to.at, exempt.to, a, b, low, high)
  if (low > high) return null
  part.ax = a[0] + low * (b[0] - a[0])
  part.ay = a[1] + low * (b[1] - a[1])
  part.az = a[2] + low * (b[2] - a[2])
  part.bx = a[0] + high * (b[0] - a[0])
  part.by = a[1] + high * (b[1] - a[1])
  part.bz = a[2] + high * (b[2] - a[2])
  return part
}

/** Shares low … high less those within a ball that hold one of the two; a piece in the middle stays in. */
function beyond(at: Vec3, radius: number, a: Vec3, b: Vec3, low: number, high: number): [number, number] {
  const v = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  const w = [a[0] - at[0], a[1] - at[1], a[2] - at[2]]
  const vv = v[0] * v[0] + v[1] * v[1] + v[2] * v[2]
  const vw = v[0] * w[0] + v[1] * w[1] + v[2] * w[2]
  const root = vw * vw - vv * (w[0] * w[0] + w[1] * w[1] + w[2] * w[2] - radius * radius)
  if (!(root > 0) || vv === 0) return [low, high]
  const enters = (-vw - Math.sqrt(root)) / vv
  const leaves = (-vw + Math.sqrt(root)) / vv
  if (enters <= low && leaves > low) return [leaves, high]
  return enters < high && leaves >= high ? [low, enters] : [low, high]
}
