import type { Seeker } from './seeker.ts'

// Private to one call: the planes that the box or triangle lies before, and how far.
let before = new Int32Array(64)
let depths = new Float64Array(64)

/**
 * Lower bounds on the distance of a seeker to a box or a triangle, mm, but for rounding, which the caller takes off.
 * Three kinds, the greatest counts: the gaps of the two boxes along the axes together; the height over one plane that the
 * seeker lies behind; the heights over two such planes together (beside an edge that is more than either).
 * @param enough a bound beyond this is as good as the best: the first one found is returned
 */
export function boxBound(seeker: Seeker, boxes: Float64Array, at: number, enough: number): number {
  const { box, planes, planeEnd } = seeker
  const x0 = boxes[at]
  const y0 = boxes[at + 1]
  const z0 = boxes[at + 2]
  const x1 = boxes[at + 3]
  const y1 = boxes[at + 4]
  const z1 = boxes[at + 5]
  const x = Math.max(x0 - box[3], box[0] - x1, 0)
  const y = Math.max(y0 - box[4], box[1] - y1, 0)
  const z = Math.max(z0 - box[5], box[2] - z1, 0)
  let bound = Math.sqrt(x * x + y * y + z * z)
  let top = 0
  let count = 0
  for (let i = seeker.planeStart; i < planeEnd; i += 4) {
    const nx = planes[i]
    const ny = planes[i + 1]
    const nz = planes[i + 2]
    const d = nx * (nx > 0 ? x0 : x1) + ny * (ny > 0 ? y0 : y1) + nz * (nz > 0 ? z0 : z1) - planes[i + 3]
    if (d <= 0) continue
    if (d >= enough) return d
    if (count === before.length) makeRoom()
    before[count] = i
    depths[count] = d
    if (d > depths[top]) top = count
    count++
  }
  if (count > 0 && depths[top] > bound) bound = depths[top]
  return count > 1 && bound < enough ? Math.max(bound, overTwo(planes, top, count)) : bound
}

/** As `boxBound`, to the triangle whose nine coordinates are given. */
export function triangleBound(seeker: Seeker, t: Float64Array, enough: number): number {
  const { box, planes, planeEnd } = seeker
  const ax = t[0]
  const ay = t[1]
  const az = t[2]
  const bx = t[3]
  const by = t[4]
  const bz = t[5]
  const cx = t[6]
  const cy = t[7]
  const cz = t[8]
  const x = Math.max(Math.min(ax, bx, cx) - box[3], box[0] - Math.max(ax, bx, cx), 0)
  const y = Math.max(Math.min(ay, by, cy) - box[4], box[1] - Math.max(ay, by, cy), 0)
  const z = Math.max(Math.min(az, bz, cz) - box[5], box[2] - Math.max(az, bz, cz), 0)
  let bound = Math.sqrt(x * x + y * y + z * z)
  let top = 0
  let count = 0
  for (let i = seeker.planeStart; i < planeEnd; i += 4) {
    const nx = planes[i]
    const ny = planes[i + 1]
    const nz = planes[i + 2]
    const least = Math.min(nx * ax + ny * ay + nz * az, nx * bx + ny * by + nz * bz, nx * cx + ny * cy + nz * cz)
    const d = least - planes[i + 3]
    if (d <= 0) continue
    if (d >= enough) return d
    if (count === before.length) makeRoom()
    before[count] = i
    depths[count] = d
    if (d > depths[top]) top = count
    count++
  }
  if (count > 0 && depths[top] > bound) bound = depths[top]
  return count > 1 && bound < enough ? Math.max(bound, overTwo(planes, top, count)) : bound
}

/**
 * Shortest way v with m·v ≥ p and n·v ≥ q, where p ≥ q are the heights over the planes of normals m and n: p alone where
 * the plane further off is cleared with it (q ≤ p m·n), else √((p² + q² − 2 p q m·n) / (1 − (m·n)²)). The plane of the
 * greatest height with each other one. Nearly parallel planes are left out: they bring nothing but rounding.
 */
function overTwo(planes: Float64Array, top: number, count: number): number {
  const at = before[top]
  const mx = planes[at]
  const my = planes[at + 1]
  const mz = planes[at + 2]
  const p = depths[top]
  let squared = 0
  for (let k = 0; k < count; k++) {
    const i = before[k]
    const q = depths[k]
    const cosine = mx * planes[i] + my * planes[i + 1] + mz * planes[i + 2]
    const sine2 = 1 - cosine * cosine
    if (q <= p * cosine || sine2 < 0.01) continue
    const s = (p * p + q * q - 2 * p * q * cosine) / sine2
    if (s > squared) squared = s
  }
  // Divided by 0.01 at worst, some roundings of p² stay far below this.
  return Math.sqrt(squared) * (1 - 1e-12)
}

function makeRoom(): void {
  const [more, deeper] = [new Int32Array(2 * before.length), new Float64Array(2 * before.length)]
  more.set(before)
  deeper.set(depths)
  before = more
  depths = deeper
}
