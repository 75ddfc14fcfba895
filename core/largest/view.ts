import {
  dot,
  type Mat3,
  type Pose,
  product,
  sub,
  turned,
  turnedBack,
  turnMatrix,
  unit,
  type Vec3,
} from '../shape/vec.ts'

const degree = Math.PI / 180

/**
 * The axes that a core's faces are counted along: those of the bay turned as the candidate is, about a pivot. A view may
 * stand for a range of tilts: the middle one and `half` to each side.
 */
export class View {
  /** Tilt about Y in the middle of the range, degrees. */
  readonly tilt: number
  /** Half the range, radians. */
  readonly half: number
  readonly pivot: Vec3
  readonly turn: Mat3
  /** Derivative of `turn` by the tilt, a radian. */
  readonly rate: Mat3
  /** The candidate's turns about X and Z, degrees; the tilt comes between them. */
  readonly others: readonly [x: number, z: number]
  private readonly axis: Vec3

  constructor(pivot: Vec3, others: readonly [number, number], tilt: number, halfDegrees = 0) {
    this.pivot = pivot
    this.others = others
    this.tilt = tilt
    // What the conversion to radians may have lost is added: ranges side by side must leave nothing out.
    this.half = halfDegrees * degree * (1 + 1e-12)
    this.turn = turnMatrix([others[0], tilt, others[1]])
    this.rate = rateOf(others, tilt * degree)
    this.axis = turned(turnMatrix([0, 0, others[1]]), [0, 1, 0])
  }

  /** The same axes at one tilt of the range; `by` radians from the middle. */
  at(by: number): View {
    return by === 0 && this.half === 0 ? this : new View(this.pivot, this.others, this.tilt + by / degree)
  }

  seen(point: Vec3): Vec3 {
    return turnedBack(this.turn, sub(point, this.pivot))
  }

  /** How a bay point moves in the view as it tilts, mm a radian. */
  motionOf(point: Vec3): Vec3 {
    return turnedBack(this.rate, sub(point, this.pivot))
  }

  /** How far from `seen + by·motionOf` a point is at most, mm: the second derivative is its distance from the axis. */
  strayOf(point: Vec3): number {
    const from = sub(point, this.pivot)
    const along = dot(from, this.axis)
    return Math.sqrt(Math.max(0, dot(from, from) - along * along)) * ((this.half * this.half) / 2) * (1 + 1e-9)
  }

  /** Pose of a core whose middle is here in the view. */
  poseAt(middle: Vec3): Pose {
    const at = turned(this.turn, middle)
    return { turn: this.turn, at: [at[0] + this.pivot[0], at[1] + this.pivot[1], at[2] + this.pivot[2]] }
  }

  directionSeen(direction: Vec3): Vec3 {
    return turnedBack(this.turn, unit(direction))
  }
}

function rateOf([x, z]: readonly [number, number], tilt: number): Mat3 {
  const [s, c] = [Math.sin(tilt), Math.cos(tilt)]
  return product(turnMatrix([0, 0, z]), product([-s, 0, c, 0, 0, 0, -c, 0, -s], turnMatrix([x, 0, 0])))
}
