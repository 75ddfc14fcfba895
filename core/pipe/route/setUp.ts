import { keepOutSolids } from '../../bay/keepOuts.ts'
import { nearestName } from '../../bay/nearest.ts'
import type { Meshes, Part } from '../../bay/part.ts'
import { candidateParts } from '../../bay/parts.ts'
import { type PipeEnd, pipeEnd, stubsOf } from '../../bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../../bay/schema.ts'
import { bad, good, type Outcome } from '../../fault.ts'
import { turnMatrix } from '../../shape/vec.ts'
import { candidateOf } from '../../verdict/ledger.ts'
import { type Meeting, meetingsOf } from '../../verdict/meeting.ts'
import { LedgerMemory } from '../../verdict/memory.ts'
import type { RouteObstacle, RouteProblem } from './problem.ts'
import { bendLimits } from './bendLimits.ts'
import { searchBox } from './searchBox.ts'
import { standInCorners } from './standIn.ts'

/**
 * What a route of one pipe has to clear and how it may bend, taken from the bay exactly as the ledger takes it: the pipe is
 * put into the candidate on a detour that keeps its ends, and what the ledger would hold against it are the obstacles.
 * Whatever path the pipe has already does not count; other pipes stand where they are, those not routed are nowhere.
 * @param candidateId the first candidate where undefined
 * @param memory of a ledger, so that solids and trees are not made anew
 * @returns lengths mm, bay frame. Faults: those of the ledger, 'unknown-pipe', 'bend-too-tight' (bend radius below the
 *   tube's radius)
 */
export function routeProblem(
  bay: Bay,
  candidateId: string | undefined,
  pipeId: string,
  meshes: Meshes,
  memory: LedgerMemory = new LedgerMemory(),
): Outcome<RouteProblem> {
  const found = candidateOf(bay, candidateId)
  if (!found.ok) return found
  const candidate = found.value
  const pipe = candidate.pipes?.find((each) => each.id === pipeId)
  if (!pipe) return unknownPipe(candidate, pipeId)
  const ends = endsOf(bay, candidate, pipe)
  if (!ends.ok) return ends
  const { from, to } = ends.value
  const path = standInCorners(from, to, pipe.bendRadius).map(([x, y, z]): [number, number, number] => [x, y, z])
  const keepOuts = keepOutSolids(bay, meshes, memory.workshop)
  const made = candidateParts(bay, withPath(candidate, pipe, path), memory.workshop)
  if (!keepOuts.ok || !made.ok) return bad(...(keepOuts.ok ? [] : keepOuts.faults), ...(made.ok ? [] : made.faults))
  const part = made.value.parts.find(({ pipe: each }) => each?.id === pipeId)
  if (!part?.pipe) throw new Error('the detour of a pipe was not taken for a route')
  const obstacles = meetingsOf(made.value.parts, keepOuts.value).flatMap((meeting) =>
    obstacleOf(meeting, part, from, to),
  )
  const limits = bendLimits(bay, pipe, ends.value)
  const radius = pipe.outsideDiameter / 2
  return good({
    from: { at: from.at, direction: from.direction, leastStraight: limits.from },
    to: { at: to.at, direction: to.direction, leastStraight: limits.to },
    radius,
    bendRadius: pipe.bendRadius,
    leastStraight: limits.between,
    largestAngle: limits.largestAngle,
    obstacles,
    box: searchBox(from, to, { radius, bendRadius: pipe.bendRadius, obstacles }),
    selfNeed: part.pipe.clearance + 2 * (pipe.tolerance ?? 0),
  })
}

function unknownPipe(candidate: Candidate, pipeId: string): Outcome<never> {
  const ids = (candidate.pipes ?? []).map(({ id }) => id)
  const nearest = nearestName(pipeId, ids)
  return bad({
    code: 'unknown-pipe',
    item: candidate.id,
    field: 'pipes',
    expected: ids.length === 0 ? 'the id of a pipe, of which there is none' : `one of ${ids.join(', ')}`,
    got: pipeId,
    ...(nearest !== undefined && { nearest }),
  })
}

function endsOf(bay: Bay, candidate: Candidate, pipe: Pipe): Outcome<{ from: PipeEnd; to: PipeEnd }> {
  const stubs = stubsOf(candidate, { turn: turnMatrix(candidate.turn), at: candidate.at })
  const from = pipeEnd(pipe, 'from', bay, stubs)
  const to = pipeEnd(pipe, 'to', bay, stubs)
  if (from && to) return good({ from, to })
  return bad({ code: 'unknown-port', item: pipe.id, expected: 'a port', got: from ? pipe.to : pipe.from })
}

/** Elbows name corners of a path; a route is bent throughout. */
function withPath(candidate: Candidate, pipe: Pipe, path: Pipe['path']): Candidate {
  const { elbows: _, ...bent } = pipe
  return {
    ...candidate,
    pipes: candidate.pipes?.map((each) => (each.id === pipe.id ? { ...bent, path } : each)),
  }
}

/** What one of the ledger's meetings asks of the pipe; nothing where it is about other parts. */
function obstacleOf(meeting: Meeting, part: Part, from: PipeEnd, to: PipeEnd): RouteObstacle[] {
  const { asked, role } = meeting
  const isFirst = meeting.part === part
  if (!isFirst && meeting.otherPart !== part) return []
  const name = isFirst ? meeting.other : meeting.part.name
  return [
    {
      name,
      kind: role === 'part' ? 'part' : 'keepOut',
      solid: isFirst ? meeting.otherSolid : meeting.partSolid,
      need: asked.tolerance + asked.uncertainty + asked.required,
      exempt: exemptEnds(part, name, from, to),
    },
  ]
}

/** The ledger names the exempt lengths of joined ends in order: both, or that of the one end that is joined. */
function exemptEnds(part: Part, other: string, from: PipeEnd, to: PipeEnd): RouteObstacle['exempt'] {
  const [first = 0, second = 0] = part.run?.exemptions.get(other)?.lengths ?? []
  const [isFrom, isTo] = [from.joined.includes(other), to.joined.includes(other)]
  return { from: isFrom ? first : 0, to: isTo ? (isFrom ? second : first) : 0 }
}
