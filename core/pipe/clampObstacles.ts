import { askedBy } from '../bay/defaults.ts'
import { keepOutSolids, leftOutIds } from '../bay/keepOuts.ts'
import type { Meshes } from '../bay/part.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay, Candidate, Pipe } from '../bay/schema.ts'
import { Workshop } from '../bay/workshop.ts'
import { bad, good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import type { Solid } from '../shape/form.ts'

/** Something that a tool at a clamp must not meet. */
export interface RoomObstacle {
  /** Keep-out id or part name. */
  readonly name: string
  readonly solid: Solid
  /** What must lie between, mm: a keep-out's uncertainty, a part's tolerance. */
  readonly need: number
  /** It is taken off while clamps are done up. */
  readonly comesOff: boolean
}

export interface ClampObstacles {
  readonly obstacles: readonly RoomObstacle[]
  /** Ids of pipes that have no shape, so that no tool was held against them. */
  readonly without: readonly string[]
  /** Ids of keep-outs that are switched off for a look. */
  readonly leftOut: readonly string[]
}

/**
 * Everything that a screwdriver at a clamp may meet: keep-outs and the candidate's parts, bay frame, mm. No clearance is
 * asked of a tool, only that it does not touch; the engine stands still, so movement of ports is taken out of the tolerances.
 * Nothing is worked out where no clamp of the candidate names a tool.
 * @returns faults of keep-outs ('mesh-missing' …) and of parts other than pipes; pipes that cannot be rounded are left
 *   out and named in `without`, as are those not routed
 */
export function clampObstacles(
  bay: Bay,
  candidate: Candidate,
  meshes: Meshes,
  workshop: Workshop = new Workshop(),
): Outcome<ClampObstacles> {
  if (!asksForRoom(bay, candidate)) return good({ obstacles: [], without: [], leftOut: [] })
  const keepOuts = keepOutSolids(bay, meshes, workshop)
  if (!keepOuts.ok) return keepOuts
  const shapeless = (candidate.pipes ?? []).filter((pipe) => !isMakeable(bay, candidate, pipe, workshop))
  const made = candidateParts(bay, withoutPaths(candidate, shapeless), workshop)
  if (!made.ok) return bad(...made.faults)
  // Without its corners such a pipe may pass for a straight one.
  const names = shapeless.map(({ id }) => `pipe-${id}`)
  const parts = made.value.parts.filter(({ name }) => !names.includes(name))
  return good({
    obstacles: [
      ...keepOuts.value.map(({ id, keepOut, solid }) => ({
        name: id,
        solid,
        need: askedBy(keepOut).uncertainty,
        comesOff: keepOut.fitting === 'comes-off',
      })),
      ...parts.map(({ name, solid, tolerance, run }) => ({
        name,
        solid,
        need: Math.max(0, tolerance - (run?.movement ?? 0)),
        comesOff: false,
      })),
    ],
    without: [...new Set([...shapeless.map(({ id }) => id), ...made.value.unrouted])],
    leftOut: leftOutIds(bay),
  })
}

function asksForRoom({ stock }: Bay, { pipes = [] }: Candidate): boolean {
  const withTool = new Set(stock?.clamps?.flatMap(({ id, tool }) => (tool ? [id] : [])))
  const clampsOf = ({ joints }: Pipe) =>
    [joints?.from, joints?.to].flatMap((joint) =>
      joint?.kind === 'coupler' ? [joint.clamps?.port?.clamp, joint.clamps?.pipe?.clamp] : [],
    )
  return pipes.some((pipe) => clampsOf(pipe).some((clamp) => clamp !== undefined && withTool.has(clamp)))
}

const isMakeable = (bay: Bay, candidate: Candidate, pipe: Pipe, workshop: Workshop): boolean =>
  candidateParts(bay, { ...candidate, pipes: [pipe] }, workshop).ok

/** Couplers and clamps of a pipe without a path stand all the same. */
const withoutPaths = (candidate: Candidate, shapeless: readonly Pipe[]): Candidate => ({
  ...candidate,
  pipes: candidate.pipes?.map((pipe) => (shapeless.includes(pipe) ? { ...pipe, path: [] } : pipe)),
})
