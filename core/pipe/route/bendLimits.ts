import type { PipeEnd } from '../../bay/pipeEnds.ts'
import type { Bay, Pipe } from '../../bay/schema.ts'
import { bendingOf } from '../makeable.ts'

/** Straights in mm, the angle in radians. */
export interface BendLimits {
  /** Before the first bend and after the last one. */
  readonly from: number
  readonly to: number
  readonly between: number
  readonly largestAngle: number
}

/**
 * What the pipe's bender and its joints ask of a route. Without a bender, or without a tool of this diameter: no least
 * straight but that in the couplers, and any angle below 180°. What springs open has to be bent further, and the bender
 * turns no further than it can.
 */
export function bendLimits(
  bay: Bay,
  pipe: Pipe,
  ends: { readonly from: Pick<PipeEnd, 'joint'>; readonly to: Pick<PipeEnd, 'joint'> },
): BendLimits {
  const material = bay.stock?.tubes?.find(({ id }) => id === pipe.tube)?.material ?? null
  const { tool, springBack } = bendingOf(bay, pipe, material)
  const end = tool?.leastEnd ?? 0
  const degrees = tool ? tool.largestAngle / (1 + (springBack ?? 0)) : 180
  return {
    from: Math.max(end, heldStraight(ends.from)),
    to: Math.max(end, heldStraight(ends.to)),
    between: tool ? Math.max(tool.grip, tool.leastStraight) : 0,
    largestAngle: (Math.min(degrees, 180) * Math.PI) / 180,
  }
}

/** A tube has to be straight as far as its coupler reaches over it, and at least as far as it has to, mm. */
const heldStraight = ({ joint }: Pick<PipeEnd, 'joint'>): number =>
  joint ? Math.max(joint.coupler.insertion, joint.insertion.pipe) : 0
