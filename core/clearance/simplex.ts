/**
 * Up to four points of the difference of two convex sets (a − b), each with the pair (a, b) it came from, and the
 * point of their hull nearest to the origin. Plain arrays, filled in place: this is the innermost loop of all.
 */
export interface Simplex {
  /** Points in use, 0 … 4. */
  n: number
  /** a − b, a and b: four slots of x, y, z. */
  readonly w: Float64Array
  readonly a: Float64Array
  readonly b: Float64Array
  /** Weight of each slot in the nearest point; sums to 1. */
  readonly weight: Float64Array
  /** Nearest point of the hull to the origin, with a direction as exact as the points allow. */
  readonly v: Float64Array
}

export function emptySimplex(): Simplex {
  return {
    n: 0,
    w: new Float64Array(12),
    a: new Float64Array(12),
    b: new Float64Array(12),
    weight: new Float64Array(4),
    v: new Float64Array(3),
  }
}

/** A candidate: nearest point, then the weights of the corners it was asked for (only the first ones are set). */
const found = new Float64Array(6)
const best = new Float64Array(6)

/**
 * Finds the nearest point of the simplex to the origin and drops the corners it does not need. The last point must be
 * the newest: the nearest point cannot lie on a feature without it (else it would have been found before).
 * @returns false where four points enclose the origin; `weight` then holds the origin's own weights, `v` is 0
 * Degenerate corners (equal, in a line, in a plane) give a point of the hull, perhaps not the nearest: the caller sees
 * that it did not come closer.
 */
export function toNearest(s: Simplex): boolean {
  if (s.n === 1) {
    s.weight[0] = 1
    s.v[0] = s.w[0]
    s.v[1] = s.w[1]
    s.v[2] = s.w[2]
    return true
  }
  if (s.n === 2) {
    onSegment(s.w, 0, 3)
    return settle(s, found[3], found[4], 0, 0)
  }
  if (s.n === 3) {
    onTriangle(s.w, 0, 3, 6)
    return settle(s, found[3], found[4], found[5], 0)
  }
  return onTetrahedron(s)
}

/** Takes the candidate in `found` with these weights, and closes the gaps that corners of weight 0 leave. */
function settle(s: Simplex, w0: number, w1: number, w2: number, w3: number): true {
  const { w, a, b, weight, v } = s
  v[0] = found[0]
  v[1] = found[1]
  v[2] = found[2]
  weight[0] = w0
  weight[1] = w1
  weight[2] = w2
  weight[3] = w3
  let m = 0
  for (let i = 0; i < s.n; i++) {
    if (weight[i] === 0) continue
    if (i !== m) {
      weight[m] = weight[i]
      const from = 3 * i
      const to = 3 * m
      for (let k = 0; k < 3; k++) {
        w[to + k] = w[from + k]
        a[to + k] = a[from + k]
        b[to + k] = b[from + k]
      }
    }
    m++
  }
  s.n = m
  return true
}

/**
 * Nearest point of segment i–j to the origin. Taken from the nearer end and made square to the segment once more: where
 * the segment almost meets the origin, a plain p + t·e would keep only the rounding of its direction.
 */
function onSegment(w: Float64Array, i: number, j: number): void {
  const ax = w[i]
  const ay = w[i + 1]
  const az = w[i + 2]
  const ex = w[j] - ax
  const ey = w[j + 1] - ay
  const ez = w[j + 2] - az
  const ee = ex * ex + ey * ey + ez * ez
  const t = ee > 0 ? -(ax * ex + ay * ey + az * ez) / ee : 0
  if (!(t > 0)) {
    write(ax, ay, az, 1, 0, 0)
    return
  }
  if (t >= 1) {
    write(w[j], w[j + 1], w[j + 2], 0, 1, 0)
    return
  }
  let x = ax + t * ex
  let y = ay + t * ey
  let z = az + t * ez
  const more = -(x * ex + y * ey + z * ez) / ee
  x += more * ex
  y += more * ey
  z += more * ez
  write(x, y, z, 1 - t, t, 0)
}

function write(x: number, y: number, z: number, w0: number, w1: number, w2: number): void {
  found[0] = x
  found[1] = y
  found[2] = z
  found[3] = w0
  found[4] = w1
  found[5] = w2
}

/** Nearest point of triangle i–j–k to the origin, k the newest corner: inside, or on one of the two edges at k. */
function onTriangle(w: Float64Array, i: number, j: number, k: number): void {
  const cx = w[k]
  const cy = w[k + 1]
  const cz = w[k + 2]
  const ux = w[i] - cx
  const uy = w[i + 1] - cy
  const uz = w[i + 2] - cz
  const vx = w[j] - cx
  const vy = w[j + 1] - cy
  const vz = w[j + 2] - cz
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const nn = nx * nx + ny * ny + nz * nz
  if (nn > 0) {
    // Weights of corners i and j as areas against the whole, seen along the normal.
    const p = (nx * (vy * cz - vz * cy) + ny * (vz * cx - vx * cz) + nz * (vx * cy - vy * cx)) / nn
    const q = (nx * (cy * uz - cz * uy) + ny * (cz * ux - cx * uz) + nz * (cx * uy - cy * ux)) / nn
    const r = 1 - p - q
    if (p > 0 && q > 0 && r > 0) {
      // Along the normal, not as a sum of corners: keeps the direction where the plane almost holds the origin.
      const h = (nx * cx + ny * cy + nz * cz) / nn
      write(nx * h, ny * h, nz * h, p, q, r)
      return
    }
  }
  onSegment(w, j, k)
  const x = found[0]
  const y = found[1]
  const z = found[2]
  const atJ = found[3]
  const atK = found[4]
  onSegment(w, i, k)
  if (found[0] * found[0] + found[1] * found[1] + found[2] * found[2] > x * x + y * y + z * z) {
    write(x, y, z, 0, atJ, atK)
  } else {
    found[5] = found[4]
    found[4] = 0
  }
}

/** What `shareOf` last divided: its share changes by n·x / whole where the origin moves by x. */
const gradient = { nx: 0, ny: 0, nz: 0, whole: 0 }

/** The three faces at the newest corner (slot 9), and the corner each leaves out. */
const faces = [0, 3, 6, 3, 6, 0, 6, 0, 3]

function onTetrahedron(s: Simplex): boolean {
  const { w } = s
  let nearest = Infinity
  let face = -1
  let outside = false
  let sum = 0
  for (let f = 0; f < 9; f += 3) {
    const i = faces[f]
    const j = faces[f + 1]
    const o = faces[f + 2]
    const share = shareOf(w, i, j, o)
    if (share >= 0) {
      s.weight[o / 3] = share
      sum += share
      continue
    }
    outside = true
    onTriangle(w, i, j, 9)
    const d = found[0] * found[0] + found[1] * found[1] + found[2] * found[2]
    if (d < nearest) {
      nearest = d
      face = f
      best.set(found)
    }
  }
  if (!outside) {
    // Beyond the old face by rounding only: the newest corner gets no weight, and the weights sum to 1 again.
    s.weight[3] = Math.max(1 - sum, 0)
    if (sum > 1) for (let i = 0; i < 3; i++) s.weight[i] /= sum
    s.v.fill(0)
    return false
  }
  found.set(best)
  const p = best[3]
  const q = best[4]
  const r = best[5]
  if (face === 0) return settle(s, p, q, 0, r)
  if (face === 3) return settle(s, 0, p, q, r)
  return settle(s, q, 0, p, r)
}

/**
 * Sharpens the weights of an origin that four points enclose. Of a nearly flat tetrahedron the weights come out with few
 * digits, but their residual can be computed well: two steps of iterative refinement bring the witnesses together.
 */
export function refineInside(s: Simplex): void {
  const { w, weight } = s
  for (let step = 0; step < 2; step++) {
    let x = 0
    let y = 0
    let z = 0
    for (let i = 0; i < 4; i++) {
      x += weight[i] * w[3 * i]
      y += weight[i] * w[3 * i + 1]
      z += weight[i] * w[3 * i + 2]
    }
    let sum = 0
    for (let f = 0; f < 9; f += 3) {
      const o = faces[f + 2]
      shareOf(w, faces[f], faces[f + 1], o)
      const { nx, ny, nz, whole } = gradient
      const refined = weight[o / 3] - (nx * x + ny * y + nz * z) / whole
      weight[o / 3] = Math.max(refined, 0)
      sum += weight[o / 3]
    }
    weight[3] = Math.max(1 - sum, 0)
    if (sum > 1) for (let i = 0; i < 3; i++) weight[i] /= sum
  }
}

/** The origin's weight of corner o in the tetrahedron with face i–j–newest; negative outside that face, and where it is flat. */
function shareOf(w: Float64Array, i: number, j: number, o: number): number {
  const dx = w[9]
  const dy = w[10]
  const dz = w[11]
  const ux = w[i] - dx
  const uy = w[i + 1] - dy
  const uz = w[i + 2] - dz
  const vx = w[j] - dx
  const vy = w[j + 1] - dy
  const vz = w[j + 2] - dz
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const whole = nx * (w[o] - dx) + ny * (w[o + 1] - dy) + nz * (w[o + 2] - dz)
  const part = -(nx * dx + ny * dy + nz * dz)
  gradient.nx = nx
  gradient.ny = ny
  gradient.nz = nz
  gradient.whole = whole
  return whole === 0 ? -1 : part / whole
}
