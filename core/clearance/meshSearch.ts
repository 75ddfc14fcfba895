import { BoundQueue } from './boundQueue.ts'
import { convexDistance } from './gjk.ts'
import type { MeshTree } from './meshTree.ts'
import { emptyNearest, epsilon, type Nearest } from './nearest.ts'
import { type ConvexSet, emptySet, setTriangle } from './support.ts'

/** A convex set in a tree's frame with what bounds it cheaply. */
export interface Seeker {
  readonly set: ConvexSet
  /** Planes of a polytope's faces, four numbers each: n·x ≤ offset inside. Empty where it has none. */
  readonly planes: Float64Array
  /** Least x, y, z, greatest x, y, z. */
  readonly box: Float64Array
}

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
  if (found.triangle < 0) farther(seeker, tree, upTo, found)
  return found
}

/** As fine as the kernel's own bounds end (`endWidth`), mm. */
const grain = (reach: number): number => 1e-9 + 1e-12 * reach

/** Everything is at least `upTo` away: any real pair of points serves as the upper bound's witness. */
function farther(seeker: Seeker, tree: MeshTree, upTo: number, found: MeshNearest): void {
  const corner = emptySet()
  setTriangle(corner, triangleAt(tree, 0, new Float64Array(9)))
  convexDistance(seeker.set, corner, Infinity, found)
  found.triangle = 0
  found.atLeast = Math.min(upTo, found.atMost)
  found.stopped = 'upTo'
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

const noneYet = (): MeshNearest => ({ ...emptyNearest(), triangle: -1 })
const nobody: Seeker = { set: emptySet(), planes: new Float64Array(0), box: new Float64Array(6) }

class Search {
  private readonly queue = new BoundQueue()
  private readonly triangle = emptySet()
  private readonly corners = new Float64Array(9)
  private readonly trial = emptyNearest()
  private best: MeshNearest = noneYet()
  /** Distance below which something is still of interest, mm: a grain below the best, so that the neighbours of the
   *  nearest corner, equally near, are not all followed to the last digit. The lower bound counts it. */
  private cut = Infinity
  /** Least lower bound among the triangles looked at. */
  private lower = Infinity
  private slack = 0
  private grain = 0
  private seeker: Seeker = nobody
  private tree!: MeshTree

  run(seeker: Seeker, tree: MeshTree, limit: number): MeshNearest {
    this.seeker = seeker
    this.tree = tree
    this.cut = limit
    this.grain = grain(tree.reach + seeker.set.reach)
    this.lower = Infinity
    // A bound is a difference of two sums of three products each of numbers up to the two reaches.
    this.slack = 16 * epsilon * (tree.reach + seeker.set.reach)
    this.best = noneYet()
    this.queue.clear()
    return this.searched()
  }

  private searched(): MeshNearest {
    const { queue, tree, best } = this
    const { right } = tree
    this.offer(0)
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
    if (best.triangle >= 0) best.atLeast = Math.min(best.atMost, this.lower, this.cut)
    return best
  }

  private offer(node: number): void {
    const bound = this.boxBound(this.tree.boxes, 6 * node)
    if (bound < this.cut) this.queue.push(bound, node, 0)
  }

  /** Lower bound of the distance to a box: along the axes together, and along each face plane of the seeker. */
  private boxBound(boxes: Float64Array, at: number): number {
    const { box, planes } = this.seeker
    const { cut, slack } = this
    let squared = 0
    for (let k = 0; k < 3; k++) {
      const apart = Math.max(boxes[at + k] - box[3 + k], box[k] - boxes[at + 3 + k], 0)
      squared += apart * apart
    }
    let bound = Math.sqrt(squared)
    if (bound - slack >= cut) return bound - slack
    for (let i = 0; i < planes.length; i += 4) {
      const nx = planes[i]
      const ny = planes[i + 1]
      const nz = planes[i + 2]
      const d =
        nx * boxes[nx > 0 ? at : at + 3] + ny * boxes[ny > 0 ? at + 1 : at + 4] + nz * boxes[nz > 0 ? at + 2 : at + 5] - planes[i + 3]
      if (d > bound) bound = d
    }
    return bound - slack
  }

  private leaf(node: number): void {
    const { first, count } = this.tree
    for (let t = first[node]; t < first[node] + count[node]; t++) {
      triangleAt(this.tree, t, this.corners)
      if (this.isFar()) continue
      this.measure(t)
      if (this.best.contact !== 'none') return
    }
  }

  /** Whether the present triangle's box or one face plane of the seeker keeps it beyond the limit. */
  private isFar(): boolean {
    const c = this.corners
    const { box, planes } = this.seeker
    const limit = this.cut + this.slack
    let squared = 0
    for (let k = 0; k < 3; k++) {
      const low = Math.min(c[k], c[3 + k], c[6 + k])
      const high = Math.max(c[k], c[3 + k], c[6 + k])
      const apart = Math.max(low - box[3 + k], box[k] - high, 0)
      squared += apart * apart
    }
    if (squared >= limit * limit) return true
    for (let i = 0; i < planes.length; i += 4) {
      const nx = planes[i]
      const ny = planes[i + 1]
      const nz = planes[i + 2]
      const a = nx * c[0] + ny * c[1] + nz * c[2]
      const b = nx * c[3] + ny * c[4] + nz * c[5]
      const d = nx * c[6] + ny * c[7] + nz * c[8]
      if (Math.min(a, b, d) - planes[i + 3] >= limit) return true
    }
    return false
  }

  private measure(t: number): void {
    const { best, trial } = this
    const guess = best.triangle >= 0
    setTriangle(this.triangle, this.corners)
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
    Object.assign(best, trial)
    best.triangle = t
    this.cut = Math.min(this.cut, Math.max(0, trial.atMost - this.grain))
  }
}

// One for all calls: a search calls nothing back and leaves nothing behind but its room, which is dear to make anew.
const search = new Search()
