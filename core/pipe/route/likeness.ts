import { centrelineLength, pointAlong, pieceLength } from '../../shape/centreline.ts'
import type { Piece } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'

const step = 5

/** Points of a centreline every 5 mm, its ends among them, bay frame. */
export function pointsAlong(pieces: readonly Piece[]): Vec3[] {
  const whole = centrelineLength(pieces)
  const count = Math.max(1, Math.ceil(whole / step))
  const points: Vec3[] = []
  let [piece, passed] = [0, 0]
  for (let i = 0; i <= count; i++) {
    const at = (whole * i) / count
    while (piece + 1 < pieces.length && passed + pieceLength(pieces[piece]) < at) passed += pieceLength(pieces[piece++])
    const long = pieceLength(pieces[piece])
    points.push(pointAlong(pieces[piece], long > 0 ? Math.min(1, (at - passed) / long) : 0).point)
  }
  return points
}

/**
 * Whether two centrelines are the same way: their discrete Fréchet distance lies below `within` mm. Two people walking
 * along them, never back, can then stay nearer to each other than that.
 * Source: T. Eiter, H. Mannila, Computing discrete Fréchet distance (1994), from memory; here only the question whether
 * it is below a value, which needs no distances to be kept.
 */
export function alike(a: readonly Vec3[], b: readonly Vec3[], within: number): boolean {
  const square = within * within
  const near = (i: number, j: number) => {
    const [x, y, z] = [a[i][0] - b[j][0], a[i][1] - b[j][1], a[i][2] - b[j][2]]
    return x * x + y * y + z * z < square
  }
  let row = new Uint8Array(b.length)
  for (let i = 0; i < a.length; i++) {
    const next = new Uint8Array(b.length)
    let any = false
    for (let j = 0; j < b.length; j++) {
      const led = i === 0 && j === 0 ? 1 : (j > 0 && next[j - 1] | row[j - 1]) || row[j]
      if (!(led && near(i, j))) continue
      next[j] = 1
      any = true
    }
    if (!any) return false
    row = next
  }
  return row[b.length - 1] === 1
}
