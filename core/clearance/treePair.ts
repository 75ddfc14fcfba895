import type { Pose, Vec3 } from '../shape/vec.ts'
import { OrientedBound, type PairBound, StraightBound } from './boxPairBound.ts'
import { BoundQueue } from './boundQueue.ts'
import { BoundStack } from './boundStack.ts'
import { convexDistance } from './gjk.ts'
import { triangleAt } from './meshSearch.ts'
import type { MeshTree } from './meshTree.ts'
import { emptyNearest, epsilon, type Nearest } from './nearest.ts'
import { type ConvexSet, emptySet } from './support.ts'

/** How the pairs are gone through; the answer is the same. */
export interface SearchWay {
  /** Boxes turned as the triangles lie. */
  readonly oriented: boolean
  /** After so many pairs taken best first the rest is searched depth first: a queue of a million costs more than it saves. */
  readonly bestFirst: number
}

/** From this many triangles in both meshes on, oriented boxes are worth their making. */
const orientedFrom = 20_000

const usualWay = (a: MeshTree, b: MeshTree): SearchWay => ({
  oriented: Math.min(a.corners.length, b.corners.length) >= 3 * orientedFrom,
  bestFirst: 3000,
})

/**
 * Nearest points of two meshes' triangles, as surfaces: nothing is inside.
 * @param pose  frame of b's tree as seen from a's; all in a's frame, mm
 * @param upTo  stop where the distance is proved to be at least this, mm
 * @param start a pair of points on the two surfaces that is near the answer: nothing farther apart is looked at
 * Error: 1e-9 mm + 1e-12 of the largest coordinate. Contact ends the search at once.
 * Source: simultaneous branch and bound over two trees of boxes: common practice, no source.
 */
export function nearestOfTrees(
  a: MeshTree,
  b: MeshTree,
  pose: Pose,
  upTo: number,
  start?: Nearest,
  way: SearchWay = usualWay(a, b),
): Nearest {
  return new TreePair(a, b, pose, way).nearest(upTo, start)
}

class TreePair {
  private readonly a: MeshTree
  private readonly b: MeshTree
  private readonly pose: Pose
  private readonly bound: PairBound
  private readonly mostBestFirst: number
  private readonly queue = new BoundQueue(1024)
  private readonly slack: number
  private readonly grain: number
  private readonly leafA: ConvexSet = { ...emptySet(), count: 3 }
  private readonly leafB: ConvexSet = { ...emptySet(), count: 3 }
  /** Nine coordinates each of b's present leaf, in a's frame. */
  private corners = new Float64Array(0)
  private readonly trial = emptyNearest()
  private best = emptyNearest()
  /** Distance below which something is still of interest, mm: a grain below the best, see `meshSearch.ts`. */
  private cut = Infinity
  private lower = Infinity
  /** Unit way from a to b of the best pair so far; zero before there is one. */
  private nx = 0
  private ny = 0
  private nz = 0
  /** Pairs of nodes laid aside while searching depth first. */
  private readonly aside = new BoundStack()

  constructor(a: MeshTree, b: MeshTree, pose: Pose, way: SearchWay) {
    this.a = a
    this.b = b
    this.pose = pose
    this.mostBestFirst = way.bestFirst
    this.bound = way.oriented ? new OrientedBound(a, b, pose) : new StraightBound(a, b, pose)
    const reach = a.reach + 3 * b.reach + Math.abs(pose.at[0]) + Math.abs(pose.at[1]) + Math.abs(pose.at[2])
    this.slack = 64 * epsilon * reach
    this.grain = 1e-9 + 1e-12 * reach
    this.leafA.reach = a.reach
    this.leafB.reach = reach - a.reach
  }

  nearest(upTo: number, start?: Nearest): Nearest {
    this.cut = upTo
    if (start && start.atMost < upTo) {
      this.best = start
      this.cut = Math.max(0, start.atMost - this.grain)
      this.turnTo(start)
    }
    this.search()
    const { best } = this
    if (best.atMost === Infinity) this.anyPair()
    if (best.contact !== 'none') return best
    best.atLeast = Math.max(0, Math.min(best.atMost, this.lower, this.cut) - this.slack)
    const isNarrow = best.atMost - best.atLeast <= 2 * (this.grain + this.slack)
    best.stopped = isNarrow ? 'converged' : best.atLeast >= upTo - this.slack ? 'upTo' : 'limit'
    return best
  }

  private search(): void {
    const { queue, best } = this
    let taken = 0
    if (this.between(0, 0) >= this.cut) return
    queue.push(0, 0, 0)
    while (queue.take() && queue.bound < this.cut && best.contact === 'none') {
      if (taken++ < this.mostBestFirst) this.bestFirst(queue.first, queue.second)
      else this.depthFirst(queue.first, queue.second)
    }
  }

  private between(a: number, b: number): number {
    return this.bound.between(a, b, this.cut + this.slack) - this.slack
  }

  /** Follows a pair down as long as one of its halves is next in any case. */
  private bestFirst(a: number, b: number): void {
    const { queue } = this
    while (!this.measured(a, b)) {
      this.halve(a, b)
      const { nearA, nearB, near, farA, farB, far } = this
      if (far < this.cut) queue.push(far, farA, farB)
      if (near >= this.cut) return
      if (near > queue.least()) {
        queue.push(near, nearA, nearB)
        return
      }
      a = nearA
      b = nearB
    }
  }

  /** Everything below a pair, the nearer half first. */
  private depthFirst(a: number, b: number): void {
    const { aside, best } = this
    aside.clear()
    aside.push(0, a, b)
    while (aside.take() && best.contact === 'none') {
      if (aside.bound >= this.cut || this.measured(aside.first, aside.second)) continue
      this.halve(aside.first, aside.second)
      if (this.far < this.cut) aside.push(this.far, this.farA, this.farB)
      if (this.near < this.cut) aside.push(this.near, this.nearA, this.nearB)
    }
  }

  // The halves of the pair halved last, the nearer first.
  private near = 0
  private nearA = 0
  private nearB = 0
  private far = 0
  private farA = 0
  private farB = 0

  /** Splits the larger of the two nodes. */
  private halve(a: number, b: number): void {
    const rightA = this.a.right[a]
    const rightB = this.b.right[b]
    const isA = rightB < 0 || (rightA >= 0 && this.bound.isLargerA(a, b))
    const a1 = isA ? a + 1 : a
    const b1 = isA ? b : b + 1
    const a2 = isA ? rightA : a
    const b2 = isA ? b : rightB
    const one = this.between(a1, b1)
    const other = this.between(a2, b2)
    const isOne = one <= other
    this.near = isOne ? one : other
    this.nearA = isOne ? a1 : a2
    this.nearB = isOne ? b1 : b2
    this.far = isOne ? other : one
    this.farA = isOne ? a2 : a1
    this.farB = isOne ? b2 : b1
  }

  /** False where the pair is not yet down to triangles. */
  private measured(a: number, b: number): boolean {
    if (this.a.right[a] >= 0 || this.b.right[b] >= 0) return false
    const end = this.a.first[a] + this.a.count[a]
    this.load(this.b.first[b], this.b.count[b])
    for (let i = this.a.first[a]; i < end; i++) {
      triangleAt(this.a, i, this.leafA.points)
      for (let j = 0; j < this.b.count[b]; j++)
        if (!this.areFar(9 * j)) {
          this.measure(9 * j)
          if (this.best.contact !== 'none') return true
        }
    }
    return true
  }

  private load(first: number, count: number): void {
    if (this.corners.length < 9 * count) this.corners = new Float64Array(9 * count)
    const { corners, positions } = this.b
    const { turn: r, at } = this.pose
    for (let i = 0; i < 3 * count; i++) {
      const v = 3 * corners[3 * first + i]
      const x = positions[v]
      const y = positions[v + 1]
      const z = positions[v + 2]
      this.corners[3 * i] = r[0] * x + r[1] * y + r[2] * z + at[0]
      this.corners[3 * i + 1] = r[3] * x + r[4] * y + r[5] * z + at[1]
      this.corners[3 * i + 2] = r[6] * x + r[7] * y + r[8] * z + at[2]
    }
  }

  /** Whether the boxes of the two triangles, the way of the best pair, or the plane of one keep them beyond the cut. */
  private areFar(j: number): boolean {
    const p = this.leafA.points
    const q = this.corners
    const enough = this.cut + this.slack
    const x = gap(p[0], p[3], p[6], q[j], q[j + 3], q[j + 6])
    const y = gap(p[1], p[4], p[7], q[j + 1], q[j + 4], q[j + 7])
    const z = gap(p[2], p[5], p[8], q[j + 2], q[j + 5], q[j + 8])
    if (x * x + y * y + z * z >= enough * enough) return true
    const { nx, ny, nz } = this
    const top = Math.max(
      nx * p[0] + ny * p[1] + nz * p[2],
      nx * p[3] + ny * p[4] + nz * p[5],
      nx * p[6] + ny * p[7] + nz * p[8],
    )
    const low = Math.min(
      nx * q[j] + ny * q[j + 1] + nz * q[j + 2],
      nx * q[j + 3] + ny * q[j + 4] + nz * q[j + 5],
      nx * q[j + 6] + ny * q[j + 7] + nz * q[j + 8],
    )
    if (low - top >= enough) return true
    return isBeyond(p, 0, q, j, enough) || isBeyond(q, j, p, 0, enough)
  }

  private measure(j: number): void {
    const { trial, best, leafB } = this
    for (let k = 0; k < 9; k++) leafB.points[k] = this.corners[j + k]
    const isFirst = best.atMost === Infinity
    convexDistance(
      this.leafA,
      leafB,
      this.cut,
      trial,
      isFirst ? 0 : best.ax - best.bx,
      isFirst ? 0 : best.ay - best.by,
      isFirst ? 0 : best.az - best.bz,
    )
    if (trial.atLeast < this.lower) this.lower = trial.atLeast
    if (trial.stopped === 'upTo' || (trial.atMost >= best.atMost && trial.contact === 'none')) return
    Object.assign(best, trial)
    this.cut = Math.min(this.cut, Math.max(0, best.atMost - this.grain))
    this.turnTo(best)
  }

  private turnTo({ ax, ay, az, bx, by, bz, atMost }: Nearest): void {
    if (!(atMost > 0)) return
    this.nx = (bx - ax) / atMost
    this.ny = (by - ay) / atMost
    this.nz = (bz - az) / atMost
  }

  /** Nothing within `upTo`: any pair of corners is a witness of the upper bound. */
  private anyPair(): void {
    const { best } = this
    triangleAt(this.a, 0, this.leafA.points)
    this.load(0, 1)
    const p = this.leafA.points as unknown as Vec3
    const q = this.corners as unknown as Vec3
    best.ax = p[0]
    best.ay = p[1]
    best.az = p[2]
    best.bx = q[0]
    best.by = q[1]
    best.bz = q[2]
    best.atMost = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])
  }
}

function gap(a: number, b: number, c: number, p: number, q: number, r: number): number {
  return Math.max(Math.min(a, b, c) - Math.max(p, q, r), Math.min(p, q, r) - Math.max(a, b, c), 0)
}

/** Whether all of triangle q lies on one side of the plane of p, so far from it. */
function isBeyond(p: Float64Array, i: number, q: Float64Array, j: number, enough: number): boolean {
  const ux = p[i + 3] - p[i]
  const uy = p[i + 4] - p[i + 1]
  const uz = p[i + 5] - p[i + 2]
  const vx = p[i + 6] - p[i]
  const vy = p[i + 7] - p[i + 1]
  const vz = p[i + 8] - p[i + 2]
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const a = nx * (q[j] - p[i]) + ny * (q[j + 1] - p[i + 1]) + nz * (q[j + 2] - p[i + 2])
  const b = nx * (q[j + 3] - p[i]) + ny * (q[j + 4] - p[i + 1]) + nz * (q[j + 5] - p[i + 2])
  const c = nx * (q[j + 6] - p[i]) + ny * (q[j + 7] - p[i + 1]) + nz * (q[j + 8] - p[i + 2])
  const d = Math.max(Math.min(a, b, c), -Math.max(a, b, c))
  // A sliver’s normal may be off by ε uv / n and more: those are left to the kernel.
  const uv = Math.sqrt((ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz))
  const n = Math.sqrt(nx * nx + ny * ny + nz * nz)
  return d > 0 && n > 0.05 * uv && d >= enough * n * (1 + 1e-9)
}
