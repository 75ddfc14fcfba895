import type { Bounds, Solid } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'

/** Where a route begins or ends: at the pipe's end, leaving along `direction` (unit), away from the port on both ends. */
export interface RouteEnd {
  readonly at: Vec3
  readonly direction: Vec3
  /** Straight before the first bend, mm: what the bender needs at an end, or the joint, whichever is more. */
  readonly leastStraight: number
}

/** Something that the pipe keeps clear of. */
export interface RouteObstacle {
  /** Keep-out id or part name. */
  readonly name: string
  readonly kind: 'keepOut' | 'part'
  readonly solid: Solid
  /** required + uncertainty + tolerance: what must lie between the pipe's surface and the solid, mm. */
  readonly need: number
  /** Length of centreline at each end that is not held against it, mm; 0 mostly. */
  readonly exempt: { readonly from: number; readonly to: number }
}

/** A route from port to port, to be found. Lengths mm, bay frame. */
export interface RouteProblem {
  readonly from: RouteEnd
  readonly to: RouteEnd
  /** Half the outside diameter. */
  readonly radius: number
  readonly bendRadius: number
  /** Between two bends. */
  readonly leastStraight: number
  /** Radians turned. */
  readonly largestAngle: number
  readonly obstacles: readonly RouteObstacle[]
  /** Search box for the centreline; proofs of absence hold within it. */
  readonly box: Bounds
  /** What the pipe keeps from itself, surface to surface, mm. */
  readonly selfNeed: number
}

/** Corner points between the two ends, neither end among them; empty: straight. */
export type Corners = readonly Vec3[]

/** Asked in the loops; counted work ends them, this only breaks them off. */
export type Stop = () => 'time' | 'cancelled' | null
