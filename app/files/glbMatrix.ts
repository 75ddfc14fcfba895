import type { GlbNode } from './glbJson.ts'

/** Column-major 4×4, as glTF stores it. */
export type Matrix4 = readonly number[]

export const identity4: Matrix4 = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]

export function product4(a: Matrix4, b: Matrix4): Matrix4 {
  const r = new Array<number>(16).fill(0)
  for (let column = 0; column < 4; column++)
    for (let row = 0; row < 4; row++)
      for (let k = 0; k < 4; k++) r[4 * column + row] += a[4 * k + row] * b[4 * column + k]
  return r
}

export const times = (m: Matrix4, x: number, y: number, z: number): [number, number, number] => [
  m[0] * x + m[4] * y + m[8] * z + m[12],
  m[1] * x + m[5] * y + m[9] * z + m[13],
  m[2] * x + m[6] * y + m[10] * z + m[14],
]

export const determinant3 = (m: Matrix4): number =>
  m[0] * (m[5] * m[10] - m[6] * m[9]) - m[4] * (m[1] * m[10] - m[2] * m[9]) + m[8] * (m[1] * m[6] - m[2] * m[5])

/**
 * A node's own transform: its matrix, or scale, then rotation (unit quaternion x, y, z, w), then translation.
 * The quaternion is brought to unit length, since files hold it in few digits.
 */
export function nodeMatrix(node: GlbNode): Matrix4 {
  if (node.matrix) return node.matrix
  const [sx, sy, sz] = node.scale ?? [1, 1, 1]
  const [tx, ty, tz] = node.translation ?? [0, 0, 0]
  const q = node.rotation ?? [0, 0, 0, 1]
  const l = Math.hypot(...q)
  const [x, y, z, w] = l > 0 ? q.map((c) => c / l) : [0, 0, 0, 1]
  return [
    ...[(1 - 2 * (y * y + z * z)) * sx, 2 * (x * y + z * w) * sx, 2 * (x * z - y * w) * sx, 0],
    ...[2 * (x * y - z * w) * sy, (1 - 2 * (x * x + z * z)) * sy, 2 * (y * z + x * w) * sy, 0],
    ...[2 * (x * z + y * w) * sz, 2 * (y * z - x * w) * sz, (1 - 2 * (x * x + y * y)) * sz, 0],
    ...[tx, ty, tz, 1],
  ]
}
