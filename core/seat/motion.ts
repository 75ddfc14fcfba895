import { placedBack, scale, unit } from '../shape/vec.ts'
import type { Mat3, Pose, Vec3 } from '../shape/vec.ts'
import type { Move } from './answer.ts'
import { angleOf } from './move.ts'

/** One move from a known pose, ready to place points at any share of it. */
export class Motion {
  readonly from: Pose
  readonly move: Move
  /** Whole turn, radians, not negative. */
  readonly angle: number
  private readonly axis: Vec3
  /** The pivot in the part's own frame. */
  private readonly pivot: Vec3
  private radii: Map<object, number> | null = null

  constructor(from: Pose, move: Move) {
    this.from = from
    this.move = move
    const angle = angleOf(move)
    this.angle = Math.abs(angle)
    this.axis = scale(unit(move.axis), angle < 0 ? -1 : 1)
    this.pivot = placedBack(from, move.pivot)
  }

  /** Writes matrix (9, row by row) and place (3) of the pose at a share of the move. */
  place(share: number, out: Float64Array): void {
    const r = this.from.turn
    const { shift, pivot } = this.move
    if (this.angle === 0) {
      for (let k = 0; k < 9; k++) out[k] = r[k]
      for (let k = 0; k < 3; k++) out[9 + k] = this.from.at[k] + share * shift[k]
      return
    }
    const [x, y, z] = this.axis
    const s = Math.sin(this.angle * share)
    const c = Math.cos(this.angle * share)
    const h = 1 - c
    this.row(out, 0, c + h * x * x, h * x * y - s * z, h * x * z + s * y, r)
    this.row(out, 3, h * x * y + s * z, c + h * y * y, h * y * z - s * x, r)
    this.row(out, 6, h * x * z - s * y, h * y * z + s * x, c + h * z * z, r)
    const [p, q, w] = this.pivot
    for (let k = 0; k < 3; k++)
      out[9 + k] = pivot[k] + share * shift[k] - (out[3 * k] * p + out[3 * k + 1] * q + out[3 * k + 2] * w)
  }

  private row(out: Float64Array, at: number, a: number, b: number, c: number, r: Mat3): void {
    out[at] = a * r[0] + b * r[3] + c * r[6]
    out[at + 1] = a * r[1] + b * r[4] + c * r[7]
    out[at + 2] = a * r[2] + b * r[5] + c * r[8]
  }

  /** Largest distance of a body's points from the turning axis, mm; kept by body. `points` are in the part's frame. */
  radiusOf(body: object, points: Float64Array): number {
    const known = this.radii?.get(body)
    if (known !== undefined) return known
    const r = this.from.turn
    const [ax, ay, az] = this.axis
    // The axis in the part's frame: turned back.
    const x = r[0] * ax + r[3] * ay + r[6] * az
    const y = r[1] * ax + r[4] * ay + r[7] * az
    const z = r[2] * ax + r[5] * ay + r[8] * az
    let most = 0
    for (let i = 0; i < points.length; i += 3) {
      const u = points[i] - this.pivot[0]
      const v = points[i + 1] - this.pivot[1]
      const w = points[i + 2] - this.pivot[2]
      const [p, q, t] = [y * w - z * v, z * u - x * w, x * v - y * u]
      most = Math.max(most, p * p + q * q + t * t)
    }
    const radius = Math.sqrt(most) * (1 + 1e-12)
    this.radii ??= new Map()
    this.radii.set(body, radius)
    return radius
  }

  /** No point of a body of this radius about the axis goes farther during the whole move, mm. */
  travel(radius: number): number {
    const { shift } = this.move
    return Math.hypot(shift[0], shift[1], shift[2]) + this.angle * radius
  }
}

/** Moves from the poses they begin at; a path without moves stands still at its one pose. */
export function motionsOf(poses: readonly Pose[], moves: readonly Move[]): Motion[] {
  if (moves.length > 0) return moves.map((move, i) => new Motion(poses[i], move))
  const [pose] = poses
  return [new Motion(pose, { shift: [0, 0, 0], pivot: pose.at, axis: [0, 0, 1], angle: 0 })]
}
