import type { Simplex } from './simplex.ts'
import type { ConvexSet } from './support.ts'

/** Bounds on the distance of two convex sets and a pair of points that reaches `atMost`. Filled in place, mm. */
export interface Nearest {
  /** Proved: the distance is no less. */
  atLeast: number
  /** Distance of (ax, ay, az) in the first set and (bx, by, bz) in the second. */
  atMost: number
  ax: number
  ay: number
  az: number
  bx: number
  by: number
  bz: number
  /** As in `Clearance`. */
  stopped: 'converged' | 'upTo' | 'limit'
  /**
   * 'none': no common point was found. 'touch': the witnesses coincide within rounding; a gap or an overlap of that size
   * cannot be told apart. 'overlap': they share inner points, proved; atMost is 0.
   */
  contact: 'none' | 'touch' | 'overlap'
}

export function emptyNearest(): Nearest {
  return { atLeast: 0, atMost: Infinity, ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0, stopped: 'limit', contact: 'none' }
}

export const epsilon = 2 ** -52

/**
 * What rounding can do to a plane bound or a witness, mm. Support points, their difference and one scalar product lose at
 * most about 8 units in the last place of the largest coordinate; twice that is taken.
 */
export const roundingSlack = (a: ConvexSet, b: ConvexSet): number => 16 * epsilon * (a.reach + b.reach)

/** Width of the bounds at which the search ends, mm: 1e-9 mm, and what the largest coordinates still resolve. */
export const endWidth = (a: ConvexSet, b: ConvexSet): number => 1e-9 + 1e-12 * (a.reach + b.reach)

/** Width that still counts as converged where the search comes to a standstill on its last digits, mm. */
export const allowedWidth = (a: ConvexSet, b: ConvexSet): number => 1e-9 + 1e-11 * (a.reach + b.reach)

/** Writes the witnesses as weighted sums and measures `atMost` on them, so that it holds whatever the search did. */
export function finish(
  s: Simplex,
  lower: number,
  stopped: Nearest['stopped'],
  contact: Nearest['contact'],
  out: Nearest,
): void {
  const { a, b, weight } = s
  let ax = 0
  let ay = 0
  let az = 0
  let bx = 0
  let by = 0
  let bz = 0
  for (let i = 0; i < s.n; i++) {
    const t = weight[i]
    ax += t * a[3 * i]
    ay += t * a[3 * i + 1]
    az += t * a[3 * i + 2]
    bx += t * b[3 * i]
    by += t * b[3 * i + 1]
    bz += t * b[3 * i + 2]
  }
  out.ax = ax
  out.ay = ay
  out.az = az
  out.bx = bx
  out.by = by
  out.bz = bz
  const x = ax - bx
  const y = ay - by
  const z = az - bz
  out.atMost = Math.sqrt(x * x + y * y + z * z)
  // The plane bound may pass the witnesses by rounding only; bounds never cross.
  out.atLeast = Math.min(lower, out.atMost)
  out.stopped = stopped
  out.contact = contact
}
