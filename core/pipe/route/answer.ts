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
  /** Least margin of the ledger's rows of this pipe. */
  readonly least: { readonly margin: number; readonly keepOut: string }
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

export interface RouteAnswer {
  readonly answer: 'found' | 'closed' | 'none found' | 'cancelled'
  /** Best first. */
  readonly routes: readonly Route[]
  readonly proved: RouteProofs
  /** What was minimised: mm for each bend beside the developed length. */
  readonly weights: { readonly bend: number; readonly loss: number }
  /** Counted work: starts that were polished. */
  readonly tried: number
  readonly stopped: 'done' | 'time' | 'cancelled'
}
