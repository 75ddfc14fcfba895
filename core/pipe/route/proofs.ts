import type { Vec3 } from '../../shape/vec.ts'
import type { ClosedBy, RouteProofs } from './answer.ts'
import { endBreach } from './endStraights.ts'
import { fewestBends } from './fewestBends.ts'
import { keepersOf } from './keepers.ts'
import { lengthBound } from './lengthBound.ts'
import { type PassageProof, passageOf } from './passage.ts'
import type { Corners, RouteProblem, Stop } from './problem.ts'
import { Work } from './work.ts'

export interface ProvedOfRoutes extends RouteProofs {
  /** No tube of this diameter and clearance gets through, however it bends; within the search box. */
  readonly closed: boolean
  readonly closedBy?: ClosedBy
  /** Corners of a route of as few bends as can be, by the exact check, where one was met; [] is the straight line. */
  readonly simplest: Corners | null
  /** A way for the middle of the tube with `passage.spareAtLeast`, bends aside: where to look first. Empty where none was found. */
  readonly way: readonly Vec3[]
}

export interface ProofOptions {
  readonly stop?: Stop
  /** Distances that the passage may be searched with; a second measures about a million. */
  readonly work?: number
}

/**
 * What is proved of all routes, found or not: whether any tube gets through, fewest bends, least length, widest passage.
 * @returns bounds that hold whatever ended the work; `stop` leaves them weaker. Proofs of absence hold within the search box,
 *   for ends in line within 0.1°, and up to rounding (1e-7 mm).
 */
export function proveRoute(
  problem: RouteProblem,
  { stop = () => null, work: most }: ProofOptions = {},
): ProvedOfRoutes {
  const work = new Work(stop)
  const keepers = keepersOf(problem)
  const bends = fewestBends(problem, keepers, work)
  const lengthAtLeast = lengthBound(problem, keepers, work)
  const { closedBy, passage, way } = closedPassage(problem, work, most)
  return {
    fewestBends: bends.fewest,
    lengthAtLeast,
    passage,
    closed: closedBy !== undefined,
    ...(closedBy && { closedBy }),
    simplest: bends.found,
    way,
  }
}

/** Whether nothing gets through: an end's own straight first, then the passage. */
export function closedPassage(
  problem: RouteProblem,
  work: Work,
  most?: number,
): PassageProof & { readonly closedBy?: ClosedBy } {
  const proof = passageOf(problem, work, most)
  const breach = endBreach(problem)
  if (breach) {
    const { end, obstacle, by } = breach
    return { ...proof, closedBy: { between: [obstacle], shortBy: by, at: end.at, everywhere: true } }
  }
  const { closed, passage, everywhere } = proof
  if (!closed || !passage) return proof
  return { ...proof, closedBy: { between: passage.between, shortBy: -passage.spareAtMost, at: passage.at, everywhere } }
}
