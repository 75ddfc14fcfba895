import type { Solid } from '../shape/form.ts'
import { add, length, type Mat3, type Pose, sub, turned, turnedBack, type Vec3 } from '../shape/vec.ts'
import type { LocalBody } from './placeBody.ts'
import type { AffineRow } from './placeRows.ts'

/** A part against a keep-out and the distance that is wanted between them, mm. */
export interface PlacePair {
  readonly body: LocalBody
  readonly keepOut: { readonly id: string; readonly solid: Solid }
  readonly wanted: number
}

/** What may change: shifts from the start along X, Y, Z in mm and the tilt in radians, each between two values. */
export interface PlaceRange {
  readonly low: readonly [number, number, number, number]
  readonly high: readonly [number, number, number, number]
  readonly poseAt: (shift: Vec3, tilt: number) => Pose
  /** Derivative of the pose's turn by the tilt, a radian. */
  readonly turnRate: (tilt: number) => Mat3
}

export type SignedDistance = (x: number, y: number, z: number) => number

/**
 * A point of one side of a pair and the signed distance to a convex piece of the other: the pair's margin is never more
 * than that less `wanted`. Either a point of the keep-out against the part ('fixed', bay frame), or a point of the part
 * against a convex keep-out ('moving', candidate's frame): the second sees a wall as a wall, however the part slides along.
 */
export interface Witness {
  readonly pair: PlacePair
  readonly side: 'fixed' | 'moving'
  readonly point: Vec3
  readonly distance: SignedDistance
}

/** What a cell's bound is owed to, mm. */
export interface Looseness {
  readonly tilt: number
  readonly shift: number
}

/** States between two corners: shifts along X, Y, Z in mm, and the tilt in radians. */
export interface StateBox {
  readonly low: Float64Array
  readonly high: Float64Array
}

export const middle = ({ low, high }: StateBox): Float64Array => low.map((x, k) => (x + high[k]) / 2)
/** Affine functions above the witnesses' distances over boxes of states. */
export class Majorants {
  private readonly range: PlaceRange
  /** Numbers of the state that may change. */
  readonly free: readonly number[]

  constructor(range: PlaceRange) {
    this.range = range
    this.free = [0, 1, 2, 3].filter((k) => range.high[k] > range.low[k])
  }

  /** Affine function of the state that is nowhere in the cell less than the witness's signed distance less what is wanted. */
  majorant(witness: Witness, cell: StateBox): AffineRow {
    const centre = middle(cell)
    const half = cell.high.map((h, k) => (h - cell.low[k]) / 2)
    const { start, step, remainder } = this.motionOf(witness, centre, half)
    const values: number[] = []
    for (let corner = 0; corner < 1 << this.free.length; corner++) {
      const p: [number, number, number] = [...start]
      this.free.forEach((k, i) => {
        const by = corner & (1 << i) ? half[k] : -half[k]
        for (let axis = 0; axis < 3; axis++) p[axis] += by * step[k][axis]
      })
      values.push(witness.distance(p[0], p[1], p[2]))
    }
    return this.affineAbove(values, centre, half, remainder - witness.pair.wanted)
  }

  /** The witness's point, seen from what it is measured to, as the state changes: linear, and how far off that may be. */
  private motionOf(
    { side, point }: Witness,
    centre: Float64Array,
    half: Float64Array,
  ): { start: Vec3; step: Vec3[]; remainder: number } {
    const { turn, at } = this.range.poseAt([centre[0], centre[1], centre[2]], centre[3])
    const rate = this.range.turnRate(centre[3])
    if (side === 'moving') {
      const step: Vec3[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1], turned(rate, point)]
      return { start: add(at, turned(turn, point)), step, remainder: (length(point) * half[3] * half[3]) / 2 }
    }
    const away = sub(point, at)
    const axes: Vec3[] = [
      [-1, 0, 0],
      [0, -1, 0],
      [0, 0, -1],
    ]
    const step = [...axes.map((axis) => turnedBack(turn, axis)), turnedBack(rate, away)]
    const crossed = half[3] * Math.hypot(half[0], half[1], half[2])
    return { start: turnedBack(turn, away), step, remainder: (length(away) * half[3] * half[3]) / 2 + crossed }
  }

  private affineAbove(values: readonly number[], centre: Float64Array, half: Float64Array, added: number): AffineRow {
    const slope = new Float64Array(4)
    this.free.forEach((k, i) => {
      let sum = 0
      values.forEach((value, corner) => {
        sum += corner & (1 << i) ? value : -value
      })
      if (half[k] > 0) slope[k] = sum / (values.length * half[k])
    })
    let lift = -Infinity
    values.forEach((value, corner) => {
      let flat = 0
      this.free.forEach((k, i) => {
        flat += slope[k] * (corner & (1 << i) ? half[k] : -half[k])
      })
      lift = Math.max(lift, value - flat)
    })
    let offset = lift + added + 1e-10
    for (let k = 0; k < 4; k++) offset -= slope[k] * centre[k]
    return { slope, offset }
  }

  /** How much of the bound is owed to the linearised turn, and how much to the affine functions standing above their rows. */
  looseness(witnesses: readonly Witness[], weights: Float64Array, cell: StateBox, at: Float64Array): Looseness {
    const centre = middle(cell)
    const half = cell.high.map((h, k) => (h - cell.low[k]) / 2)
    const owed = { tilt: 0, shift: 0 }
    witnesses.forEach((witness, i) => {
      if (weights[i] < 1e-6) return
      const { start, step, remainder } = this.motionOf(witness, centre, half)
      const p: [number, number, number] = [...start]
      for (const k of this.free) for (let axis = 0; axis < 3; axis++) p[axis] += (at[k] - centre[k]) * step[k][axis]
      const { slope, offset } = this.majorant(witness, cell)
      const above =
        slope.reduce((sum, a, k) => sum + a * at[k], offset) - witness.distance(p[0], p[1], p[2]) + witness.pair.wanted
      owed.tilt += weights[i] * remainder
      owed.shift += weights[i] * (above - remainder)
    })
    return owed
  }
}
