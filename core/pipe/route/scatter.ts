import { along, distance, dot, length, mix, sub, type Vec3, unit } from '../../shape/vec.ts'
import type { Field } from './field.ts'
import { halton } from './halton.ts'
import { alike, pointsAlong } from './likeness.ts'
import { bentAlong } from './pool.ts'
import type { Corners, RouteProblem } from './problem.ts'
import type { Weights } from './weights.ts'
import type { Work } from './work.ts'

const mostBends = 5
/** Starts tried for each number of bends: those of two bends have two unknowns, each further one has three more. */
const samplesOfTwo = 900
const samplesPerBend = 6000
const startsPerBends = 14
/** Room missing along a start beyond which it is not worth polishing: mm summed over its points. */
const mostMissing = 700
const priceMissing = 2
/** Distance between the points at which a start is asked about, in bend radii. */
const stepShare = 0.5

interface Start {
  readonly corners: Corners
  readonly cost: number
}

/**
 * Starts from corners scattered over the box, for when nothing else finds a route: by number of bends, the fewest first;
 * of each the most promising by the field, no two of them the same way.
 */
export function* scattered(
  problem: RouteProblem,
  weights: Weights,
  field: Field,
  fewest: number,
  work: Work,
): Generator<Corners> {
  for (let bends = fewest; bends <= mostBends && !work.ended; bends++) {
    const starts = startsOf(problem, weights, field, bends, work)
    const used: Vec3[][] = []
    for (const { corners } of starts) {
      if (used.length >= startsPerBends || work.ended) break
      const bent = bentAlong(problem, weights, corners)
      const points = bent ? pointsAlong(bent.pieces) : [problem.from.at, ...corners, problem.to.at]
      if (used.some((other) => alike(other, points, 2.4 * problem.radius))) continue
      used.push(points)
      yield corners
    }
  }
}

function startsOf(problem: RouteProblem, weights: Weights, field: Field, bends: number, work: Work): Start[] {
  const count = bends === 2 ? samplesOfTwo : samplesPerBend * (bends - 2)
  const starts: Start[] = []
  for (let i = 1; i <= count && !work.ends(20 * bends); i++) {
    const corners = sample(problem, bends, i)
    const lacking = straightsLacking(problem, corners) + roomLacking(problem, field, corners)
    if (lacking > mostMissing) continue
    const points = cutCorners(problem, corners)
    const long = points.slice(1).reduce((sum, point, k) => sum + distance(point, points[k]), 0)
    starts.push({ corners, cost: long + bends * weights.bend + priceMissing * lacking })
  }
  return starts.sort((a, b) => a.cost - b.cost)
}

function sample({ from, to, box }: RouteProblem, bends: number, index: number): Corners {
  const longest = Math.max(...box.max.map((high, k) => high - box.min[k]))
  // Bends near the ports are likelier than far ones.
  const onLine = (dimension: number) => 0.6 * longest * halton(index, dimension) ** 1.5
  const inner = Array.from({ length: bends - 2 }, (_, corner) =>
    [0, 1, 2].map((k) => box.min[k] + halton(index, 2 + 3 * corner + k) * (box.max[k] - box.min[k])),
  ) as unknown as Vec3[]
  return [
    along(from.at, from.direction, from.leastStraight + onLine(0)),
    ...inner,
    along(to.at, to.direction, to.leastStraight + onLine(1)),
  ]
}

/** mm by which straights are too short for their bends. */
function straightsLacking({ from, to, bendRadius, leastStraight }: RouteProblem, corners: Corners): number {
  const points = [from.at, ...corners, to.at]
  const ways = points.slice(1).map((point, k) => along(point, points[k], -1))
  const lengths = ways.map((way) => Math.hypot(...way))
  const setbacks = corners.map((_, k) => {
    const [u, v] = [ways[k], ways[k + 1]]
    const cosine = (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / (lengths[k] * lengths[k + 1])
    return bendRadius * Math.sqrt(Math.max(0, 1 - cosine) / Math.max(1e-9, 1 + cosine))
  })
  return lengths.reduce((sum, length, k) => {
    const least = k === 0 ? from.leastStraight : k === corners.length ? to.leastStraight : leastStraight
    return sum + Math.max(0, least + (setbacks[k - 1] ?? 0) + (setbacks[k] ?? 0) - length)
  }, 0)
}

/** mm of room missing, summed over points along the way, which cuts its corners as bends do. */
function roomLacking(problem: RouteProblem, field: Field, corners: Corners): number {
  const points = cutCorners(problem, corners)
  let lacking = 0
  for (let k = 1; k < points.length && lacking <= mostMissing; k++) {
    const steps = Math.max(1, Math.ceil(distance(points[k - 1], points[k]) / (stepShare * problem.bendRadius)))
    for (let i = 1; i <= steps; i++)
      lacking += 1.5 * Math.max(0, -field.near(...mix(points[k - 1], points[k], i / steps)))
  }
  return lacking
}

/** Beginning and end of each bend, as far as the straights allow, and roughly its middle. */
function cutCorners({ from, to, bendRadius }: RouteProblem, corners: Corners): Vec3[] {
  const points = [from.at, ...corners, to.at]
  return points.flatMap((at, k) => {
    if (k === 0 || k === points.length - 1) return [at]
    const [before, after] = [sub(points[k - 1], at), sub(points[k + 1], at)]
    const [u, v] = [unit(before), unit(after)]
    // u and v look away from the corner: −u·v is the cosine of the angle turned.
    const setback = bendRadius * Math.sqrt(Math.max(0, 1 + dot(u, v)) / Math.max(1e-9, 1 - dot(u, v)))
    const back = Math.min(setback, length(before) / 2, length(after) / 2)
    const [start, end] = [along(at, u, back), along(at, v, back)]
    return [start, mix(mix(start, end, 0.5), at, 0.4), end]
  })
}
