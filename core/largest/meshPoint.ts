import { bodyDepth } from '../clearance/bodyDepth.ts'
import { BoundQueue } from '../clearance/boundQueue.ts'
import { convexDistance } from '../clearance/gjk.ts'
import { isInside } from '../clearance/inside.ts'
import { nearestOnMesh, triangleAt } from '../clearance/meshSearch.ts'
import { type MeshTree, meshTree } from '../clearance/meshTree.ts'
import { emptyNearest } from '../clearance/nearest.ts'
import { bodyInTree, intoTree, outOfTree, pointSeeker, Seeker } from '../clearance/seeker.ts'
import { boxBound, triangleBound } from '../clearance/seekerBound.ts'
import { type ConvexSet, emptySet } from '../clearance/support.ts'
import type { Cylinder, MeshForm, Polytope } from '../shape/form.ts'
import type { Vec3 } from '../shape/vec.ts'
import { clippedMiddle } from './clippedMiddle.ts'

/** A point of a keep-out that is too near, or within, a part. */
export interface TooNear {
  readonly at: Vec3
  /** A ball about it of this radius lies in the keep-out, mm; 0 for a point of its surface. */
  readonly room: number
  /** How much nearer than asked, mm; overlaps add their depth. */
  readonly by: number
  /** The part's point that is nearest, where the two are apart. */
  readonly onPart?: Vec3
}

/** A point that is this share as bad as the worst may be is bad enough. */
const badEnough = 0.7
/** Once something is found, no more triangles than this are looked at for something worse. */
const mostTriangles = 400

/**
 * A point of a mesh that is nearer to a convex part than asked, by more than `ignore`: not the worst one, but one that is
 * bad enough, unless the worst is wanted nowhere else. None found is a proof that there is none.
 * A part wholly inside a closed mesh gives its middle with the room there.
 * @param body bay frame, mm
 */
export function meshPoint(
  body: Polytope | Cylinder,
  form: MeshForm,
  asked: number,
  ignore: number,
): TooNear | undefined {
  const tree = meshTree(form.mesh)
  const found = search.run(body, form, tree, asked, ignore)
  if (found || !form.mesh.closed) return found
  const inTree = intoTree(form, tree, middleOf(body))
  if (!isInside(tree, inTree)) return undefined
  const { atLeast } = nearestOnMesh(pointSeeker(inTree), tree, Infinity)
  return { at: outOfTree(form, tree, inTree), room: atLeast * (1 - 1e-12), by: asked + atLeast }
}

function middleOf(body: Polytope | Cylinder): Vec3 {
  if (body.kind === 'cylinder') return [0, 1, 2].map((k) => body.from[k] / 2 + body.to[k] / 2) as unknown as Vec3
  const sum = [0, 0, 0]
  const count = body.vertices.length / 3
  for (let i = 0; i < body.vertices.length; i++) sum[i % 3] += body.vertices[i] / count
  return [sum[0], sum[1], sum[2]]
}

class PointSearch {
  private readonly queue = new BoundQueue()
  private readonly seeker = new Seeker()
  private readonly triangle: ConvexSet = { ...emptySet(), count: 3 }
  private readonly near = emptyNearest()
  private readonly middle = new Float64Array(3)
  private best = 0
  private hasFound = false
  private isOverlap = false
  private readonly at = new Float64Array(3)
  private readonly onPart = new Float64Array(3)
  private triangles = 0
  private slack = 0

  run(body: Polytope | Cylinder, form: MeshForm, tree: MeshTree, asked: number, ignore: number): TooNear | undefined {
    const { queue, seeker } = this
    seeker.fill(body, form, tree)
    seeker.readyPlanes()
    const inTree = bodyInTree(body, form, tree)
    const depth = bodyDepth(inTree)
    this.best = ignore
    this.hasFound = false
    this.triangles = 0
    // As the mesh search counts it: bounds are differences of sums of products of numbers up to the two reaches.
    this.slack = 16 * 2 ** -52 * (tree.reach + seeker.set.reach + seeker.carried)
    this.triangle.reach = tree.reach
    queue.clear()
    const worst = (node: number): number => {
      const apart = boxBound(seeker, tree.boxes, 6 * node, asked - this.best + this.slack)
      if (apart > 0) return asked - apart + this.slack
      return asked + Math.max(0, depth.overBox(tree.boxes, 6 * node, -Infinity)) + this.slack
    }
    const root = worst(0)
    if (root > this.best) queue.push(-root, 0, 0)
    while (queue.take()) {
      const bound = -queue.bound
      if (bound <= this.best || (this.hasFound && (this.best >= badEnough * bound || this.triangles > mostTriangles)))
        break
      const node = queue.first
      if (tree.right[node] < 0) this.leaf(node, tree, inTree, depth, asked)
      else
        for (const child of [node + 1, tree.right[node]]) {
          const below = worst(child)
          if (below > this.best) queue.push(-below, child, 0)
        }
    }
    if (!this.hasFound) return undefined
    return {
      at: outOfTree(form, tree, [this.at[0], this.at[1], this.at[2]]),
      room: 0,
      by: this.best,
      ...(!this.isOverlap && { onPart: outOfTree(form, tree, [this.onPart[0], this.onPart[1], this.onPart[2]]) }),
    }
  }

  private leaf(
    node: number,
    tree: MeshTree,
    body: Polytope | Cylinder,
    depth: ReturnType<typeof bodyDepth>,
    asked: number,
  ): void {
    const { near, triangle } = this
    const { points } = triangle
    for (let t = tree.first[node]; t < tree.first[node] + tree.count[node]; t++) {
      triangleAt(tree, t, points)
      const enough = asked - this.best + this.slack
      if (enough > 0 && triangleBound(this.seeker, points, enough) >= enough) continue
      this.triangles++
      convexDistance(this.seeker.set, triangle, Math.max(enough, 0), near)
      if (near.contact === 'none' && near.atLeast > 0) {
        const by = asked - near.atLeast
        if (by > this.best && near.stopped !== 'upTo') this.take(by, near.bx, near.by, near.bz, false)
        continue
      }
      this.within(body, depth, asked, points)
    }
  }

  /** The triangle meets the part: its deepest corner, the middle of what lies in the part, or the common point. */
  private within(body: Polytope | Cylinder, depth: ReturnType<typeof bodyDepth>, asked: number, c: Float64Array): void {
    const { near, middle } = this
    const look = (x: number, y: number, z: number) => {
      const by = asked + Math.max(0, depth.at(x, y, z, -Infinity))
      // A corner outside the part is no nearer than it is: only points in it, or the common point, may count as such.
      if (depth.at(x, y, z, -Infinity) >= 0 && by > this.best) this.take(by, x, y, z, true)
    }
    for (let i = 0; i < 9; i += 3) look(c[i], c[i + 1], c[i + 2])
    if (body.kind === 'polytope' && clippedMiddle(body.planes, c, middle)) look(middle[0], middle[1], middle[2])
    if (asked > this.best) this.take(asked, near.bx, near.by, near.bz, true)
  }

  private take(by: number, x: number, y: number, z: number, isOverlap: boolean): void {
    this.best = by
    this.hasFound = true
    this.isOverlap = isOverlap
    this.at[0] = x
    this.at[1] = y
    this.at[2] = z
    this.onPart[0] = this.near.ax
    this.onPart[1] = this.near.ay
    this.onPart[2] = this.near.az
  }
}

// One for all calls: a search calls nothing back and leaves nothing behind but its room.
const search = new PointSearch()
