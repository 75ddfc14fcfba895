import type { Pose } from '../shape/vec.ts'
import type { MeshTree } from './meshTree.ts'
import { type OrientedBoxes, orientedBoxes } from './orientedBoxes.ts'

/**
 * Lower bound on the distance of two nodes' triangles, mm, but for rounding, which the caller takes off; 0 where they may
 * meet. One beyond `enough` is as good as the best.
 */
export interface PairBound {
  between(a: number, b: number, enough: number): number
  /** Whether a's box is the larger of the two, and the one to split. */
  isLargerA(a: number, b: number): boolean
}

/** Gap of two boxes: along the axes of the one together, or of the other, whichever is more. */
export class StraightBound implements PairBound {
  private readonly p: Float64Array
  private readonly q: Float64Array
  /** Nine numbers of the turn, three of the shift: b's frame as seen from a's. */
  private readonly pose: Float64Array
  private readonly absolute: Float64Array

  constructor(a: MeshTree, b: MeshTree, pose: Pose) {
    this.p = a.boxes
    this.q = b.boxes
    this.pose = Float64Array.from([...pose.turn, ...pose.at])
    this.absolute = this.pose.map(Math.abs)
  }

  between(nodeA: number, nodeB: number, enough: number): number {
    const { p, q, pose: r, absolute: m } = this
    const a = 6 * nodeA
    const b = 6 * nodeB
    const bx = (q[b] + q[b + 3]) / 2
    const by = (q[b + 1] + q[b + 4]) / 2
    const bz = (q[b + 2] + q[b + 5]) / 2
    const kx = (q[b + 3] - q[b]) / 2
    const ky = (q[b + 4] - q[b + 1]) / 2
    const kz = (q[b + 5] - q[b + 2]) / 2
    const hx = (p[a + 3] - p[a]) / 2
    const hy = (p[a + 4] - p[a + 1]) / 2
    const hz = (p[a + 5] - p[a + 2]) / 2
    const dx = r[0] * bx + r[1] * by + r[2] * bz + r[9] - (p[a] + p[a + 3]) / 2
    const dy = r[3] * bx + r[4] * by + r[5] * bz + r[10] - (p[a + 1] + p[a + 4]) / 2
    const dz = r[6] * bx + r[7] * by + r[8] * bz + r[11] - (p[a + 2] + p[a + 5]) / 2
    const alongA = squaredGap(
      Math.abs(dx) - hx - (m[0] * kx + m[1] * ky + m[2] * kz),
      Math.abs(dy) - hy - (m[3] * kx + m[4] * ky + m[5] * kz),
      Math.abs(dz) - hz - (m[6] * kx + m[7] * ky + m[8] * kz),
    )
    if (alongA >= enough * enough) return Math.sqrt(alongA)
    const alongB = squaredGap(
      Math.abs(r[0] * dx + r[3] * dy + r[6] * dz) - kx - (m[0] * hx + m[3] * hy + m[6] * hz),
      Math.abs(r[1] * dx + r[4] * dy + r[7] * dz) - ky - (m[1] * hx + m[4] * hy + m[7] * hz),
      Math.abs(r[2] * dx + r[5] * dy + r[8] * dz) - kz - (m[2] * hx + m[5] * hy + m[8] * hz),
    )
    return Math.sqrt(Math.max(alongA, alongB))
  }

  isLargerA(a: number, b: number): boolean {
    return sides(this.p, 6 * a) >= sides(this.q, 6 * b)
  }
}

/** The same with boxes turned as the triangles lie: dearer to ask, far tighter on smooth surfaces that face each other. */
export class OrientedBound implements PairBound {
  private readonly a: OrientedBoxes
  private readonly b: OrientedBoxes
  /** Nine numbers of the turn, three of the shift: b's frame as seen from a's. */
  private readonly pose: Float64Array
  /** Middle and axes of b's node asked for last, in a's frame: it is asked for twice running as a rule. */
  private readonly carried = new Float64Array(12)
  private last = -1

  constructor(a: MeshTree, b: MeshTree, pose: Pose) {
    this.a = orientedBoxes(a)
    this.b = orientedBoxes(b)
    this.pose = Float64Array.from([...pose.turn, ...pose.at])
  }

  private carry(node: number, at: number): void {
    const { pose: r, carried: c } = this
    const q = this.b.numbers
    this.last = node
    for (let k = 0; k < 12; k += 3) {
      const from = k === 0 ? at : at + 3 + k
      const x = q[from]
      const y = q[from + 1]
      const z = q[from + 2]
      c[k] = r[0] * x + r[1] * y + r[2] * z
      c[k + 1] = r[3] * x + r[4] * y + r[5] * z
      c[k + 2] = r[6] * x + r[7] * y + r[8] * z
    }
    c[0] += r[9]
    c[1] += r[10]
    c[2] += r[11]
  }

  between(nodeA: number, nodeB: number, enough: number): number {
    const a = this.a.at(nodeA)
    const b = this.b.at(nodeB)
    if (nodeB !== this.last) this.carry(nodeB, b)
    const p = this.a.numbers
    const q = this.b.numbers
    const c = this.carried
    const dx = c[0] - p[a]
    const dy = c[1] - p[a + 1]
    const dz = c[2] - p[a + 2]
    const ix = p[a + 6]
    const iy = p[a + 7]
    const iz = p[a + 8]
    const jx = p[a + 9]
    const jy = p[a + 10]
    const jz = p[a + 11]
    const kx = p[a + 12]
    const ky = p[a + 13]
    const kz = p[a + 14]
    // How far each axis of a leans along each of b.
    const iu = Math.abs(ix * c[3] + iy * c[4] + iz * c[5])
    const iv = Math.abs(ix * c[6] + iy * c[7] + iz * c[8])
    const iw = Math.abs(ix * c[9] + iy * c[10] + iz * c[11])
    const ju = Math.abs(jx * c[3] + jy * c[4] + jz * c[5])
    const jv = Math.abs(jx * c[6] + jy * c[7] + jz * c[8])
    const jw = Math.abs(jx * c[9] + jy * c[10] + jz * c[11])
    const ku = Math.abs(kx * c[3] + ky * c[4] + kz * c[5])
    const kv = Math.abs(kx * c[6] + ky * c[7] + kz * c[8])
    const kw = Math.abs(kx * c[9] + ky * c[10] + kz * c[11])
    const hi = p[a + 3]
    const hj = p[a + 4]
    const hk = p[a + 5]
    const hu = q[b + 3]
    const hv = q[b + 4]
    const hw = q[b + 5]
    const alongA = squaredGap(
      Math.abs(ix * dx + iy * dy + iz * dz) - hi - (iu * hu + iv * hv + iw * hw),
      Math.abs(jx * dx + jy * dy + jz * dz) - hj - (ju * hu + jv * hv + jw * hw),
      Math.abs(kx * dx + ky * dy + kz * dz) - hk - (ku * hu + kv * hv + kw * hw),
    )
    if (alongA >= enough * enough) return Math.sqrt(alongA)
    const alongB = squaredGap(
      Math.abs(c[3] * dx + c[4] * dy + c[5] * dz) - hu - (iu * hi + ju * hj + ku * hk),
      Math.abs(c[6] * dx + c[7] * dy + c[8] * dz) - hv - (iv * hi + jv * hj + kv * hk),
      Math.abs(c[9] * dx + c[10] * dy + c[11] * dz) - hw - (iw * hi + jw * hj + kw * hk),
    )
    return Math.sqrt(Math.max(alongA, alongB))
  }

  isLargerA(a: number, b: number): boolean {
    const p = this.a.numbers
    const q = this.b.numbers
    const i = this.a.at(a)
    const j = this.b.at(b)
    return p[i + 3] + p[i + 4] + p[i + 5] >= q[j + 3] + q[j + 4] + q[j + 5]
  }
}

function sides(boxes: Float64Array, at: number): number {
  return boxes[at + 3] - boxes[at] + boxes[at + 4] - boxes[at + 1] + boxes[at + 5] - boxes[at + 2]
}

function squaredGap(x: number, y: number, z: number): number {
  const a = Math.max(x, 0)
  const b = Math.max(y, 0)
  const c = Math.max(z, 0)
  return a * a + b * b + c * c
}
