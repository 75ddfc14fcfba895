import type { MeshTree } from './meshTree.ts'
import { epsilon } from './nearest.ts'
import { principalAxes } from './principalAxes.ts'

/** Numbers a box: middle, half sizes, three axes (unit, square to each other). Tree frame, mm. */
export const orientedStride = 15
/** Above this many triangles a node keeps its axis-aligned box: a large piece of a bay's mesh has no direction of its own. */
const most = 4096

const kept = new WeakMap<MeshTree, OrientedBoxes>()

export function orientedBoxes(tree: MeshTree): OrientedBoxes {
  let boxes = kept.get(tree)
  if (!boxes) {
    boxes = new OrientedBoxes(tree)
    kept.set(tree, boxes)
  }
  return boxes
}

/**
 * A box for each node of a tree, turned as its triangles lie: on a smooth or tilted surface it is far thinner than the
 * axis-aligned one. Made when first asked for and kept, since most nodes of a large mesh are never looked at.
 * Axes: principal axes of the triangles' areas about their mean. Half sizes are widened by what rounding may take.
 */
export class OrientedBoxes {
  readonly numbers: Float64Array
  private readonly made: Uint8Array
  private readonly tree: MeshTree
  private readonly moments = new Float64Array(10)
  private readonly matrix = new Float64Array(6)

  constructor(tree: MeshTree) {
    this.tree = tree
    this.numbers = new Float64Array(orientedStride * tree.right.length)
    this.made = new Uint8Array(tree.right.length)
  }

  /** Where the node's box begins in `numbers`. */
  at(node: number): number {
    if (this.made[node] === 0) {
      this.make(node)
      this.made[node] = 1
    }
    return orientedStride * node
  }

  private make(node: number): void {
    const [from, to] = this.range(node)
    const at = orientedStride * node
    if (to - from > most) this.takeOver(node, at)
    else {
      this.sumUp(from, to)
      principalAxes(this.covariance(), this.numbers, at + 6)
      this.measure(from, to, at)
    }
  }

  /** First triangle and the one after the last: a node's triangles follow each other. */
  private range(node: number): [number, number] {
    const { right, first, count } = this.tree
    let [low, high] = [node, node]
    while (right[low] >= 0) low++
    while (right[high] >= 0) high = right[high]
    return [first[low], first[high] + count[high]]
  }

  private takeOver(node: number, at: number): void {
    const { numbers } = this
    const { boxes } = this.tree
    for (let k = 0; k < 3; k++) {
      const [low, high] = [boxes[6 * node + k], boxes[6 * node + 3 + k]]
      numbers[at + k] = (low + high) / 2
      numbers[at + 3 + k] = (high - low) / 2 + this.pad()
      numbers[at + 6 + 4 * k] = 1
    }
  }

  /** A middle and a half size are each one sum off, a turned coordinate three products. */
  private pad(): number {
    return 16 * epsilon * this.tree.reach
  }

  /** Area, then first and second moments of the triangles' areas. */
  private sumUp(from: number, to: number): void {
    const { moments } = this
    const { corners, positions: v } = this.tree
    moments.fill(0)
    for (let t = 3 * from; t < 3 * to; t += 3) {
      const a = 3 * corners[t]
      const b = 3 * corners[t + 1]
      const c = 3 * corners[t + 2]
      const ux = v[b] - v[a]
      const uy = v[b + 1] - v[a + 1]
      const uz = v[b + 2] - v[a + 2]
      const wx = v[c] - v[a]
      const wy = v[c + 1] - v[a + 1]
      const wz = v[c + 2] - v[a + 2]
      const nx = uy * wz - uz * wy
      const ny = uz * wx - ux * wz
      const nz = ux * wy - uy * wx
      const area = Math.sqrt(nx * nx + ny * ny + nz * nz)
      const sx = v[a] + v[b] + v[c]
      const sy = v[a + 1] + v[b + 1] + v[c + 1]
      const sz = v[a + 2] + v[b + 2] + v[c + 2]
      // Second moment of a triangle: area / 12 times the sum over corners of p pᵀ and of (Σp)(Σp)ᵀ; here times 12 / area.
      moments[0] += area
      moments[1] += area * sx
      moments[2] += area * sy
      moments[3] += area * sz
      moments[4] += area * (sx * sx + v[a] * v[a] + v[b] * v[b] + v[c] * v[c])
      moments[5] += area * (sx * sy + v[a] * v[a + 1] + v[b] * v[b + 1] + v[c] * v[c + 1])
      moments[6] += area * (sx * sz + v[a] * v[a + 2] + v[b] * v[b + 2] + v[c] * v[c + 2])
      moments[7] += area * (sy * sy + v[a + 1] * v[a + 1] + v[b + 1] * v[b + 1] + v[c + 1] * v[c + 1])
      moments[8] += area * (sy * sz + v[a + 1] * v[a + 2] + v[b + 1] * v[b + 2] + v[c + 1] * v[c + 2])
      moments[9] += area * (sz * sz + v[a + 2] * v[a + 2] + v[b + 2] * v[b + 2] + v[c + 2] * v[c + 2])
    }
  }

  private covariance(): Float64Array {
    const { moments: m, matrix } = this
    const area = m[0]
    const x = m[1] / area
    const y = m[2] / area
    const z = m[3] / area
    // Means of three times the coordinates, hence of nine times their products; the second moments are twelve times theirs.
    const mean = 12 / 9
    matrix[0] = m[4] / area - mean * x * x
    matrix[1] = m[5] / area - mean * x * y
    matrix[2] = m[6] / area - mean * x * z
    matrix[3] = m[7] / area - mean * y * y
    matrix[4] = m[8] / area - mean * y * z
    matrix[5] = m[9] / area - mean * z * z
    return matrix
  }

  /** Extent of the vertices along the axes. */
  private measure(from: number, to: number, at: number): void {
    const { numbers } = this
    const { corners, positions: v } = this.tree
    for (let k = 0; k < 3; k++) {
      const ax = numbers[at + 6 + 3 * k]
      const ay = numbers[at + 7 + 3 * k]
      const az = numbers[at + 8 + 3 * k]
      let low = Infinity
      let high = -Infinity
      for (let i = 3 * from; i < 3 * to; i++) {
        const p = 3 * corners[i]
        const s = ax * v[p] + ay * v[p + 1] + az * v[p + 2]
        if (s < low) low = s
        if (s > high) high = s
      }
      const middle = (low + high) / 2
      numbers[at + 3 + k] = (high - low) / 2 + this.pad()
      numbers[at] += middle * ax
      numbers[at + 1] += middle * ay
      numbers[at + 2] += middle * az
    }
  }
}
