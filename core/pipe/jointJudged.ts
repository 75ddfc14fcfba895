import type { ResolvedJoint } from '../bay/joints.ts'
import type { JointAnswer, PipeReason } from './answer.ts'
import type { ClampObstacles } from './clampObstacles.ts'
import { judgeClamps } from './clampReasons.ts'
import { couplerNotes, couplerReasons, neededInsertion, sameHose } from './couplerReasons.ts'
import { jointsAsked } from './jointAsked.ts'
import type { JointAsked, JointedPipe } from './jointAsked.ts'

export interface JointsJudged {
  /** From first, then to. */
  readonly joints: readonly JointAnswer[]
  readonly reasons: readonly PipeReason[]
  readonly notes: readonly PipeReason[]
}

/** Without a coupler a pipe must leave its port in line within this, degrees: 1 mm in 570 mm. Common practice, no source. */
const inLine = 0.1
/** Rounding in angles, degrees. */
const dust = 1e-6

/**
 * How both ends of a pipe are joined, and why a joint does not hold.
 * @param jointed   a routed pipe of a bay that passes `checkBay`; corners that cannot be rounded leave one thing unjudged,
 *   the straight that a hose needs at the pipe's end
 * @param obstacles what a tool at the clamps may meet, see `clampObstacles`
 * @returns answers, reasons and notes with `end`, `on` and `at`; codes are those of `couplerReasons`, `judgeClamps`, and
 *   for ends without a coupler 'leaves-askew', 'diameters-differ', 'weld-moves'; notes 'no-joint', 'tool-without' (pipes
 *   that have no shape yet) and 'tool-left-out' (keep-outs that are switched off).
 *
 * Movement is what the bay gives for the port: any direction, whole. It is held against the coupler of the port that
 * moves, on top of gap, offset and angle each, which is the safe side; what a pipe between two couplers may pass on to the
 * other one is a note, since which of the two gives way is not known.
 */
export function judgeJoints(jointed: JointedPipe, obstacles: ClampObstacles): JointsJudged {
  const judged = jointsAsked(jointed).map((asked) => judgeEnd(asked, jointed.pipe.id, obstacles))
  return {
    joints: judged.map(({ joint }) => joint),
    reasons: judged.flatMap(({ reasons }) => reasons),
    notes: judged.flatMap(({ notes }) => notes),
  }
}

interface EndJudged {
  readonly joint: JointAnswer
  readonly reasons: readonly PipeReason[]
  readonly notes: readonly PipeReason[]
}

function judgeEnd(asked: JointAsked, pipeId: string, obstacles: ClampObstacles): EndJudged {
  const { joint } = asked.place
  return joint ? judgeCoupler(asked, joint, pipeId, obstacles) : judgeBare(asked)
}

function judgeCoupler(
  asked: JointAsked,
  joint: ResolvedJoint,
  pipeId: string,
  { obstacles, without, leftOut }: ClampObstacles,
): EndJudged {
  const { end, port, movement, angle } = asked
  const { clamps, reasons, notes } = judgeClamps(asked, joint, pipeId, obstacles)
  const others = without.filter((id) => id !== pipeId)
  const looked = clamps.some(({ reach }) => reach !== null)
  const unseen = (code: string, names: readonly string[]): PipeReason[] =>
    looked && names.length > 0 ? [{ code, end, at: joint.end, got: names.join(', ') }] : []
  return {
    joint: {
      end,
      port,
      kind: 'coupler',
      coupler: joint.coupler.id,
      gap: joint.gap,
      offset: joint.offset,
      angle,
      movement,
      insertion: {
        ...joint.insertion,
        neededPort: neededInsertion(asked, joint, 'port'),
        neededPipe: neededInsertion(asked, joint, 'pipe'),
      },
      clamps,
    },
    reasons: [...couplerReasons(asked, joint), ...reasons],
    notes: [
      ...couplerNotes(asked, joint),
      ...notes,
      ...unseen('tool-without', others),
      ...unseen('tool-left-out', leftOut),
    ],
  }
}

/** A weld, or no joint at all: the pipe must meet its port as it is. */
function judgeBare({ end, port, joint, place, pipeDiameter, angle, movement }: JointAsked): EndJudged {
  const told = { end, at: place.at, of: port }
  const { outsideDiameter } = place.port
  const reasons: PipeReason[] = []
  if (angle > inLine + dust) reasons.push({ code: 'leaves-askew', ...told, expected: inLine, got: angle })
  if (Math.abs(outsideDiameter - pipeDiameter) > sameHose + dust)
    reasons.push({ code: 'diameters-differ', ...told, expected: outsideDiameter, got: pipeDiameter })
  if (joint && movement > 0) reasons.push({ code: 'weld-moves', ...told, got: movement })
  return {
    joint: { end, port, kind: joint ? 'weld' : 'none', angle, movement, clamps: [] },
    reasons,
    notes: joint ? [] : [{ code: 'no-joint', ...told, ...(movement > 0 && { got: movement }) }],
  }
}
