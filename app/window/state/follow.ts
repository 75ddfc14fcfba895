import { followPorts } from '../../../core/pipe/follow.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'

/**
 * The edited bay, in which pipes have gone along with tanks that were moved: the corners beside a port stay in line with
 * it. Part of the very edit that moved them, so that one step back takes both back.
 */
export function followed(before: Bay, after: Bay): Bay {
  if (after.candidates === before.candidates) return after
  const candidates = after.candidates.map((candidate) => {
    const former = before.candidates.find(({ id }) => id === candidate.id)
    return former && hasMoved(former, candidate) ? followPorts(after, former, candidate) : candidate
  })
  return candidates.some((candidate, i) => candidate !== after.candidates[i]) ? { ...after, candidates } : after
}

/** Whoever edits pipes themselves means them as they are then. */
const hasMoved = (before: Candidate, after: Candidate): boolean =>
  before.pipes === after.pipes &&
  (before.at !== after.at || before.turn !== after.turn || before.core !== after.core || before.tanks !== after.tanks)
