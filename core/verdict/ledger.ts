import { bad, good } from '../fault.ts'
import type { Fault, Outcome } from '../fault.ts'
import { keepOutSolids, leftOutIds } from '../bay/keepOuts.ts'
import { nearestName } from '../bay/nearest.ts'
import { exemptionsOf } from '../bay/part.ts'
import type { KeepOutSolid, Meshes, Part } from '../bay/part.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import type { Clearance } from '../clearance/answer.ts'
import type { Ledger, LedgerPair } from './answer.ts'
import { type Meeting, meetingsOf } from './meeting.ts'
import { LedgerMemory } from './memory.ts'
import { marginOf, overallVerdict, verdictOf } from './verdict.ts'
import type { Figures } from './verdict.ts'

/**
 * The gap ledger of one candidate: every part against every keep-out, and every pipe, coupler and clamp against the parts
 * it is not joined to.
 *
 * Core, tanks, stubs and mounts are one welded body and are not held against each other; mounts are not held against the
 * keep-outs that their fixings are part of; nor are a pipe's couplers and clamps
 * against their pipe, their stub, and each other at the same joint. A run is exempt from what its ports belong to up to
 * 1.5 outside diameters beyond the port, coupler first and then pipe; `exempt` says where.
 * What hangs on a port that moves carries that movement in its tolerance, the larger of the pipe's two ports.
 *
 * @param bay as read or edited; it must pass `checkBay`
 * @param candidateId the first candidate where undefined
 * @param meshes the meshes that the bay names, by `file`; one that is missing is a fault unless its keep-out is left out
 * @param memory keep one per window or job, so that what did not change is not computed again. Never changes an answer
 *   beyond the stated error: the same bay gives the same verdicts with an empty memory.
 * @returns pairs with the smallest margin first, then by names. Faults: 'no-candidate', 'unknown-candidate',
 *   'mesh-missing', and those of solids that cannot be made (corners that cannot be rounded, planar hulls …)
 * Error: `pair.error` mm, at most 0.001 unless the clearance stopped at its limit (then the verdict is unproved by itself).
 */
export function ledger(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  memory: LedgerMemory = new LedgerMemory(),
): Outcome<Ledger> {
  const candidate = candidateOf(bay, candidateId)
  if (!candidate.ok) return candidate
  const keepOuts = keepOutSolids(bay, meshes, memory.workshop)
  const made = candidateParts(bay, candidate.value, memory.workshop)
  if (!keepOuts.ok || !made.ok) return bad(...(keepOuts.ok ? [] : keepOuts.faults), ...(made.ok ? [] : made.faults))
  const { parts, unrouted } = made.value
  const pairs = meetingsOf(parts, keepOuts.value)
    .map((meeting) => pairOf(meeting, memory.measure(candidate.value.id, meeting)))
    .sort(smallestMarginFirst)
  memory.endRound()
  const leftOut = leftOutIds(bay)
  const verdicts = pairs.map((pair) => pair.verdict)
  return good({
    candidate: candidate.value.id,
    verdict: overallVerdict(verdicts, leftOut.length > 0 || unrouted.length > 0),
    pairs,
    leftOut,
    unrouted,
    exempt: exemptions(parts, keepOuts.value),
  })
}

/** The candidate that is meant, with a fault that names the nearest where there is none of that id. */
export function candidateOf(bay: Bay, id: string | undefined): Outcome<Candidate> {
  const [first] = bay.candidates
  if (!first) return bad({ code: 'no-candidate', field: 'candidates', expected: 'at least one candidate' })
  if (id === undefined) return good(first)
  const found = bay.candidates.find((candidate) => candidate.id === id)
  if (found) return good(found)
  const ids = bay.candidates.map((candidate) => candidate.id)
  const nearest = nearestName(id, ids)
  const fault: Fault = {
    code: 'unknown-candidate',
    field: 'candidates',
    expected: `one of ${ids.slice(0, 20).join(', ')}`,
    got: id,
  }
  return bad(nearest === undefined ? fault : { ...fault, nearest })
}

function pairOf(meeting: Meeting, answer: Clearance): LedgerPair {
  const { atMost: gap, atLeast, overlap } = answer
  const { tolerance, uncertainty, required } = meeting.asked
  const error = Math.max(0, gap - atLeast)
  const depth = overlap?.depthAtLeast
  const figures: Figures = { gap, error, tolerance, uncertainty, required, depth, depthAtMost: overlap?.depthAtMost }
  // Field after field: hundreds of rows a step, and records put together from pieces cost more than many a gap.
  const row: Writable<LedgerPair> = {
    part: meeting.part.name,
    keepOut: meeting.other,
    role: meeting.role,
    gap,
    error,
    tolerance,
    uncertainty,
    required,
    margin: marginOf(figures),
    verdict: verdictOf(figures),
    onPart: answer.onPart,
    onKeepOut: answer.onKeepOut,
  }
  if (meeting.role === 'part') row.between = 'parts'
  if (meeting.movement > 0) row.movement = meeting.movement
  if (overlap) {
    const { depthAtLeast, kind, direction } = overlap
    row.overlap = direction ? { depth: depthAtLeast, kind, direction } : { depth: depthAtLeast, kind }
  }
  if (meeting.assumed.length > 0) row.assumed = meeting.assumed
  if (meeting.otherSolid.open) row.open = true
  return row
}

type Writable<T> = { -readonly [K in keyof T]: T[K] }

function smallestMarginFirst(a: LedgerPair, b: LedgerPair): number {
  return a.margin - b.margin || byText(a.part, b.part) || byText(a.keepOut, b.keepOut) || byText(a.role, b.role)
}

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

function exemptions(parts: readonly Part[], keepOuts: readonly KeepOutSolid[]): Ledger['exempt'] {
  const present = new Set([...parts.map((part) => part.name), ...keepOuts.map((keepOut) => keepOut.id)])
  return parts.flatMap((part) =>
    [...exemptionsOf(part)].flatMap(([from, { lengths }]): Ledger['exempt'] => {
      if (!present.has(from)) return []
      if (part.mount) return [{ part: part.name, from, length: 0, whole: true }]
      return lengths.flatMap((length) => (length > 0 ? [{ part: part.name, from, length }] : []))
    }),
  )
}
