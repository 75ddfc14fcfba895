/** Three numbers: a point or direction. mm for points. Plain data; hot loops unpack it into locals. */
export type Vec3 = readonly [number, number, number]
/** Row-major 3×3 matrix. */
export type Mat3 = readonly [number, number, number, number, number, number, number, number, number]

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
export const scale = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s]
/** a + s·b */
export const along = (a: Vec3, b: Vec3, s: number): Vec3 => [a[0] + s * b[0], a[1] + s * b[1], a[2] + s * b[2]]
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
export const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2])
export const distance = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
/** Unit vector; the zero vector stays zero (callers refuse zero vectors on input). */
export function unit(a: Vec3): Vec3 {
  const l = length(a)
  return l > 0 ? [a[0] / l, a[1] / l, a[2] / l] : [0, 0, 0]
}
export const mix = (a: Vec3, b: Vec3, t: number): Vec3 => [
  a[0] + t * (b[0] - a[0]),
  a[1] + t * (b[1] - a[1]),
  a[2] + t * (b[2] - a[2]),
]

/** Two unit vectors that make a right-handed frame u, v, n with a unit vector; along the axes where n is on one. */
export function squareTo(n: Vec3): [Vec3, Vec3] {
  const sizes = n.map(Math.abs)
  const least = sizes.indexOf(Math.min(...sizes))
  const axis: Vec3 = [least === 0 ? 1 : 0, least === 1 ? 1 : 0, least === 2 ? 1 : 0]
  const v = unit(cross(n, axis))
  return [unit(cross(v, n)), v]
}

export const identity: Mat3 = [1, 0, 0, 0, 1, 0, 0, 0, 1]
/** Mirror in Y: the car's left and right. */
export const mirrorY: Mat3 = [1, 0, 0, 0, -1, 0, 0, 0, 1]
export const turned = (m: Mat3, v: Vec3): Vec3 => [
  m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
  m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
  m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
]
/** Transposed matrix times vector: the inverse turn of an orthogonal matrix. */
export const turnedBack = (m: Mat3, v: Vec3): Vec3 => [
  m[0] * v[0] + m[3] * v[1] + m[6] * v[2],
  m[1] * v[0] + m[4] * v[1] + m[7] * v[2],
  m[2] * v[0] + m[5] * v[1] + m[8] * v[2],
]
export function product(a: Mat3, b: Mat3): Mat3 {
  const r = new Array<number>(9)
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) r[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j]
  return r as unknown as Mat3
}
/** Sine and cosine in degrees, exact at multiples of 90°. */
export function sinCos(degrees: number): [number, number] {
  const d = degrees % 360
  if (d % 90 === 0) {
    const q = (((d / 90) % 4) + 4) % 4
    return [
      [0, 1],
      [1, 0],
      [0, -1],
      [-1, 0],
    ][q] as [number, number]
  }
  const r = (d * Math.PI) / 180
  return [Math.sin(r), Math.cos(r)]
}
/** R = Rz·Ry·Rx from degrees about the fixed X, then Y, then Z axis. */
export function turnMatrix(turn: Vec3): Mat3 {
  const [sx, cx] = sinCos(turn[0])
  const [sy, cy] = sinCos(turn[1])
  const [sz, cz] = sinCos(turn[2])
  const m = [
    cz * cy,
    cz * sy * sx - sz * cx,
    cz * sy * cx + sz * sx,
    sz * cy,
    sz * sy * sx + cz * cx,
    sz * sy * cx - cz * sx,
    -sy,
    cy * sx,
    cy * cx,
  ]
  return m.map((x) => x + 0) as unknown as Mat3 // no −0, which is equal but prints and compares otherwise
}

/**
 * The turn of a proper rotation as the bay file says it: what `turnMatrix` makes it of.
 * @returns degrees about fixed X, then Y, then Z, each −180 … 180; where Y is ±90° X is taken as 0.
 * Error: a few units in the last place; `turnMatrix` gives the matrix back to that.
 */
export function turnAngles(m: Mat3): Vec3 {
  const flat = Math.hypot(m[7], m[8])
  const y = Math.atan2(-m[6], flat)
  const [x, z] = flat > 1e-9 ? [Math.atan2(m[7], m[8]), Math.atan2(m[3], m[0])] : [0, Math.atan2(-m[1], m[4])]
  return [inDegrees(x), inDegrees(y), inDegrees(z)]
}
const inDegrees = (radians: number): number => (radians * 180) / Math.PI + 0

/** A rigid placing: x ↦ turn·x + at. `turn` is orthogonal; determinant −1 where it also mirrors. */
export interface Pose {
  readonly turn: Mat3
  readonly at: Vec3
}
export const placed = (pose: Pose, v: Vec3): Vec3 => add(turned(pose.turn, v), pose.at)
export const placedBack = (pose: Pose, v: Vec3): Vec3 => turnedBack(pose.turn, sub(v, pose.at))
