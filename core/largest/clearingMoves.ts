import { isOfRun, type Meshes } from '../bay/part.ts'
import { keepOutSolids } from '../bay/keepOuts.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay } from '../bay/schema.ts'
import { bad, good, type Outcome } from '../fault.ts'
import type { Solid } from '../shape/form.ts'
import type { LedgerPair } from '../verdict/answer.ts'
import { candidateOf } from '../verdict/ledger.ts'
import { meetingsOf } from '../verdict/meeting.ts'
import type { LedgerMemory } from '../verdict/memory.ts'
import { type ClearingMove, type Wants, wayAlong } from './clearingWay.ts'

/** The six ways along the bay's axes. */
export const axisWays = ['+x', '-x', '+y', '-y', '+z', '-z'] as const
export type AxisWay = (typeof axisWays)[number]

/** One move a way; null where none within reach is proved to clear. */
export type ClearingMoves = Readonly<Record<AxisWay, ClearingMove | null>>

/** A move longer than this is another design, mm. */
const defaultReach = 200

/**
 * For each way along the bay's axes, the least move of a part after which it clears a keep-out.
 * @param part   as it stands, bay frame, mm; convex forms (cores, tanks, stubs)
 * @param wants  what must lie between the two, mm
 * @param reach  longest move looked at, mm
 * @returns moves by 0 where the pair clears already. `by − notBefore` is about 0.001 mm for convex keep-outs and meshes
 *   that the part touches from outside; more where a part lies deep inside a solid mesh and bounds are all there is.
 * Only this pair is looked at: what else the move would run into is the caller's question.
 */
export function clearingMovesOf(part: Solid, keepOut: Solid, wants: Wants, reach = defaultReach): ClearingMoves {
  const moves = axisWays.map((way) => [way, wayAlong(directionOf(way), part, keepOut, wants, reach)] as const)
  return Object.fromEntries(moves) as Record<AxisWay, ClearingMove | null>
}

/** Unit vector of a way, bay frame. */
export function directionOf(way: AxisWay): [number, number, number] {
  const direction: [number, number, number] = [0, 0, 0]
  direction['xyz'.indexOf(way[1])] = way[0] === '-' ? -1 : 1
  return direction
}

/**
 * The same for a row of a ledger: what each way along the axes would take for this pair to clear, the candidate moving as a
 * whole.
 * @returns null for pipes, couplers and clamps, which do not simply move along, and for two parts, which move together.
 *   Faults: those of solids, 'no-candidate', 'unknown-candidate'; 'unknown-pair' where the bay has no such pair.
 */
export function clearingMoves(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  pair: Pick<LedgerPair, 'part' | 'keepOut' | 'between'>,
  memory?: LedgerMemory,
  reach = defaultReach,
): Outcome<ClearingMoves | null> {
  if (pair.between === 'parts' || isOfRun(pair.part)) return good(null)
  const candidate = candidateOf(bay, candidateId)
  if (!candidate.ok) return candidate
  const keepOuts = keepOutSolids(bay, meshes, memory?.workshop)
  if (!keepOuts.ok) return keepOuts
  const made = candidateParts(bay, { ...candidate.value, pipes: [] }, memory?.workshop)
  if (!made.ok) return made
  const meeting = meetingsOf(made.value.parts, keepOuts.value).find(
    ({ part, other }) => part.name === pair.part && other === pair.keepOut,
  )
  if (!meeting)
    return bad({
      code: 'unknown-pair',
      item: pair.part,
      expected: 'a part and a keep-out of the ledger',
      got: pair.keepOut,
    })
  return good(clearingMovesOf(meeting.partSolid, meeting.otherSolid, meeting.asked, reach))
}
