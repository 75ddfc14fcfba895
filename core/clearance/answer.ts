import type { Vec3 } from '../shape/vec.ts'

/**
 * Bounds on the shortest distance between two solids, mm. Never a bare number.
 * Gap to report = atMost; its error = atMost − atLeast. Overlapping or touching: both 0.
 */
export interface Clearance {
  /** Proved: the true distance is no less. */
  readonly atLeast: number
  /** Proved: the true distance is no more; reached by the witnesses. */
  readonly atMost: number
  /** Witness on the part, bay frame. Distance of the two witnesses = atMost (to rounding). */
  readonly onPart: Vec3
  /** Witness on the keep-out, bay frame. */
  readonly onKeepOut: Vec3
  /** 'converged': error within the stated bound; 'upTo': stopped early since atLeast ≥ upTo; 'limit': iteration limit, bounds as reached. */
  readonly stopped: 'converged' | 'upTo' | 'limit'
  /** Present when the solids meet (contact proved, depth may be 0). */
  readonly overlap?: Overlap
}

/**
 * How deep two solids overlap: the length of the shortest translation of the part that separates them, mm.
 * 'exact': depthAtLeast … depthAtMost hold the true depth and `direction` (unit) is the way to move the part;
 * 'atLeast': only depthAtLeast is proved.
 */
export interface Overlap {
  readonly kind: 'exact' | 'atLeast'
  readonly depthAtLeast: number
  readonly depthAtMost?: number
  readonly direction?: Vec3
}

export interface ClearanceOptions {
  /** Stop as soon as the distance is proved to be at least this, mm. Never changes an answer below it. */
  readonly upTo?: number
  /** A point pair near the answer (for example the former witnesses, moved along); only speeds up. */
  readonly near?: { readonly onPart: Vec3; readonly onKeepOut: Vec3 }
  /** Ask for the depth of overlap too (default true); contact alone is cheaper. */
  readonly depth?: boolean
}
