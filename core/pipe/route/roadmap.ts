import { along, distance, mix, type Vec3 } from '../../shape/vec.ts'
import type { Field } from './field.ts'
import type { Nodes } from './nodes.ts'
import type { RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** Room that may be missing along an edge by the field, mm beyond what its cells cannot tell; polishing finds it or not. */
const missing = 5
/** The same, asked exactly. */
const missingExactly = 12
/** mm of cost for each mm missing. */
const priceExactly = 3
const pricePenalty = 8
/** Cost of an edge along which room is missing, for each mm on the average and each 10 mm of its length. */
const priceSampled = 6

/**
 * Straights from corner to corner, directed. Edge e runs from node `starts[e]` to `ends[e]`; those that leave node n are
 * `first[n]` … `first[n + 1]` − 1.
 */
export class Roadmap {
  readonly nodes: Nodes
  readonly first: Int32Array
  readonly starts: Int32Array
  readonly ends: Int32Array
  readonly lengths: Float64Array
  /** Edges by the node that they lead to: those of node n are `into[intoFirst[n]]` … `into[intoFirst[n + 1] − 1]`. */
  readonly into: Int32Array
  readonly intoFirst: Int32Array
  /** Unit directions, three numbers each. */
  readonly ways: Float64Array
  /** What is added to the length of an edge because room is missing along it, mm. */
  readonly prices: Float64Array
  /** Whether the field leaves open if there is room, and it has not been asked exactly. */
  private readonly open: Uint8Array
  private readonly blocked: Uint8Array
  private readonly field: Field
  private readonly problem: RouteProblem

  constructor(nodes: Nodes, found: readonly Straights[], field: Field, problem: RouteProblem) {
    const { points } = nodes
    this.nodes = nodes
    this.field = field
    this.problem = problem
    this.first = new Int32Array(points.length + 1)
    const count = found.reduce((sum, { starts }) => sum + starts.length, 0)
    this.starts = new Int32Array(count)
    this.ends = new Int32Array(count)
    this.lengths = new Float64Array(count)
    this.ways = new Float64Array(3 * count)
    this.prices = new Float64Array(count)
    this.open = new Uint8Array(count)
    this.blocked = new Uint8Array(count)
    for (const { starts } of found) for (const start of starts) this.first[start + 1]++
    for (let n = 0; n < points.length; n++) this.first[n + 1] += this.first[n]
    const next = this.first.slice()
    for (const { starts, ends, missing, open } of found)
      for (let i = 0; i < starts.length; i++) this.put(next[starts[i]]++, starts[i], ends[i], missing[i], open[i])
    this.intoFirst = new Int32Array(points.length + 1)
    this.into = new Int32Array(count)
    this.listInto()
  }

  private listInto(): void {
    const { ends, intoFirst, into } = this
    for (const end of ends) intoFirst[end + 1]++
    for (let n = 0; n + 1 < intoFirst.length; n++) intoFirst[n + 1] += intoFirst[n]
    const next = intoFirst.slice()
    for (let edge = 0; edge < ends.length; edge++) into[next[ends[edge]]++] = edge
  }

  private put(edge: number, start: number, end: number, missing: number, open: number): void {
    const [a, b] = [this.nodes.points[start], this.nodes.points[end]]
    const length = distance(a, b)
    this.starts[edge] = start
    this.ends[edge] = end
    this.lengths[edge] = length
    for (let k = 0; k < 3; k++) this.ways[3 * edge + k] = (b[k] - a[k]) / length
    this.prices[edge] = priceSampled * missing
    this.open[edge] = open
  }

  get edges(): number {
    return this.lengths.length
  }

  /** Numbers of the last node: the pipe's end. */
  get goal(): number {
    return this.nodes.points.length - 1
  }

  isBlocked(edge: number): boolean {
    return this.blocked[edge] === 1
  }

  /**
   * Asks exactly about an edge that the field leaves open, once.
   * @returns what its price rises by, mm; Infinity where it is blocked
   */
  settle(edge: number, work: Work): number {
    if (!this.open[edge]) return this.blocked[edge] ? Infinity : 0
    this.open[edge] = 0
    const lacks = this.lacks(...freePart(this.problem, this.nodes, this.starts[edge], this.ends[edge]), work)
    if (lacks > missingExactly) {
      this.blocked[edge] = 1
      return Infinity
    }
    const before = this.prices[edge]
    this.prices[edge] = Math.max(before, priceExactly * lacks)
    return this.prices[edge] - before
  }

  /** Makes the edges of a way dearer, so that the next one leads over others. */
  penalise(edges: readonly number[]): void {
    for (const edge of edges) this.prices[edge] += priceSampled * pricePenalty
  }

  /** Takes that back. */
  forgive(edges: readonly number[]): void {
    for (const edge of edges) this.prices[edge] -= priceSampled * pricePenalty
  }

  /**
   * Greatest lack of room along a straight, to within half a step, mm; no further once it is more than is allowed. Only
   * where the field leaves it open is it asked.
   */
  private lacks(a: Vec3, b: Vec3, work: Work): number {
    const { field } = this
    const length = distance(a, b)
    const step = this.problem.radius / 3
    let lacking = 0
    for (let at = 0; at <= length && lacking <= missingExactly; ) {
      const point = mix(a, b, length > 0 ? at / length : 0)
      const sure = field.near(...point) - field.reach
      if (sure < 0) {
        if (work.ends(5)) return lacking
        const margin = field.marginAt(point, field.size)
        lacking = Math.max(lacking, -margin)
        at += Math.max(margin, step)
      } else at += Math.max(sure, step)
    }
    return lacking
  }
}

/** Straights that the field does not rule out, one number each in every list. */
interface Straights {
  readonly starts: number[]
  readonly ends: number[]
  /** Room missing along it by the field: mean, mm, times its length in 10 mm. */
  readonly missing: number[]
  /** 1 where the field leaves open if there is room. */
  readonly open: number[]
}

const none = (): Straights => ({ starts: [], ends: [], missing: [], open: [] })

function add({ starts, ends, missing, open }: Straights, start: number, end: number, seen: Seen): void {
  starts.push(start)
  ends.push(end)
  missing.push(seen.missing)
  open.push(seen.open)
}

/**
 * All straights between nodes that the field does not rule out. From the pipe's beginning one goes along its line only,
 * to its end likewise.
 * @param inOrder only onward along the corridor, where nodes have an order
 */
export function roadmapOf(problem: RouteProblem, field: Field, nodes: Nodes, inOrder: boolean, work: Work): Roadmap {
  const [onward, back] = [none(), none()]
  const { points, free, far, order } = nodes
  const goal = points.length - 1
  // Shorter ones leave no room for bends at both their ends.
  const shortest = Math.max(1.4 * problem.radius, 0.3 * problem.bendRadius)
  const tryEdge = (start: number, end: number, least: number, bothWays: boolean) => {
    const length = distance(points[start], points[end])
    if (!(length >= least) || length < 1e-6) return
    const seen = alongStraight(field, ...freePart(problem, nodes, start, end))
    if (!seen) return
    add(onward, start, end, seen)
    if (bothWays) add(back, end, start, seen)
  }
  for (let n = 1; n < free; n++) tryEdge(0, n, 0, false)
  for (let n = far; n < goal; n++) tryEdge(n, goal, 0, false)
  for (let start = 1; start < far; start++) {
    if (work.ends(20 + 3 * (far - start))) break
    const asked = field.asked
    for (let end = Math.max(free, start + 1); end < goal; end++) {
      const bothFree = start >= free && end < far
      if (inOrder && bothFree && (order[end] ?? 0) < (order[start] ?? 0) + 0.5) continue
      tryEdge(start, end, shortest, bothFree && !inOrder)
    }
    work.ends(5 * (field.asked - asked))
  }
  return new Roadmap(nodes, [onward, back], field, problem)
}

interface Seen {
  readonly missing: number
  readonly open: number
}

/**
 * The part of an edge that is asked about: not the straights that every route has at its ends. There nothing can be helped,
 * and the flat end of a tube is farther from what lies behind it than a line's end would be.
 */
function freePart({ from, to }: RouteProblem, { points }: Nodes, start: number, end: number): [Vec3, Vec3] {
  const [a, b] = [points[start], points[end]]
  const long = distance(a, b)
  if (start === 0) return [along(a, from.direction, Math.min(from.leastStraight, long)), b]
  if (end === points.length - 1) return [a, along(b, to.direction, Math.min(to.leastStraight, long))]
  return [a, b]
}

function alongStraight(field: Field, a: Vec3, b: Vec3): Seen | null {
  const length = distance(a, b)
  const steps = Math.max(1, Math.ceil(length / (0.8 * field.size)))
  let [lacking, open] = [0, 0]
  // Asked millions of times: no points are made.
  const [x, y, z] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  for (let i = 0; i <= steps; i++) {
    const share = i / steps
    const margin = field.near(a[0] + share * x, a[1] + share * y, a[2] + share * z)
    if (margin < -missing - field.reach) return null
    if (margin < field.reach) open = 1
    if (margin < 0) lacking -= margin
  }
  return { missing: ((lacking / (steps + 1)) * length) / 10, open }
}
