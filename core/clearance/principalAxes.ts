/**
 * Three axes square to each other along which a symmetric matrix is diagonal, to rounding.
 * @param m   xx, xy, xz, yy, yz, zz; used up
 * @param out receives nine numbers from `at` on, an axis after each other; unit and orthogonal to a few ε whatever m holds
 * Source: Jacobi's method of rotations, textbook; from memory.
 */
export function principalAxes(m: Float64Array, out: Float64Array, at: number): void {
  for (let k = 0; k < 9; k++) out[at + k] = k % 4 === 0 ? 1 : 0
  for (let round = 0; round < 8; round++) {
    const off = Math.abs(m[1]) + Math.abs(m[2]) + Math.abs(m[4])
    if (!(off > 1e-12 * (Math.abs(m[0]) + Math.abs(m[3]) + Math.abs(m[5])))) return
    turn(m, 0, 3, 1, 2, 4, out, at, at + 3)
    turn(m, 0, 5, 2, 1, 4, out, at, at + 6)
    turn(m, 3, 5, 4, 1, 2, out, at + 3, at + 6)
  }
}

/** Turns axes p and q so that their mixed entry vanishes; r is the third axis, `pr` and `qr` its mixed entries. */
function turn(
  m: Float64Array,
  pp: number,
  qq: number,
  pq: number,
  pr: number,
  qr: number,
  axes: Float64Array,
  p: number,
  q: number,
): void {
  if (m[pq] === 0) return
  const half = (m[qq] - m[pp]) / (2 * m[pq])
  const t = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.sqrt(half * half + 1))
  const c = 1 / Math.sqrt(t * t + 1)
  const s = t * c
  m[pp] -= t * m[pq]
  m[qq] += t * m[pq]
  m[pq] = 0
  const [a, b] = [m[pr], m[qr]]
  m[pr] = c * a - s * b
  m[qr] = s * a + c * b
  for (let k = 0; k < 3; k++) {
    const [x, y] = [axes[p + k], axes[q + k]]
    axes[p + k] = c * x - s * y
    axes[q + k] = s * x + c * y
  }
}
