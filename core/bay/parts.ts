import { bad, good } from '../fault.ts'
import type { Fault, Outcome } from '../fault.ts'
import type { Polytope, Solid } from '../shape/form.ts'
import { boxPolytope, tankPolytope } from '../shape/polytope.ts'
import { solidFrom } from '../shape/solid.ts'
import { turnMatrix } from '../shape/vec.ts'
import type { Pose } from '../shape/vec.ts'
import { mountParts } from './mountParts.ts'
import type { CandidateParts, Part } from './part.ts'
import { stubsOf } from './pipeEnds.ts'
import type { Stub } from './pipeEnds.ts'
import { pipeParts } from './pipeParts.ts'
import type { Bay, Candidate } from './schema.ts'
import { troubleOf } from './shapeTroubles.ts'
import { sides, tankFrame } from './tankPort.ts'
import type { Side } from './tankPort.ts'
import { toFaults } from './trouble.ts'
import type { Trouble } from './trouble.ts'
import { Workshop } from './workshop.ts'

/**
 * The parts of a candidate as solids, bay frame, mm: core, tanks, stubs, mounts, then pipes, in the order of the file.
 * Core, tanks, stubs and mounts turn with the candidate about the core's centre; pipes stand in the bay and end at their ports.
 * A stub is a straight cylinder about its point on the tank's face; where the face is not square to it, it begins behind
 * the face, so that no wedge between the two is left out.
 * @param workshop keeps solids by content: an unchanged part is the very same solid again
 * @returns parts, and the ids of pipes that are not routed. Faults, all at once: lengths too small to make a solid, and
 *   pipes whose corners cannot be rounded ('straight-too-short', 'turns-back', 'bend-too-tight', 'repeated-point')
 */
export function candidateParts(
  bay: Bay,
  candidate: Candidate,
  workshop: Workshop = new Workshop(),
): Outcome<CandidateParts> {
  const pose: Pose = { turn: turnMatrix(candidate.turn), at: candidate.at }
  const stubs = stubsOf(candidate, pose)
  const body = [
    corePart(candidate, pose, workshop),
    ...sides.flatMap((side) => tankPart(candidate, side, pose, workshop)),
    ...stubs.map((stub) => stubPart(stub, pose, workshop)),
  ]
  const mounts = mountParts(bay, candidate, pose, workshop)
  const pipes = pipeParts(bay, candidate, stubs, pose, workshop)
  const troubles: Trouble[] = [...body.flatMap((made) => made.troubles ?? []), ...mounts.troubles, ...pipes.troubles]
  if (troubles.length > 0) return bad(...faultsOf(troubles, bay, candidate))
  return good({
    parts: [...body.flatMap((made) => made.part ?? []), ...mounts.parts, ...pipes.parts],
    unrouted: pipes.unrouted,
  })
}

interface Made {
  readonly part?: Part
  readonly troubles?: readonly Trouble[]
}

function corePart({ core, at, turn }: Candidate, pose: Pose, workshop: Workshop): Made {
  const made = workshop.make('core', [at, turn, core.depth, core.width, core.height], () =>
    solidOfBody(boxPolytope(at, [core.depth, core.width, core.height], pose.turn)),
  )
  return made.ok
    ? { part: { name: 'core', kind: 'core', solid: made.value, tolerance: core.tolerance ?? 0, pose } }
    : { troubles: made.faults.map((fault) => troubleOf({ ...fault, field: undefined }, ['core'])) }
}

function tankPart(candidate: Candidate, side: Side, pose: Pose, workshop: Workshop): Made[] {
  const tank = candidate.tanks?.[side]
  if (!tank) return []
  const { centre, halfDepth, halfHeight, outward, length } = tankFrame(candidate.core, tank, side)
  const outline = {
    y: centre[1],
    outward,
    length,
    footX: [centre[0] - halfDepth[0], centre[0] + halfDepth[0]],
    footZ: [centre[2] - halfHeight[0], centre[2] + halfHeight[0]],
    taper: tank.taper ?? { depth: 1, height: 1 },
  } as const
  const made = workshop.make('tank', [candidate.at, candidate.turn, outline], () =>
    solidOfBody(tankPolytope(outline, pose)),
  )
  if (!made.ok) return [{ troubles: made.faults.map((fault) => troubleOf(fault, ['tanks', side])) }]
  return [{ part: { name: `tank-${side}`, kind: 'tank', solid: made.value, tolerance: tank.tolerance ?? 0, pose } }]
}

function stubPart({ name, root, to, radius }: Stub, pose: Pose, workshop: Workshop): Made {
  const solid = workshop.make('stub', [root, to, radius], () =>
    solidFrom([{ form: 'convex', body: { kind: 'cylinder', from: root, to, radius } }]),
  )
  return { part: { name, kind: 'stub', solid, tolerance: 0, pose } }
}

const solidOfBody = (body: Outcome<Polytope>): Outcome<Solid> =>
  body.ok ? good(solidFrom([{ form: 'convex', body: body.value }])) : body

/** Troubles with paths from the candidate on, as faults of the bay. */
function faultsOf(troubles: readonly Trouble[], bay: Bay, candidate: Candidate): Fault[] {
  const index = bay.candidates.findIndex((each) => each.id === candidate.id)
  const prefix = index < 0 ? [] : ['candidates', index]
  return toFaults(
    troubles.map((trouble) => ({ ...trouble, path: [...prefix, ...trouble.path] })),
    index < 0 ? candidate : bay,
    {},
  )
}
