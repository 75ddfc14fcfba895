import { keepOutSolids, leftOutIds } from '../../bay/keepOuts.ts'
import type { Meshes } from '../../bay/part.ts'
import { candidateParts } from '../../bay/parts.ts'
import type { Bay, Candidate } from '../../bay/schema.ts'
import { mirrorId } from '../../bay/sense.ts'
import { bad, good, type Outcome } from '../../fault.ts'
import { largest } from '../../largest/largest.ts'
import { bends } from '../../pipe/bends.ts'
import { judgeMounts } from '../../seat/mountsJudged.ts'
import { seat } from '../../seat/seat.ts'
import type { Ledger } from '../../verdict/answer.ts'
import { candidateOf, ledger } from '../../verdict/ledger.ts'
import { LedgerMemory } from '../../verdict/memory.ts'
import { datumChecks } from './datum.ts'
import { carChecks } from './onCar.ts'
import { partList } from './partList.ts'
import type { LargestFact, SafetyFact, SheetFacts, WayFact } from './sheetFacts.ts'

export interface FactsOptions {
  /** Ends the searches early; what they had by then is in the facts, and they are not the same on every machine any more. */
  readonly stop?: () => 'time' | 'cancelled' | null
  /** Share that is done, 0 … 1. */
  readonly progress?: (share: number) => void
}

/** Where each step of the work ends, roughly by the time it takes. */
const done = { ledger: 0.15, judged: 0.25, way: 0.6, largest: 0.9 }

/**
 * Everything that the sheets of one candidate say.
 * @param bay as read or edited; it must pass `checkBay`
 * @param candidateId the first candidate where undefined
 * @param memory keep one per window or job; never changes an answer
 * @returns the same for the same bay everywhere, unless `stop` ends a search. Faults: those of the candidate and of solids;
 *   what only the way in or the search for the largest core refuses is told in the facts themselves.
 */
export function sheetFacts(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  { stop = () => null, progress = () => undefined }: FactsOptions = {},
  memory: LedgerMemory = new LedgerMemory(),
): Outcome<SheetFacts> {
  const chosen = candidateOf(bay, candidateId)
  if (!chosen.ok) return chosen
  const candidate = chosen.value
  const { workshop } = memory
  const gaps = ledger(bay, candidate.id, meshes, memory)
  if (!gaps.ok) return gaps
  progress(done.ledger)
  const bent = bends(bay, candidate.id, meshes, { workshop })
  const mounts = judgeMounts(bay, candidate, meshes, memory)
  const solids = keepOutSolids(bay, meshes, workshop)
  const made = candidateParts(bay, candidate, workshop)
  if (!bent.ok) return bent
  if (!mounts.ok) return mounts
  if (!solids.ok || !made.ok) return bad(...(solids.ok ? [] : solids.faults), ...(made.ok ? [] : made.faults))
  progress(done.judged)
  const way = wayIn(bay, candidate, meshes, stop, memory)
  progress(done.way)
  const most = largestCore(bay, candidate, meshes, stop)
  progress(done.largest)
  const { parts } = made.value
  return good({
    bay,
    candidate,
    meshes,
    ledger: gaps.value,
    bends: bent.value,
    mounts: mounts.value,
    way,
    largest: most,
    parts: partList(bay, candidate, parts, bent.value, mounts.value),
    onCar: carChecks(gaps.value, parts, solids.value),
    datum: datumChecks(bay, parts, solids.value),
    safety: safetyOf(bay, gaps.value),
  })
}

type Stop = NonNullable<FactsOptions['stop']>

function wayIn(bay: Bay, candidate: Candidate, meshes: Meshes, stop: Stop, memory: LedgerMemory): WayFact {
  const { id, offering } = candidate
  const answer = seat(bay, id, meshes, { ...(offering && { moves: offering }), stop }, memory)
  const own = offering !== undefined
  return answer.ok ? { own, answer: answer.value, faults: [] } : { own, answer: null, faults: answer.faults }
}

function largestCore(bay: Bay, { id, core }: Candidate, meshes: Meshes, stop: Stop): LargestFact {
  const answer = largest(bay, id, meshes, { stop })
  const now = core.depth * core.width * core.height
  return answer.ok ? { answer: answer.value, faults: [], now } : { answer: null, faults: answer.faults, now }
}

function safetyOf(bay: Bay, { pairs }: Ledger): SafetyFact[] {
  const leftOut = leftOutIds(bay)
  return bay.keepOuts
    .filter(({ role }) => role === 'safety' || role === 'lamp')
    .flatMap(({ id, name, role, mirror }) =>
      [id, ...(mirror ? [mirrorId(id)] : [])].map((keepOut) => ({
        keepOut,
        name,
        role,
        leftOut: leftOut.includes(keepOut),
        tightest: pairs.find((pair) => pair.between === undefined && pair.keepOut === keepOut) ?? null,
      })),
    )
}
