import { BoundQueue } from './boundQueue.ts'
import { convexDistance } from './gjk.ts'
import type { MeshTree } from './meshTree.ts'
import { emptyNearest, epsilon, type Nearest } from './nearest.ts'
import { Seeker } from './seeker.ts'
import { boxBound, triangleBound } from './seekerBound.ts'
import { type ConvexSet, emptySet, supportOf } from './support.ts'
import type { Vec3 } from '../shape/vec.ts'

/** Nearest pair of a seeker and a mesh; the seeker's point first. `triangle` is its number in the tree's order. */
export interface MeshNearest extends Nearest {
  triangle: number
}

/**
 * Shortest distance of a convex set to the triangles of a mesh, as surfaces: nothing is inside.
 * @param seeker  in the tree's frame, mm
 * @param upTo    stop where the distance is proved to be at least this, mm
 * @param near    a point thought to be on the mesh and near the answer: nothing farther from the seeker than it is looked
 *                at. Where it was not on the mesh and nothing is found, the search is made again without it.
 * Error: as `convexDistance`; contact ends the search at once.
 * Source: best-first branch and bound over a tree of boxes: common practice, no source.
 */
export function nearestOnMesh(seeker: Seeker, tree: MeshTree, upTo: number, near?: Vec3): MeshNearest {
  if (!search.begin(seeker, tree, upTo)) return farther(seeker, tree, upTo)
  if (near && search.narrow(near)) {
    const found = search.run()
    if (found.triangle >= 0) return found
    search.begin(seeker, tree, upTo)
  }
  const found = search.run()
  return found.triangle < 0 ? farther(seeker, tree, upTo) : found
}

/** As fine as the kernel's own bounds end (`endWidth`), mm. */
const grain = (reach: number): number => 1e-9 + 1e-12 * reach

/** Everything is at least `upTo` away: any point of each serves as the upper bound's witness. */
function farther({ set }: Seeker, { positions, corners }: MeshTree, upTo: number): MeshNearest {
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
  far.atMost = Math.hypot(far.ax - far.bx, far.ay - far.by, far.az - far.bz)
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
  private slack = 0
  private grain = 0
  private seeker!: Seeker
  private tree!: MeshTree

  /** False where the whole mesh is beyond the limit. */
  begin(seeker: Seeker, tree: MeshTree, limit: number): boolean {
    const { set } = seeker
    this.seeker = seeker
    this.tree = tree
    this.cut = limit
    this.grain = grain(tree.reach + set.reach)
    this.lower = Infinity
    // A bound is a difference of two sums of three products each of numbers up to the two reaches; what is carried
    // into the tree's frame has lost as much of the numbers that it was carried over.
    this.slack = 16 * epsilon * (tree.reach + set.reach + seeker.carried)
    this.best = noneYet()
    this.triangle.reach = tree.reach
    this.queue.clear()
    return this.boundOf(0) < limit
  }

  /** Takes the distance to a point as the limit, with room for rounding; false where that is no gain. */
  narrow([x, y, z]: Vec3): boolean {
    const { trial } = this
    convexDistance(this.seeker.set, point.fillPoint(x, y, z).set, this.cut, trial)
    const limit = trial.atMost * (1 + 1e-9) + 1e-6
    if (trial.stopped === 'upTo' || !(limit < this.cut)) return false
    this.cut = limit
    this.face()
    return true
  }

  run(): MeshNearest {
    const { queue, tree, best } = this
    const { right } = tree
    this.seeker.readyPlanes()
    let node = 0
    while (node >= 0) {
      if (right[node] >= 0) node = this.nearerChild(node + 1, right[node])
      else {
        this.leaf(node)
        if (best.contact !== 'none') return best
        node = -1
      }
      if (node < 0 && queue.take() && queue.bound < this.cut) node = queue.first
    }
    if (best.triangle >= 0) best.atLeast = Math.max(0, Math.min(best.atMost, this.lower, this.cut) - this.slack)
    return best
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
    if (far < this.cut) queue.push(far, isA ? b : a, 0)
    if (near <= queue.least()) return isA ? a : b
    queue.push(near, isA ? a : b, 0)
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
    this.cut = Math.min(this.cut, Math.max(0, trial.atMost - this.grain))
    this.face()
  }

  /** A supporting plane square to the way of the pair just tried: what is not before it by the cut is not nearer. */
  private face(): void {
    const { trial } = this
    this.seeker.face(trial.bx - trial.ax, trial.by - trial.ay, trial.bz - trial.az)
  }
}

// One for all calls: a search calls nothing back and leaves nothing behind but its room, which is dear to make anew.
const search = new Search()
const point = new Seeker()
