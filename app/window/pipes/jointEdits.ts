import type { Bay } from '../../../core/bay/schema.ts'
import type { Bead, CouplerJoint, Joint } from '../../../core/bay/workshopSchema.ts'
import { words } from '../words.ts'

const { joint: text } = words.pipes

/** What stands for no joint and for a weld in a list of couplers. Ids hold no blanks, so none is taken for one. */
export const noJoint = 'no joint'
export const weldJoint = 'weld joint'

/** As the joint stands in a list: `hump hose 57` or `weld`. */
export function jointBrief(bay: Bay, joint: Joint | undefined): string {
  if (!joint) return text.noneBrief
  if (joint.kind === 'weld') return text.weld
  return bay.stock?.couplers?.find(({ id }) => id === joint.coupler)?.name ?? joint.coupler
}

/**
 * The joint after another way of joining was picked. Clamps and bead stay with a new coupler; a gap belongs to straight
 * hoses and a roll to elbows, so what the new one does not have goes.
 */
export function joinedBy(bay: Bay, joint: Joint | undefined, picked: string): Joint | undefined {
  if (picked === noJoint) return undefined
  if (picked === weldJoint) return { kind: 'weld' }
  const before = joint?.kind === 'coupler' ? joint : undefined
  const isElbow = bay.stock?.couplers?.find(({ id }) => id === picked)?.form === 'elbow'
  return {
    kind: 'coupler',
    coupler: picked,
    ...(before?.gap !== undefined && !isElbow && { gap: before.gap }),
    ...(before?.roll !== undefined && isElbow && { roll: before.roll }),
    ...(before?.clamps && { clamps: before.clamps }),
    ...(before?.bead && { bead: before.bead }),
  }
}

/** The joint after a clamp was picked on one side, or taken off; the list goes with its last one. */
export function clampedBy(joint: CouplerJoint, on: 'port' | 'pipe', clamp: string | undefined): CouplerJoint {
  const { clamps, ...rest } = joint
  const { [on]: before, ...others } = clamps ?? {}
  const now = clamp === undefined ? others : { ...others, [on]: { ...before, clamp } }
  return Object.keys(now).length > 0 ? { ...rest, clamps: now } : rest
}

/** A bead to begin with: rolled on thin tube. Common practice, no source. */
export const firstBead: Bead = { height: 1.5, width: 4, fromEnd: 5 }
