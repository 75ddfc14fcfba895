import { BoundQueue } from '../../clearance/boundQueue.ts'
import type { Corners, RouteProblem } from './problem.ts'
import type { Roadmap } from './roadmap.ts'
import type { Weights } from './weights.ts'
import type { Work } from './work.ts'

/** A way over a roadmap, to be polished. */
export interface Draft {
  readonly corners: Corners
  /** As the roadmap has it, what is missing counted in. */
  readonly cost: number
  readonly edges: readonly number[]
}

/** A straight may be so much too short, in bend radii: polishing moves its corners. It costs so many mm for each. */
const shortShare = 0.2
const shortPrice = 3
/** An arc cuts a corner: by this share of the bend radius where it turns by 90°, 2 − π/2. */
const cutShare = 2 - Math.PI / 2
const mostBends = 7
/** Edges settled at most: a search that comes to more of them is among ways that cannot be bent. */
const mostSettled = 20_000

/** What it takes to go on from one edge to the next: the bend between, by the cosine of the angle turned. */
export class Bending {
  private readonly problem: RouteProblem
  private readonly weights: Weights
  private readonly map: Roadmap
  private readonly least: number
  /** Of the last bend: from its corner to its arc, and what it adds to the cost. */
  setback = 0
  cost = 0

  constructor(problem: RouteProblem, weights: Weights, map: Roadmap) {
    this.problem = problem
    this.weights = weights
    this.map = map
    this.least = Math.cos(problem.largestAngle) - 1e-12
  }

  /**
   * @param before setback at the beginning of `edge`, mm
   * @returns whether one can go on from `edge` to `next`; then `setback` and `cost` (with the length of `next`) are set
   */
  follows(edge: number, before: number, next: number): boolean {
    const { ways, lengths, starts, ends, prices, goal } = this.map
    const [p, q] = [3 * edge, 3 * next]
    const cosine = Math.min(1, ways[p] * ways[q] + ways[p + 1] * ways[q + 1] + ways[p + 2] * ways[q + 2])
    if (cosine < this.least) return false
    const { bendRadius, leastStraight, from, to } = this.problem
    const half = Math.sqrt(Math.max(0, 1 - cosine) / (1 + cosine))
    const angle = 2 * Math.atan(half)
    const setback = bendRadius * half
    const allowed = shortShare * bendRadius
    const short = before + setback + (starts[edge] === 0 ? from.leastStraight : leastStraight) - lengths[edge]
    if (!(short <= allowed)) return false
    const shortAtEnd = ends[next] === goal ? setback + to.leastStraight - lengths[next] : 0
    if (shortAtEnd > allowed) return false
    this.setback = setback
    this.cost =
      lengths[next] +
      prices[next] -
      (2 * setback - bendRadius * angle) +
      this.weights.ofBend(angle) +
      shortPrice * (Math.max(0, short) + Math.max(0, shortAtEnd))
    return true
  }
}

/**
 * The cheapest way over a roadmap, a bend counted where it turns. States are edges, since what a bend needs depends on the
 * straight before it. The setback kept with a state is that of its cheapest way, so the answer need not be the very
 * cheapest: it is a start for polishing.
 * @param banned edges that must not be used
 * @returns null where there is none, or it was broken off
 */
export function bendSearch(
  problem: RouteProblem,
  weights: Weights,
  map: Roadmap,
  banned: (edge: number) => boolean,
  work: Work,
): Draft | null {
  const costs = new Float64Array(map.edges).fill(Infinity)
  const setbacks = new Float64Array(map.edges)
  const before = new Int32Array(map.edges).fill(-1)
  const bends = new Uint8Array(map.edges)
  const settled = new Uint8Array(map.edges)
  const ahead = costsAhead(problem, weights, map, banned)
  if (work.ends(map.edges / 20)) return null
  const queue = new BoundQueue(4096)
  const bending = new Bending(problem, weights, map)
  for (let edge = map.first[0]; edge < map.first[1]; edge++) {
    if (banned(edge)) continue
    costs[edge] = map.lengths[edge] + map.prices[edge]
    queue.push(costs[edge] + ahead[map.ends[edge]], edge, 0)
  }
  for (let count = 0; count < mostSettled && queue.take(); ) {
    const edge = queue.first
    if (settled[edge] || queue.bound === Infinity) continue
    const more = map.settle(edge, work)
    if (more > 0) {
      costs[edge] += more
      if (more < Infinity) queue.push(costs[edge] + ahead[map.ends[edge]], edge, 0)
      continue
    }
    settled[edge] = 1
    count++
    const node = map.ends[edge]
    if (node === map.goal) return draftOf(map, before, edge, costs[edge])
    if (work.ends(2 + (map.first[node + 1] - map.first[node]) / 20)) return null
    if (bends[edge] >= mostBends) continue
    for (let next = map.first[node]; next < map.first[node + 1]; next++) {
      if (settled[next] || map.isBlocked(next) || ahead[map.ends[next]] === Infinity) continue
      if (!bending.follows(edge, setbacks[edge], next) || banned(next)) continue
      const cost = costs[edge] + bending.cost
      if (cost >= costs[next]) continue
      costs[next] = cost
      setbacks[next] = bending.setback
      before[next] = edge
      bends[next] = bends[edge] + 1
      queue.push(cost + ahead[map.ends[next]], next, 0)
    }
  }
  return null
}

/**
 * What it takes at least from each node to the goal, bends counted but not whether they can be bent. What their arcs cut off
 * is taken as that of right angles, so sharper bends than that may come out a little dearer than they are.
 */
function costsAhead(
  { bendRadius }: RouteProblem,
  weights: Weights,
  map: Roadmap,
  banned: (edge: number) => boolean,
): Float64Array {
  const ofBend = Math.max(0, weights.ofBend(0) - cutShare * bendRadius)
  const ahead = new Float64Array(map.nodes.points.length).fill(Infinity)
  const queue = new BoundQueue(1024)
  ahead[map.goal] = 0
  queue.push(0, map.goal, 0)
  while (queue.take()) {
    const { first: node, bound } = queue
    if (bound > ahead[node]) continue
    for (let k = map.intoFirst[node]; k < map.intoFirst[node + 1]; k++) {
      const edge = map.into[k]
      const cost = bound + map.lengths[edge] + map.prices[edge] + (map.starts[edge] === 0 ? 0 : ofBend)
      if (cost >= ahead[map.starts[edge]] || map.isBlocked(edge) || banned(edge)) continue
      ahead[map.starts[edge]] = cost
      queue.push(cost, map.starts[edge], 0)
    }
  }
  return ahead
}

function draftOf(map: Roadmap, before: Int32Array, last: number, cost: number): Draft {
  const edges: number[] = []
  for (let edge = last; edge >= 0; edge = before[edge]) edges.push(edge)
  edges.reverse()
  return { edges, cost, corners: edges.slice(0, -1).map((edge) => map.nodes.points[map.ends[edge]]) }
}

/**
 * For each number of bends from 2 to `most` the cheapest way over a roadmap whose edges lead onward only.
 * @returns cheapest first
 */
export function bendFits(problem: RouteProblem, weights: Weights, map: Roadmap, most: number, work: Work): Draft[] {
  const bending = new Bending(problem, weights, map)
  const fits: Draft[] = []
  const layers: Int32Array[] = []
  let costs = new Float64Array(map.edges).fill(Infinity)
  let setbacks = new Float64Array(map.edges)
  for (let edge = map.first[0]; edge < map.first[1]; edge++) costs[edge] = map.lengths[edge] + map.prices[edge]
  for (let count = 1; count <= most; count++) {
    const next = { costs: new Float64Array(map.edges).fill(Infinity), setbacks: new Float64Array(map.edges) }
    const before = new Int32Array(map.edges).fill(-1)
    layers.push(before)
    for (let edge = 0; edge < map.edges; edge++) {
      const node = map.ends[edge]
      if (costs[edge] === Infinity || node === map.goal) continue
      if (work.ends((map.first[node + 1] - map.first[node]) / 20)) return fits
      for (let on = map.first[node]; on < map.first[node + 1]; on++) {
        if (!bending.follows(edge, setbacks[edge], on) || costs[edge] + bending.cost >= next.costs[on]) continue
        next.costs[on] = costs[edge] + bending.cost
        next.setbacks[on] = bending.setback
        before[on] = edge
      }
    }
    costs = next.costs
    setbacks = next.setbacks
    const fit = fitOf(map, layers, costs)
    if (fit) fits.push(fit)
  }
  return fits.sort((a, b) => a.cost - b.cost)
}

/** The cheapest way that ends at the goal in the last layer. */
function fitOf(map: Roadmap, layers: readonly Int32Array[], costs: Float64Array): Draft | null {
  let best = -1
  for (let edge = 0; edge < map.edges; edge++)
    if (map.ends[edge] === map.goal && costs[edge] < (best < 0 ? Infinity : costs[best])) best = edge
  if (best < 0) return null
  const edges = [best]
  for (let layer = layers.length - 1; layer >= 0; layer--) edges.unshift(layers[layer][edges[0]])
  return { edges, cost: costs[best], corners: edges.slice(0, -1).map((edge) => map.nodes.points[map.ends[edge]]) }
}
