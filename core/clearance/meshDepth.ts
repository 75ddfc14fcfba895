import type { Cylinder, Polytope } from '../shape/form.ts'
import { type BodyDepth, bodyDepth } from './bodyDepth.ts'
import { BoundQueue } from './boundQueue.ts'
import { triangleAt } from './meshSearch.ts'
import type { MeshTree } from './meshTree.ts'

/** The deepest mesh point found inside a body and its depth, mm; depth 0 or less where none was found. */
export interface DeepestPoint {
  readonly depth: number
  readonly x: number
  readonly y: number
  readonly z: number
  /** Boxes and pieces of triangles looked at; never many more than `mostSteps` allows. */
  readonly steps: number
}

/** Depths are found to this, mm, unless the work runs out; the answer is a depth that a point has, in either case. */
const fineEnough = 1e-3
/** Bounds the time whatever the mesh, to some milliseconds: a surface that follows a round body closely needs most. */
export const mostSteps = (body: Polytope | Cylinder): number =>
  body.kind === 'cylinder' ? 40_000 : Math.min(40_000, Math.ceil(3e6 / body.faces.length))

/**
 * Greatest depth of a mesh's surface inside a convex body.
 * @param body, tree  in the tree's frame, mm
 * @returns a point of the mesh and its depth: a lower bound of the greatest, within 1e-3 mm of it as a rule. To part the
 * two, that point has to leave the body, so no shorter shift than its depth separates them.
 * Source: best-first branch and bound: common practice, no source.
 */
export const deepestInside = (body: Polytope | Cylinder, tree: MeshTree): DeepestPoint =>
  new DepthSearch(bodyDepth(body), tree, mostSteps(body)).run()

class DepthSearch {
  private depth = Number.NEGATIVE_INFINITY
  private x = 0
  private y = 0
  private z = 0
  private steps = 0
  private readonly nodes = new BoundQueue()
  private readonly body: BodyDepth
  private readonly tree: MeshTree
  private readonly most: number
  /** Pieces of the present triangle, nine numbers each. One is taken off and two are laid on: halving never needs more. */
  private pieces = new Float64Array(9 * 64)

  constructor(body: BodyDepth, tree: MeshTree, most: number) {
    this.body = body
    this.tree = tree
    this.most = most
  }

  run(): DeepestPoint {
    const { nodes, tree } = this
    const { right, first, count } = tree
    this.offer(0)
    while (nodes.take() && -nodes.bound > this.floor() && this.steps < this.most) {
      const node = nodes.first
      if (right[node] >= 0) {
        this.offer(node + 1)
        this.offer(right[node])
      } else for (let t = first[node]; t < first[node] + count[node]; t++) this.within(t)
    }
    return { depth: this.depth, x: this.x, y: this.y, z: this.z, steps: this.steps }
  }

  /** What is no deeper than this need not be looked at. */
  private floor(): number {
    return this.depth > 0 ? this.depth + fineEnough : fineEnough
  }

  private offer(node: number): void {
    this.steps++
    const floor = this.floor()
    const bound = this.body.overBox(this.tree.boxes, 6 * node, floor)
    if (bound > floor) this.nodes.push(-bound, node, 0)
  }

  /** Halves the triangle at its longest edge as long as a deeper point may lie in it. */
  private within(triangle: number): void {
    const { body, pieces: c } = this
    triangleAt(this.tree, triangle, c)
    for (let i = 0; i < 9; i += 3) this.look(c[i], c[i + 1], c[i + 2])
    let top = 0
    while (top >= 0) {
      this.steps++
      this.look(
        (c[top] + c[top + 3] + c[top + 6]) / 3,
        (c[top + 1] + c[top + 4] + c[top + 7]) / 3,
        (c[top + 2] + c[top + 5] + c[top + 8]) / 3,
      )
      const floor = this.floor()
      const hasRoom = top + 18 <= c.length && this.steps < this.most
      if (hasRoom && body.overTriangle(c, top, floor) > floor) {
        this.halve(top)
        top += 9
      } else top -= 9
    }
  }

  private look(x: number, y: number, z: number): void {
    const depth = this.body.at(x, y, z, this.depth)
    if (!(depth > this.depth)) return
    this.depth = depth
    this.x = x
    this.y = y
    this.z = z
  }

  /** The piece at `top` becomes two, one after the other; the new point is looked at. */
  private halve(top: number): void {
    const c = this.pieces
    const from = longestEdge(c, top)
    const a = top + 3 * from
    const b = top + 3 * ((from + 1) % 3)
    c.copyWithin(top + 9, top, top + 9)
    for (let k = 0; k < 3; k++) {
      const middle = (c[a + k] + c[b + k]) / 2
      c[b + k] = middle
      c[a + 9 + k] = middle
    }
    this.look(c[b], c[b + 1], c[b + 2])
  }
}

/** 0, 1, 2: the edge from that corner to the next. */
function longestEdge(c: Float64Array, at: number): number {
  let longest = -1
  let from = 0
  for (let i = 0; i < 3; i++) {
    const a = at + 3 * i
    const b = at + 3 * ((i + 1) % 3)
    const squared = (c[a] - c[b]) ** 2 + (c[a + 1] - c[b + 1]) ** 2 + (c[a + 2] - c[b + 2]) ** 2
    if (squared > longest) {
      longest = squared
      from = i
    }
  }
  return from
}
