import type { Form, FormName } from '../shape/form.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { convexConvex } from './convexConvex.ts'
import { convexHalfSpace } from './convexHalfSpace.ts'
import { convexMesh } from './convexMesh.ts'
import { convexRound } from './convexRound.ts'
import { halfSpaceHalfSpace } from './halfSpaceHalfSpace.ts'
import { meshHalfSpace } from './meshHalfSpace.ts'
import { meshMesh } from './meshMesh.ts'
import { type PairClearance, swapped } from './pair.ts'
import { roundHalfSpace } from './roundHalfSpace.ts'
import { roundMesh } from './roundMesh.ts'
import { roundRound } from './roundRound.ts'

export type { PairClearance } from './pair.ts'

/** One row a pair of forms, each written once. A missing pair does not compile: `bothOrders` asks for all. */
export type PairTable = {
  convex·convex: PairClearance<'convex', 'convex'>
  convex·round: PairClearance<'convex', 'round'>
  convex·mesh: PairClearance<'convex', 'mesh'>
  convex·halfSpace: PairClearance<'convex', 'halfSpace'>
  round·round: PairClearance<'round', 'round'>
  round·mesh: PairClearance<'round', 'mesh'>
  round·halfSpace: PairClearance<'round', 'halfSpace'>
  mesh·mesh: PairClearance<'mesh', 'mesh'>
  mesh·halfSpace: PairClearance<'mesh', 'halfSpace'>
  halfSpace·halfSpace: PairClearance<'halfSpace', 'halfSpace'>
}

export const pairs: PairTable = {
  convex·convex: convexConvex,
  convex·round: convexRound,
  convex·mesh: convexMesh,
  convex·halfSpace: convexHalfSpace,
  round·round: roundRound,
  round·mesh: roundMesh,
  round·halfSpace: roundHalfSpace,
  mesh·mesh: meshMesh,
  mesh·halfSpace: meshHalfSpace,
  halfSpace·halfSpace: halfSpaceHalfSpace,
}

/** Both orders of every pair: the table's own, or the table's turned round. A new form brings a row and a column. */
const bothOrders: { [A in FormName]: { [B in FormName]: PairClearance<A, B> } } = {
  convex: {
    convex: pairs['convex·convex'],
    round: pairs['convex·round'],
    mesh: pairs['convex·mesh'],
    halfSpace: pairs['convex·halfSpace'],
  },
  round: {
    convex: swapped(pairs['convex·round']),
    round: pairs['round·round'],
    mesh: pairs['round·mesh'],
    halfSpace: pairs['round·halfSpace'],
  },
  mesh: {
    convex: swapped(pairs['convex·mesh']),
    round: swapped(pairs['round·mesh']),
    mesh: pairs['mesh·mesh'],
    halfSpace: pairs['mesh·halfSpace'],
  },
  halfSpace: {
    convex: swapped(pairs['convex·halfSpace']),
    round: swapped(pairs['round·halfSpace']),
    mesh: swapped(pairs['mesh·halfSpace']),
    halfSpace: pairs['halfSpace·halfSpace'],
  },
}

/** Gap of two forms in either order, in one frame near the origin. */
export function pairClearance(part: Form, keepOut: Form, options: ClearanceOptions): Clearance {
  // The table's type ties each function to its forms; looking it up by the forms' own names keeps that tie.
  const pair = bothOrders[part.form][keepOut.form] as (a: Form, b: Form, options: ClearanceOptions) => Clearance
  return pair(part, keepOut, options)
}
