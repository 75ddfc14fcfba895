import type { Cylinder, Polytope } from '../shape/form.ts'
import { BoundQueue } from './boundQueue.ts'
import { triangleAt } from './meshSearch.ts'
import type { MeshTree } from './meshTree.ts'

/**
 * How far a point lies inside a convex body: the radius of the largest ball about it in the body; negative outside.
 * A concave function of the point: its greatest value over a triangle's corners bounds nothing, but plane by plane it does.
 */
interface Depth {
  at(x: number, y: number, z: number): number
  /** No point of the box (six numbers at `at`) is deeper. */
  overBox(boxes: Float64Array, at: number): number
  /** No point of the triangle (nine numbers) is deeper. */
  overTriangle(corners: Float64Array): number
}

/** The deepest mesh point found inside a body and its depth, mm; depth 0 or less where none was found. */
export interface DeepestPoint {
  readonly depth: number
  readonly x: number
  readonly y: number
  readonly z: number
}

/** Depths are found to this, mm, unless the work runs out; the answer is a depth that a point has, in either case. */
const fineEnough = 1e-3
const mostPieces = 20_000

/**
 * Greatest depth of a mesh's surface inside a convex body.
 * @param body, tree  in the tree's frame, mm
 * @returns a point of the mesh and its depth: a lower bound of the greatest, within 1e-3 mm of it as a rule. To part the
 * two, that point has to leave the body, so no shorter shift than its depth separates them.
 */
export function deepestInside(body: Polytope | Cylinder, tree: MeshTree): DeepestPoint {
  const depth = body.kind === 'polytope' ? polytopeDepth(body) : cylinderDepth(body)
  const search = new DepthSearch(depth, tree)
  return search.run()
}

class DepthSearch {
  private best: DeepestPoint = { depth: -Infinity, x: 0, y: 0, z: 0 }
  private readonly nodes = new BoundQueue()
  private readonly depth: Depth
  private readonly tree: MeshTree
  private pieces = 0

  constructor(depth: Depth, tree: MeshTree) {
    this.depth = depth
    this.tree = tree
  }

  run(): DeepestPoint {
    const { nodes, tree } = this
    const { right, first, count } = tree
    const corners = new Float64Array(9)
    this.offer(0)
    while (nodes.take() && -nodes.bound > this.best.depth + fineEnough) {
      const node = nodes.first
      if (right[node] >= 0) {
        this.offer(node + 1)
        this.offer(right[node])
        continue
      }
      for (let t = first[node]; t < first[node] + count[node]; t++) this.within(triangleAt(tree, t, corners))
    }
    return this.best
  }

  private offer(node: number): void {
    const bound = this.depth.overBox(this.tree.boxes, 6 * node)
    if (bound > 0 && bound > this.best.depth) this.nodes.push(-bound, node, 0)
  }

  /** Halves the triangle at its longest edge as long as a deeper point may lie in it. */
  private within(corners: Float64Array): void {
    const stack: Float64Array[] = [corners.slice()]
    while (stack.length > 0) {
      const c = stack.pop() as Float64Array
      for (let i = 0; i < 9; i += 3) this.offerPoint(c[i], c[i + 1], c[i + 2])
      this.offerPoint((c[0] + c[3] + c[6]) / 3, (c[1] + c[4] + c[7]) / 3, (c[2] + c[5] + c[8]) / 3)
      if (this.depth.overTriangle(c) <= Math.max(this.best.depth, 0) + fineEnough || ++this.pieces > mostPieces) continue
      stack.push(...halves(c))
    }
  }

  private offerPoint(x: number, y: number, z: number): void {
    const depth = this.depth.at(x, y, z)
    if (depth > this.best.depth) this.best = { depth, x, y, z }
  }
}

function halves(c: Float64Array): [Float64Array, Float64Array] {
  let longest = 0
  let from = 0
  for (let i = 0; i < 3; i++) {
    const a = 3 * i
    const b = 3 * ((i + 1) % 3)
    const l = (c[a] - c[b]) ** 2 + (c[a + 1] - c[b + 1]) ** 2 + (c[a + 2] - c[b + 2]) ** 2
    if (l > longest) {
      longest = l
      from = i
    }
  }
  const a = 3 * from
  const b = 3 * ((from + 1) % 3)
  const one = c.slice()
  const other = c.slice()
  for (let k = 0; k < 3; k++) {
    const mid = (c[a + k] + c[b + k]) / 2
    one[b + k] = mid
    other[a + k] = mid
  }
  return [one, other]
}

function polytopeDepth({ planes }: Polytope): Depth {
  const least = (value: (nx: number, ny: number, nz: number) => number): number => {
    let depth = Infinity
    for (let i = 0; i < planes.length; i += 4) depth = Math.min(depth, planes[i + 3] - value(planes[i], planes[i + 1], planes[i + 2]))
    return depth
  }
  return {
    at: (x, y, z) => least((nx, ny, nz) => nx * x + ny * y + nz * z),
    overBox: (b, at) =>
      least((nx, ny, nz) => nx * b[nx > 0 ? at : at + 3] + ny * b[ny > 0 ? at + 1 : at + 4] + nz * b[nz > 0 ? at + 2 : at + 5]),
    overTriangle: (c) =>
      least((nx, ny, nz) =>
        Math.min(nx * c[0] + ny * c[1] + nz * c[2], nx * c[3] + ny * c[4] + nz * c[5], nx * c[6] + ny * c[7] + nz * c[8]),
      ),
  }
}

function cylinderDepth({ from, to, radius }: Cylinder): Depth {
  const d = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
  const l = Math.hypot(d[0], d[1], d[2])
  const [ax, ay, az] = [d[0] / l, d[1] / l, d[2] / l]
  const at = (x: number, y: number, z: number): number => {
    const [px, py, pz] = [x - from[0], y - from[1], z - from[2]]
    const s = px * ax + py * ay + pz * az
    const radial = Math.hypot(px - s * ax, py - s * ay, pz - s * az)
    return Math.min(radius - radial, s, l - s)
  }
  // Depth changes by no more than the way gone: what is within r of a point is at most r deeper.
  const around = (x: number, y: number, z: number, reach: number) => at(x, y, z) + reach
  return {
    at,
    overBox: (b, i) =>
      around(
        (b[i] + b[i + 3]) / 2,
        (b[i + 1] + b[i + 4]) / 2,
        (b[i + 2] + b[i + 5]) / 2,
        Math.hypot(b[i + 3] - b[i], b[i + 4] - b[i + 1], b[i + 5] - b[i + 2]) / 2,
      ),
    overTriangle: (c) => {
      const [x, y, z] = [(c[0] + c[3] + c[6]) / 3, (c[1] + c[4] + c[7]) / 3, (c[2] + c[5] + c[8]) / 3]
      let reach = 0
      for (let i = 0; i < 9; i += 3) reach = Math.max(reach, Math.hypot(c[i] - x, c[i + 1] - y, c[i + 2] - z))
      return around(x, y, z, reach)
    },
  }
}
