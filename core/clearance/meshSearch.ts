import { BoundQueue } from './boundQueue.ts'
import { convexDistance } from './gjk.ts'
import type { MeshTree } from './meshTree.ts'
import { emptyNearest, epsilon, type Nearest } from './nearest.ts'
import type { Seeker } from './seeker.ts'
import { type ConvexSet, emptySet, supportOf } from './support.ts'

/** Nearest pair of a seeker and a mesh; the seeker's point first. `triangle` is its number in the tree's order. */
export interface MeshNearest extends Nearest {
  triangle: number
}

/**
 * Shortest distance of a convex set to the triangles of a mesh, as surfaces: nothing is inside.
 * @param seeker  in the tree's frame, mm
 * @param upTo    stop where the distance is proved to be at least this, mm
 * @param reached a distance (mm) that some pair of points is known to have, or is guessed to have: nothing farther is
 *                looked at. If the guess was too small, nothing is found and the search is made again without it.
 * Error: as `convexDistance`; contact ends the search at once.
 * Source: best-first branch and bound over a tree of boxes: common practice, no source.
 */
export function nearestOnMesh(seeker: Seeker, tree: MeshTree, upTo: number, reached = Infinity): MeshNearest {
  if (reached < upTo) {
    const found = search.run(seeker, tree, reached)
    if (found.triangle >= 0) return found
  }
  const found = search.run(seeker, tree, upTo)
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
  /** Plane that the seeker lies behind, square to the way of the best pair: what is not before it by `cut` is not nearer. */
  private nx = 0
  private ny = 0
  private nz = 0
  private front = Infinity
  private readonly foremost = new Float64Array(3)

  run(seeker: Seeker, tree: MeshTree, limit: number): MeshNearest {
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
    this.front = Infinity
    this.triangle.reach = tree.reach
    this.queue.clear()
    return this.searched()
  }

  private searched(): MeshNearest {
    const { queue, tree, best } = this
    const { right } = tree
    this.offer(0)
    if (queue.size > 0) this.seeker.readyPlanes()
    while (queue.take() && queue.bound < this.cut) {
      const node = queue.first
      if (right[node] < 0) {
        this.leaf(node)
        if (best.contact !== 'none') return best
      } else {
        this.offer(node + 1)
        this.offer(right[node])
      }
    }
    if (best.triangle >= 0) best.atLeast = Math.max(0, Math.min(best.atMost, this.lower, this.cut) - this.slack)
    return best
  }

  private offer(node: number): void {
    const bound = this.boxBound(this.tree.boxes, 6 * node) - this.slack
    if (bound < this.cut) this.queue.push(bound, node, 0)
  }

  /** Lower bound of the distance to a box, but for rounding; any bound beyond the cut is as good as the best. */
  private boxBound(boxes: Float64Array, at: number): number {
    const { box, planes, planeEnd } = this.seeker
    const enough = this.cut + this.slack
    const x0 = boxes[at]
    const y0 = boxes[at + 1]
    const z0 = boxes[at + 2]
    const x1 = boxes[at + 3]
    const y1 = boxes[at + 4]
    const z1 = boxes[at + 5]
    let bound = 0
    if (this.front < Infinity) {
      const { nx, ny, nz } = this
      bound = nx * (nx > 0 ? x0 : x1) + ny * (ny > 0 ? y0 : y1) + nz * (nz > 0 ? z0 : z1) - this.front
      if (bound >= enough) return bound
    }
    const x = x0 - box[3] > 0 ? x0 - box[3] : box[0] - x1 > 0 ? box[0] - x1 : 0
    const y = y0 - box[4] > 0 ? y0 - box[4] : box[1] - y1 > 0 ? box[1] - y1 : 0
    const z = z0 - box[5] > 0 ? z0 - box[5] : box[2] - z1 > 0 ? box[2] - z1 : 0
    const apart = Math.sqrt(x * x + y * y + z * z)
    if (apart > bound) bound = apart
    for (let i = 0; i < planeEnd && bound < enough; i += 4) {
      const nx = planes[i]
      const ny = planes[i + 1]
      const nz = planes[i + 2]
      const d = nx * (nx > 0 ? x0 : x1) + ny * (ny > 0 ? y0 : y1) + nz * (nz > 0 ? z0 : z1) - planes[i + 3]
      if (d > bound) bound = d
    }
    return bound
  }

  private leaf(node: number): void {
    const { first, count } = this.tree
    for (let t = first[node]; t < first[node] + count[node]; t++) {
      triangleAt(this.tree, t, this.triangle.points)
      if (this.isFar()) continue
      this.measure(t)
      if (this.best.contact !== 'none') return
    }
  }

  /** Whether one plane before the seeker, or its box, keeps the present triangle beyond the cut. */
  private isFar(): boolean {
    const { box, planes, planeEnd } = this.seeker
    const { points } = this.triangle
    const ax = points[0]
    const ay = points[1]
    const az = points[2]
    const bx = points[3]
    const by = points[4]
    const bz = points[5]
    const cx = points[6]
    const cy = points[7]
    const cz = points[8]
    const enough = this.cut + this.slack
    if (this.front < Infinity) {
      const { nx, ny, nz } = this
      const d = Math.min(nx * ax + ny * ay + nz * az, nx * bx + ny * by + nz * bz, nx * cx + ny * cy + nz * cz)
      if (d - this.front >= enough) return true
    }
    const x = Math.max(Math.min(ax, bx, cx) - box[3], box[0] - Math.max(ax, bx, cx), 0)
    const y = Math.max(Math.min(ay, by, cy) - box[4], box[1] - Math.max(ay, by, cy), 0)
    const z = Math.max(Math.min(az, bz, cz) - box[5], box[2] - Math.max(az, bz, cz), 0)
    if (x * x + y * y + z * z >= enough * enough) return true
    for (let i = 0; i < planeEnd; i += 4) {
      const nx = planes[i]
      const ny = planes[i + 1]
      const nz = planes[i + 2]
      const d = Math.min(nx * ax + ny * ay + nz * az, nx * bx + ny * by + nz * bz, nx * cx + ny * cy + nz * cz)
      if (d - planes[i + 3] >= enough) return true
    }
    return false
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
    const { best, trial, foremost } = this
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
    const x = trial.bx - trial.ax
    const y = trial.by - trial.ay
    const z = trial.bz - trial.az
    const l = Math.sqrt(x * x + y * y + z * z)
    if (!(l > 0)) return
    this.nx = x / l
    this.ny = y / l
    this.nz = z / l
    supportOf(this.seeker.set, x, y, z, foremost, 0)
    this.front = this.nx * foremost[0] + this.ny * foremost[1] + this.nz * foremost[2]
  }
}

// One for all calls: a search calls nothing back and leaves nothing behind but its room, which is dear to make anew.
const search = new Search()
