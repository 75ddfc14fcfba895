import { BoundQueue } from './boundQueue.ts'
import { convexDistance } from './gjk.ts'
import type { MeshTree } from './meshTree.ts'
import { emptyNearest, epsilon, type Nearest } from './nearest.ts'
import type { Seeker } from './seeker.ts'
import { boxBound, triangleBound } from './seekerBound.ts'
import { type ConvexSet, emptySet, supportOf } from './support.ts'

/** Nearest pair of a seeker and a mesh; the seeker's point first. `triangle` is its number in the tree's order. */
export interface MeshNearest extends Nearest {
  triangle: number
  /** Which of the seekers. */
  seeker: number
}

/**
 * Shortest distance of a convex set to the triangles of a mesh, as surfaces: nothing is inside.
 * @param seeker  in the tree's frame, mm
 * @param upTo    stop where the distance is proved to be at least this, mm
 * Error: as `convexDistance`; contact ends the search at once.
 * A former answer is no help: what is taken best first has to be looked at whether the answer is guessed or not.
 * Source: best-first branch and bound over a tree of boxes: common practice, no source.
 */
export function nearestOnMesh(seeker: Seeker, tree: MeshTree, upTo: number): MeshNearest {
  alone[0] = seeker
  return nearestOfAll(alone, 1, tree, upTo)
}

/** The same for the first `count` of several convex sets together, which costs little more than the nearest one alone. */
export function nearestOfAll(seekers: readonly Seeker[], count: number, tree: MeshTree, upTo: number): MeshNearest {
  const found = search.run(seekers, count, tree, upTo)
  return found.triangle < 0 ? farther(seekers[0], tree, upTo, search.slack) : found
}

/** As fine as the kernel's own bounds end (`endWidth`), mm. */
const grain = (reach: number): number => 1e-9 + 1e-12 * reach

/** Everything is at least `upTo` away: any point of each serves as the upper bound's witness. */
function farther({ set }: Seeker, { positions, corners }: MeshTree, upTo: number, slack: number): MeshNearest {
  const v = 3 * corners[0]
  const far = noneYet()
  const support = new Float64Array(3)
  supportOf(
    set,
    positions[v] - set.points[0],
    positions[v + 1] - set.points[1],
    positions[v + 2] - set.points[2],
    support,
    0,
  )
  far.ax = support[0]
  far.ay = support[1]
  far.az = support[2]
  far.bx = positions[v]
  far.by = positions[v + 1]
  far.bz = positions[v + 2]
  // Where a coordinate is no number neither is the slack, nor then the answer.
  far.atMost = Math.hypot(far.ax - far.bx, far.ay - far.by, far.az - far.bz) + 0 * slack
  far.atLeast = Math.min(upTo, far.atMost)
  far.stopped = 'upTo'
  far.triangle = 0
  return far
}

export function triangleAt(tree: MeshTree, triangle: number, out: Float64Array): Float64Array {
  const { corners, positions } = tree
  for (let k = 0; k < 3; k++) {
    const v = 3 * corners[3 * triangle + k]
    out[3 * k] = positions[v]
    out[3 * k + 1] = positions[v + 1]
    out[3 * k + 2] = positions[v + 2]
  }
  return out
}

/** One literal: records that are copied together cost more than a small search. */
const noneYet = (): MeshNearest => ({
  atLeast: 0,
  atMost: Infinity,
  ax: 0,
  ay: 0,
  az: 0,
  bx: 0,
  by: 0,
  bz: 0,
  stopped: 'limit',
  contact: 'none',
  triangle: -1,
  seeker: 0,
})

class Search {
  private readonly queue = new BoundQueue()
  private readonly triangle: ConvexSet = { ...emptySet(), count: 3 }
  private readonly trial = emptyNearest()
  private best = noneYet()
  /** Distance below which something is still of interest, mm: a grain below the best, so that the neighbours of the
   *  nearest corner, equally near, are not all followed to the last digit. The lower bound counts it. */
  private cut = Infinity
  /** Least lower bound among the triangles looked at. */
  private lower = Infinity
  slack = 0
  private grain = 0
  private seekers: readonly Seeker[] = []
  /** The one looked at, and its number. */
  private seeker!: Seeker
  private number = 0
  private tree!: MeshTree

  run(seekers: readonly Seeker[], count: number, tree: MeshTree, limit: number): MeshNearest {
    this.begin(seekers, count, tree, limit)
    const { queue, best } = this
    const { right } = tree
    let node = this.next()
    while (node >= 0) {
      if (right[node] >= 0) node = this.nearerChild(node + 1, right[node])
      else {
        this.leaf(node)
        if (best.contact !== 'none') return best
        node = -1
      }
      if (node < 0) node = this.next()
    }
    queue.clear()
    if (best.triangle >= 0) best.atLeast = Math.max(0, Math.min(best.atMost, this.lower, this.cut) - this.slack)
    return best
  }

  private begin(seekers: readonly Seeker[], count: number, tree: MeshTree, limit: number): void {
    this.seekers = seekers
    this.tree = tree
    this.cut = limit
    this.lower = Infinity
    this.best = noneYet()
    this.triangle.reach = tree.reach
    let reach = 0
    let carried = 0
    for (let k = 0; k < count; k++) {
      reach = Math.max(reach, seekers[k].set.reach)
      carried = Math.max(carried, seekers[k].carried)
    }
    this.grain = grain(tree.reach + reach)
    // A bound is a difference of two sums of three products each of numbers up to the two reaches; what is carried
    // into the tree's frame has lost as much of the numbers that it was carried over.
    this.slack = 16 * epsilon * (tree.reach + reach + carried)
    this.queue.clear()
    for (let k = 0; k < count; k++) {
      this.turnTo(k)
      const bound = this.boundOf(0)
      if (bound < limit) this.queue.push(bound, 0, k)
    }
  }

  private turnTo(k: number): void {
    this.number = k
    this.seeker = this.seekers[k]
  }

  /** The node to look at next, and its seeker's turn; −1 where all that is left is beyond the cut. */
  private next(): number {
    const { queue } = this
    if (!queue.take() || !(queue.bound < this.cut)) return -1
    if (queue.second !== this.number) this.turnTo(queue.second)
    this.seeker.readyPlanes()
    return queue.first
  }

  /** Queues what may be nearer than the cut; a child that is next anyway is returned instead, else −1. */
  private nearerChild(a: number, b: number): number {
    const { queue } = this
    const boundA = this.boundOf(a)
    const boundB = this.boundOf(b)
    const isA = boundA <= boundB
    const near = isA ? boundA : boundB
    const far = isA ? boundB : boundA
    if (near >= this.cut) return -1
    if (far < this.cut) queue.push(far, isA ? b : a, this.number)
    if (near <= queue.least()) return isA ? a : b
    queue.push(near, isA ? a : b, this.number)
    return -1
  }

  private boundOf(node: number): number {
    return boxBound(this.seeker, this.tree.boxes, 6 * node, this.cut + this.slack) - this.slack
  }

  private leaf(node: number): void {
    const { first, count } = this.tree
    for (let t = first[node]; t < first[node] + count[node]; t++) {
      triangleAt(this.tree, t, this.triangle.points)
      const enough = this.cut + this.slack
      if (triangleBound(this.seeker, this.triangle.points, enough) >= enough) continue
      this.measure(t)
      if (this.best.contact !== 'none') return
    }
  }

  private measure(t: number): void {
    const { best, trial } = this
    const guess = best.triangle >= 0
    convexDistance(
      this.seeker.set,
      this.triangle,
      this.cut,
      trial,
      guess ? best.ax - best.bx : 0,
      guess ? best.ay - best.by : 0,
      guess ? best.az - best.bz : 0,
    )
    if (trial.atLeast < this.lower) this.lower = trial.atLeast
    // Stopped early: the triangle is no nearer than the cut.
    if (trial.stopped === 'upTo' || (trial.atMost >= best.atMost && trial.contact === 'none')) return
    this.take(t)
  }

  private take(t: number): void {
    const { best, trial } = this
    best.atLeast = trial.atLeast
    best.atMost = trial.atMost
    best.ax = trial.ax
    best.ay = trial.ay
    best.az = trial.az
    best.bx = trial.bx
    best.by = trial.by
    best.bz = trial.bz
    best.stopped = trial.stopped
    best.contact = trial.contact
    best.triangle = t
    best.seeker = this.number
    this.cut = Math.min(this.cut, Math.max(0, trial.atMost - this.grain))
    // A supporting plane square to the way of this pair: what is not before it by the cut is not nearer.
    this.seeker.face(trial.bx - trial.ax, trial.by - trial.ay, trial.bz - trial.az)
  }
}

// One for all calls: a search calls nothing back and leaves nothing behind but its room, which is dear to make anew.
const search = new Search()
const alone: Seeker[] = []
