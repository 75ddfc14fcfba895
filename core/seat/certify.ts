import type { Motion } from './motion.ts'
import type { LeastOnTheWay, SeatPath } from './answer.ts'
import { OnTheWay } from './onTheWay.ts'
import { poseOf, posesFrom } from './move.ts'
import { motionsOf } from './motion.ts'
import type { SeatSubject } from './subject.ts'
import { Sweeps } from './sweeps.ts'

/**
 * The least margin of a path over the whole continuous motion, certified.
 * Margin = gap − wanted on the way − uncertainty − tolerance, as in the ledger but against what is wanted on the way.
 * @param path exactly these moves are proved, from `start` on; without moves the start alone
 * @param within width of the answer, mm; a bend or stub of the part may widen it by how much its enclosure exceeds it
 * @returns bounds with move, share, pair and witnesses of the tightest place; where solids meet the gap counts as 0
 * Error: the true least margin lies in [atLeast, atMost]; wider than `within` only where 500,000 queries were not enough.
 */
export function certify(
  subject: SeatSubject,
  path: SeatPath,
  { within = 0.05, sweeps = new Sweeps() }: { readonly within?: number; readonly sweeps?: Sweeps } = {},
): LeastOnTheWay {
  return new OnTheWay(subject, motionsAlong(path), sweeps).least(within)
}

/** A place on the way where a pair has less than was asked for, proved. */
export type Refutation = LeastOnTheWay

/**
 * Whether the margin is at least so much everywhere on the way. Contact is a refusal, whatever is wanted.
 * @param atLeast mm
 * @returns 'proved', the place that refutes it, or 'undecided' where the truth lies too near to what is asked
 */
export function decide(
  subject: SeatSubject,
  path: SeatPath,
  atLeast = 0,
  sweeps: Sweeps = new Sweeps(),
): 'proved' | 'undecided' | Refutation {
  return new OnTheWay(subject, motionsAlong(path), sweeps).decide(atLeast)
}

/** As `decide`, for moves out of a pose: the searches' own form. */
export function decideMotions(
  subject: SeatSubject,
  motions: readonly Motion[],
  atLeast: number,
  sweeps: Sweeps,
  mostQueries?: number,
): 'proved' | 'undecided' | Refutation {
  return new OnTheWay(subject, motions, sweeps, mostQueries).decide(atLeast)
}

/** As `certify`, for moves out of a pose. */
export const certifyMotions = (
  subject: SeatSubject,
  motions: readonly Motion[],
  sweeps: Sweeps,
  mostQueries: number,
): LeastOnTheWay => new OnTheWay(subject, motions, sweeps, mostQueries).least(0.05)

function motionsAlong({ start, moves }: SeatPath): Motion[] {
  const from = poseOf(start)
  return motionsOf(posesFrom(from, moves), moves)
}
