import type { PipeReason } from '../answer.ts'
import type { Vec3 } from '../../shape/vec.ts'

export interface Route {
  /** Corner points, to be put in the pipe's `path`. */
  readonly path: readonly Vec3[]
  readonly bendRadius: number
  /** Developed length, mm. */
  readonly length: number
  readonly bends: number
  /** Length + weight per bend (+ weighted loss). */
  readonly cost: number
  /** Least margin of the ledger's rows of this pipe; `at`: the row's point on the pipe. */
  readonly least: { readonly margin: number; readonly keepOut: string; readonly at?: Vec3 }
  /** On which side it passes each keep-out near it: `tow-eye: below`. */
  readonly passes: readonly { readonly keepOut: string; readonly side: PassSide; readonly gap: number }[]
}
/** Seen in the bay: X rearward, Y to the right, Z up. */
export type PassSide = 'front' | 'behind' | 'left' | 'right' | 'below' | 'above'

/** The widest way through for a tube of this diameter and clearance, bends aside. */
export interface Passage {
  /** Spare on each side beyond what is asked, mm; negative: too narrow by so much. */
  readonly spareAtLeast: number
  readonly spareAtMost: number
  readonly at: Vec3
  /** The two obstacles that it lies between; one where only one is near. */
  readonly between: readonly string[]
}

export interface RouteProofs {
  /** No route has fewer bends of this radius, within the search box; 0 where nothing is excluded. */
  readonly fewestBends: number
  /** No route is shorter, mm. */
  readonly lengthAtLeast: number
  readonly passage: Passage | null
}

/** What keeps every route out. */
export interface ClosedBy {
  /** The obstacles between which nothing gets through; one where an end's own straight is too near to it. */
  readonly between: readonly string[]
  /** Too narrow on each side by at least this, mm. */
  readonly shortBy: number
  readonly at: Vec3
  /** Proved for all space, and not only within the search box. */
  readonly everywhere: boolean
}

export interface RouteAnswer {
  readonly answer: 'found' | 'closed' | 'none found' | 'cancelled'
  /** Best first. */
  readonly routes: readonly Route[]
  readonly proved: RouteProofs
  /** Of 'closed' answers. */
  readonly closedBy?: ClosedBy
  /** Why the bender can make no bend of this pipe at all, wherever it lies: bent routes are not looked for then. */
  readonly refused?: PipeReason
  /** Other pipes of the candidate that have no path yet: routes need not keep clear of where they will be. Left out: none. */
  readonly unrouted?: readonly string[]
  /** What was minimised: mm for each bend beside the developed length. */
  readonly weights: { readonly bend: number; readonly loss: number }
  /** Counted work: starts that were polished. */
  readonly tried: number
  readonly stopped: 'done' | 'time' | 'cancelled'
}

export interface RouteRequest {
  /** At most so many, clearly different from each other; default 5. */
  readonly routes?: number
  /** mm that a bend counts beside the developed length; default 100. */
  readonly bendWeight?: number
  /** mm that a unit of the bends' loss coefficients counts; default 0. */
  readonly lossWeight?: number
  /** The pipe's own bend radius, which is the default, or every radius that the bender has for its diameter. */
  readonly radii?: 'own' | 'all'
}

/** Several pipes of one candidate, one after the other: each keeps clear of the best routes of those before it. */
export interface RouteAllAnswer {
  /** In which they were routed: of the orders tried the one with most pipes found, then with the least cost in all. */
  readonly order: readonly string[]
  /** As asked for. Every route of a pipe clears the best routes of all others. */
  readonly pipes: readonly { readonly pipe: string; readonly answer: RouteAnswer }[]
  readonly tried: readonly {
    readonly order: readonly string[]
    readonly found: number
    /** Of the best routes found, mm. */
    readonly cost: number
  }[]
}
