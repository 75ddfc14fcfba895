import type { Pose } from '../shape/vec.ts'
import { BoundQueue } from './boundQueue.ts'
import { isInside } from './inside.ts'
import type { DeepestPoint } from './meshDepth.ts'
import { nearestOnMesh } from './meshSearch.ts'
import type { MeshTree } from './meshTree.ts'
import { epsilon } from './nearest.ts'
import { Seeker } from './seeker.ts'

/** Depths are found to 1e-3 mm and a hundredth, unless the work runs out; the answer is a depth that a vertex has, in either case. */
const floorOver = (depth: number): number => 1e-3 + 1.01 * depth
/** Points whose depth is measured. Deep inside a mesh each takes up to 0.15 ms, for much of the surface is nearly as near. */
const most = 300

/**
 * Deepest vertex of one mesh inside another, closed one.
 * @param pose frame of the inner mesh's tree as seen from the outer's
 * @returns the vertex, in the outer's tree frame, and its depth: the ball of that radius about it lies in the outer mesh, so
 * no shorter shift parts the two. 0 or less where no vertex was found inside.
 * Method: depth changes by no more than the way gone; best-first over the inner tree's boxes. Source: derived.
 */
export function deepestVertex(inner: MeshTree, outer: MeshTree, pose: Pose): DeepestPoint {
  return new VertexSearch(inner, outer, pose).run()
}

class VertexSearch {
  private depth = 0
  private x = 0
  private y = 0
  private z = 0
  private steps = 0
  private readonly nodes = new BoundQueue()
  private readonly seeker = new Seeker()
  private readonly inner: MeshTree
  private readonly outer: MeshTree
  private readonly pose: Pose
  private readonly slack: number
  // The point asked for last, in the outer's frame.
  private px = 0
  private py = 0
  private pz = 0

  constructor(inner: MeshTree, outer: MeshTree, pose: Pose) {
    this.inner = inner
    this.outer = outer
    this.pose = pose
    const away = Math.abs(pose.at[0]) + Math.abs(pose.at[1]) + Math.abs(pose.at[2])
    this.slack = 64 * epsilon * (inner.reach + outer.reach + away)
  }

  run(): DeepestPoint {
    const { nodes, inner } = this
    const { right, first, count, corners, positions: v } = inner
    this.offer(0)
    while (nodes.take() && -nodes.bound > floorOver(this.depth) && this.steps < most) {
      const node = nodes.first
      if (right[node] >= 0) {
        this.offer(node + 1)
        this.offer(right[node])
      } else
        for (let i = 3 * first[node]; i < 3 * (first[node] + count[node]); i++) {
          const p = 3 * corners[i]
          this.look(v[p], v[p + 1], v[p + 2])
        }
    }
    const { depth, x, y, z, steps } = this
    return { depth: Math.max(0, depth - this.slack), x, y, z, steps }
  }

  private offer(node: number): void {
    const { boxes } = this.inner
    const at = 6 * node
    const [hx, hy, hz] = [boxes[at + 3] - boxes[at], boxes[at + 4] - boxes[at + 1], boxes[at + 5] - boxes[at + 2]]
    const reach = Math.sqrt(hx * hx + hy * hy + hz * hz) / 2 + this.slack
    const room = this.room(boxes[at] + hx / 2, boxes[at + 1] + hy / 2, boxes[at + 2] + hz / 2, reach)
    const bound = room + reach
    if (bound > floorOver(this.depth)) this.nodes.push(-bound, node, 0)
  }

  private look(x: number, y: number, z: number): void {
    const depth = this.room(x, y, z, 0)
    if (!(depth > this.depth)) return
    this.depth = depth
    this.x = this.px
    this.y = this.py
    this.z = this.pz
  }

  /** Distance to the outer surface within it; outside minus that distance, but no less than −`most` need be told apart. */
  private room(x: number, y: number, z: number, farthest: number): number {
    this.steps++
    const { turn: r, at } = this.pose
    this.px = r[0] * x + r[1] * y + r[2] * z + at[0]
    this.py = r[3] * x + r[4] * y + r[5] * z + at[1]
    this.pz = r[6] * x + r[7] * y + r[8] * z + at[2]
    const point = this.seeker.fillPoint(this.px, this.py, this.pz)
    if (isInside(this.outer, [this.px, this.py, this.pz])) return nearestOnMesh(point, this.outer, Infinity).atLeast
    if (farthest === 0) return Number.NEGATIVE_INFINITY
    return -nearestOnMesh(point, this.outer, farthest).atLeast
  }
}
