import { endWidth, finish, type Nearest, roundingSlack } from './nearest.ts'
import { emptySimplex, type Simplex, toNearest } from './simplex.ts'
import { type ConvexSet, supportOf } from './support.ts'

const most = 48
const pool = { n: 0, w: new Float64Array(3 * most), a: new Float64Array(3 * most), b: new Float64Array(3 * most) }
const tried: Simplex = emptySimplex()
const kept: Simplex = emptySimplex()

/**
 * The surer, slower way for the few pairs on which `convexDistance` stops making way (slivers, parallel faces, a gap near
 * rounding): keeps every support point found, and for each new one tries all triangles that it makes with two others.
 * No round can drop a point that is needed later, so nothing cycles; on polytopes each round ends or brings a new vertex.
 * @param start  simplex that the first search stopped at
 * @param out    bounds so far; narrowed in place
 */
export function finishByFaces(a: ConvexSet, b: ConvexSet, upTo: number, start: Simplex, out: Nearest): void {
  const slack = roundingSlack(a, b)
  const width = endWidth(a, b)
  pool.n = 0
  copySimplex(start, kept)
  for (let i = 0; i < start.n; i++) addToPool(start, i)
  let lower = out.atLeast
  let upper = out.atMost
  let dx = out.ax - out.bx
  let dy = out.ay - out.by
  let dz = out.az - out.bz
  while (pool.n < most) {
    const at = 3 * pool.n
    supportOf(a, -dx, -dy, -dz, pool.a, at)
    supportOf(b, dx, dy, dz, pool.b, at)
    for (let k = 0; k < 3; k++) pool.w[at + k] = pool.a[at + k] - pool.b[at + k]
    const { w } = pool
    const bound = (dx * w[at] + dy * w[at + 1] + dz * w[at + 2]) / Math.sqrt(dx * dx + dy * dy + dz * dz) - slack
    if (bound > lower) lower = bound
    if (lower >= upTo) return finish(kept, lower, 'upTo', 'none', out)
    if (upper - lower <= width) return finish(kept, lower, 'converged', 'none', out)
    if (isInPool(at)) break
    pool.n++
    const nearer = nearestWithLast(upper)
    if (nearer === 'inside') {
      finish(tried, 0, 'converged', 'touch', out)
      if (out.atMost <= slack) return
      break
    }
    if (nearer === 'none') break
    upper = measured(kept)
    dx = kept.v[0]
    dy = kept.v[1]
    dz = kept.v[2]
    if (upper <= slack) return finish(kept, 0, 'converged', 'touch', out)
  }
  finish(kept, lower, 'limit', 'none', out)
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

/** Brings `kept` nearer than `upper` by a simplex with the newest point; only where none does, looks for the origin inside. */
function nearestWithLast(upper: number): 'nearer' | 'inside' | 'none' {
  const last = pool.n - 1
  let best = upper
  for (let i = 0; i < last; i++) {
    for (let j = i + 1; j <= last; j++) {
      // j = last stands for the edge i–last alone.
      tried.n = j < last ? 3 : 2
      take(0, i)
      if (j < last) take(1, j)
      take(tried.n - 1, last)
      toNearest(tried)
      const d = measured(tried)
      if (d < best) {
        best = d
        copySimplex(tried, kept)
      }
    }
  }
  if (best < upper) return 'nearer'
  for (let i = 0; i < last; i++)
    for (let j = i + 1; j < last; j++)
      for (let k = j + 1; k < last; k++) {
        tried.n = 4
        take(0, i)
        take(1, j)
        take(2, k)
        take(3, last)
        if (!toNearest(tried)) return 'inside'
      }
  return 'none'
}
