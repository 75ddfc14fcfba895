import { allowedWidth, endWidth, finish, type Nearest, roundingSlack } from './nearest.ts'
import { emptySimplex, refineInside, type Simplex, toNearest } from './simplex.ts'
import { type ConvexSet, supportOf } from './support.ts'

const most = 48
const pool = { n: 0, w: new Float64Array(3 * most), a: new Float64Array(3 * most), b: new Float64Array(3 * most) }
const tried: Simplex = emptySimplex()
const turnedTo: Simplex = emptySimplex()
const kept: Simplex = emptySimplex()

/**
 * The surer, slower way for the few pairs on which `convexDistance` stops making way (slivers, parallel faces, a gap near
 * rounding): keeps every support point found, and for each new one tries all triangles that it makes with two others.
 * No round can drop a point that is needed later, so nothing cycles: each round ends or brings a new support point.
 * @param start  simplex that the first search stopped at
 * @param out    bounds so far; narrowed in place
 */
export function finishByFaces(a: ConvexSet, b: ConvexSet, upTo: number, start: Simplex, out: Nearest): void {
  const slack = roundingSlack(a, b)
  const width = endWidth(a, b)
  const { w } = pool
  pool.n = 0
  let lower = out.atLeast
  let upper = Infinity
  for (let i = 0; i < start.n; i++) {
    addToPool(start, i)
    nearestWithLast()
    if (measured(turnedTo) < upper) upper = keep()
  }
  copySimplex(kept, turnedTo)
  while (pool.n < most) {
    const [dx, dy, dz] = turnedTo.v
    const at = 3 * pool.n
    supportOf(a, -dx, -dy, -dz, pool.a, at)
    supportOf(b, dx, dy, dz, pool.b, at)
    for (let k = at; k < at + 3; k++) w[k] = pool.a[k] - pool.b[k]
    const bound = (dx * w[at] + dy * w[at + 1] + dz * w[at + 2]) / Math.sqrt(dx * dx + dy * dy + dz * dz) - slack
    if (bound > lower) lower = bound
    if (lower >= upTo) {
      finish(kept, lower, 'upTo', 'none', out)
      return
    }
    if (lower > 0 && upper - lower <= width) {
      finish(kept, lower, 'converged', 'none', out)
      return
    }
    if (isInPool(at)) break
    pool.n++
    nearestWithLast()
    const next = measured(turnedTo)
    if (next < upper) upper = keep()
    if (upper <= slack) {
      finish(kept, 0, 'converged', 'touch', out)
      return
    }
    // Not nearer even within rounding: the origin lies between the points found, or nothing more can be told.
    if (next > upper + slack) {
      if (originIsInside()) {
        refineInside(tried)
        finish(tried, 0, 'converged', 'touch', out)
        if (out.atMost <= slack) return
      }
      break
    }
  }
  finish(kept, lower, upper - lower <= allowedWidth(a, b) ? 'converged' : 'limit', 'none', out)
}

/** Takes the simplex last turned to as the nearest so far. */
function keep(): number {
  copySimplex(turnedTo, kept)
  return measured(kept)
}

function copySimplex(from: Simplex, to: Simplex): void {
  to.n = from.n
  to.w.set(from.w)
  to.a.set(from.a)
  to.b.set(from.b)
  to.weight.set(from.weight)
  to.v.set(from.v)
}

function addToPool(s: Simplex, i: number): void {
  const at = 3 * pool.n
  for (let k = 0; k < 3; k++) {
    pool.w[at + k] = s.w[3 * i + k]
    pool.a[at + k] = s.a[3 * i + k]
    pool.b[at + k] = s.b[3 * i + k]
  }
  pool.n++
}

function isInPool(at: number): boolean {
  const { w } = pool
  for (let i = 0; i < at; i += 3) if (w[i] === w[at] && w[i + 1] === w[at + 1] && w[i + 2] === w[at + 2]) return true
  return false
}

function take(slot: number, i: number): void {
  for (let k = 0; k < 3; k++) {
    tried.w[3 * slot + k] = pool.w[3 * i + k]
    tried.a[3 * slot + k] = pool.a[3 * i + k]
    tried.b[3 * slot + k] = pool.b[3 * i + k]
  }
}

/** Length of the weighted sum itself: what the witnesses will really be apart, not what the plane promises. */
function measured(s: Simplex): number {
  let x = 0
  let y = 0
  let z = 0
  for (let i = 0; i < s.n; i++) {
    x += s.weight[i] * s.w[3 * i]
    y += s.weight[i] * s.w[3 * i + 1]
    z += s.weight[i] * s.w[3 * i + 2]
  }
  return Math.sqrt(x * x + y * y + z * z)
}

/** Turns to the nearest simplex that holds the newest point: alone, with one other, with two. */
function nearestWithLast(): void {
  const last = pool.n - 1
  let best = Infinity
  for (let i = 0; i <= last; i++) {
    for (let j = i + 1; j <= last || j === i + 1; j++) {
      tried.n = 0
      if (i < last) take(tried.n++, i)
      if (j < last) take(tried.n++, j)
      take(tried.n++, last)
      toNearest(tried)
      const d = measured(tried)
      if (d < best) {
        best = d
        copySimplex(tried, turnedTo)
      }
    }
  }
}

/** Looks for a tetrahedron with the newest point that encloses the origin; leaves it in `tried`. */
function originIsInside(): boolean {
  const last = pool.n - 1
  for (let i = 0; i < last; i++)
    for (let j = i + 1; j < last; j++)
      for (let k = j + 1; k < last; k++) {
        tried.n = 4
        take(0, i)
        take(1, j)
        take(2, k)
        take(3, last)
        if (!toNearest(tried)) return true
      }
  return false
}
