import { pipeEnd, stubsOf } from '../../../core/bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../../../core/bay/schema.ts'
import { turnMatrix, type Vec3 } from '../../../core/shape/vec.ts'

/** Ends and corners of a pipe in their order, routed or not, bay frame, mm; null where a port is not there. */
export function pointsOf(bay: Bay, candidate: Candidate, pipe: Pipe): readonly Vec3[] | null {
  const stubs = stubsOf(candidate, { turn: turnMatrix(candidate.turn), at: candidate.at })
  const [from, to] = [pipeEnd(pipe, 'from', bay, stubs), pipeEnd(pipe, 'to', bay, stubs)]
  return from && to ? [from.at, ...pipe.path, to.at] : null
}
