import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { followPorts } from '../../../core/pipe/follow.ts'
import { endingAt, gripped } from '../../../core/seat/edited.ts'
import { asOffering } from './offering.ts'

/**
 * The edited bay, in which pipes have gone along with tanks that were moved, so that the corners beside a port stay in line
 * with it; and the way in with the seat, so that it ends there. Part of the very edit that moved them, so that one step back
 * takes all back.
 */
export function followed(before: Bay, after: Bay): Bay {
  if (after.candidates === before.candidates) return after
  const candidates = after.candidates.map((candidate) => {
    const former = before.candidates.find(({ id }) => id === candidate.id)
    if (!former) return candidate
    return wayFollowed(former, hasMoved(former, candidate) ? followPorts(after, former, candidate) : candidate)
  })
  return candidates.some((candidate, i) => candidate !== after.candidates[i]) ? { ...after, candidates } : after
}

/** Whoever edits pipes themselves means them as they are then. */
const hasMoved = (before: Candidate, after: Candidate): boolean =>
  before.pipes === after.pipes &&
  (before.at !== after.at || before.turn !== after.turn || before.core !== after.core || before.tanks !== after.tanks)

function wayFollowed(before: Candidate, after: Candidate): Candidate {
  const { offering, at, turn } = after
  if (!offering || offering !== before.offering || (at === before.at && turn === before.turn)) return after
  return { ...after, offering: asOffering(endingAt({ at, turn }, gripped(offering))) }
}
