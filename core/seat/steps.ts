import { length, placed, scale, type Pose, type Vec3 } from '../shape/vec.ts'
import type { Move } from './answer.ts'
import { Motion } from './motion.ts'
import { poseAt } from './move.ts'

/**
 * One move on the way out, as the searches name it: the pivot belongs to the part, so that a step can be made from any pose.
 * A shift has angle 0, a turn a shift of 0; one that has both turns while it shifts.
 */
export interface Step {
  /** mm, bay frame. */
  readonly shift: Vec3
  /** Unit, bay frame. */
  readonly axis: Vec3
  /** The part's own frame. */
  readonly pivot: Vec3
  /** Degrees. */
  readonly angle: number
}

export const axes: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

export const shiftStep = (direction: Vec3, amount: number): Step => ({
  shift: scale(direction, amount),
  axis: [0, 0, 1],
  pivot: [0, 0, 0],
  angle: 0,
})
export const turnStep = (axis: Vec3, pivot: Vec3, angle: number): Step => ({ shift: [0, 0, 0], axis, pivot, angle })

export const isShift = ({ angle }: Step): boolean => angle === 0

/** The beginning of a step. */
export const shareOfStep = (step: Step, share: number): Step =>
  share === 1 ? step : { ...step, shift: scale(step.shift, share), angle: step.angle * share }

/** A shift's pivot does not matter; it is given as where the part's middle is. */
export const moveOf = ({ shift, axis, pivot, angle }: Step, pose: Pose): Move => ({
  shift,
  pivot: angle === 0 ? pose.at : placed(pose, pivot),
  axis,
  angle,
})

export const motionOf = (step: Step, pose: Pose): Motion => new Motion(pose, moveOf(step, pose))
export const after = (pose: Pose, step: Step): Pose => poseAt(pose, moveOf(step, pose), 1)

/** mm for a shift, degrees for a turn: whether there is anything to it. */
export const isSomething = (step: Step, leastShift: number, leastTurn: number): boolean =>
  length(step.shift) >= leastShift || Math.abs(step.angle) >= leastTurn

/** Poses between the steps, the first one included. */
export function posesAlong(from: Pose, steps: readonly Step[]): Pose[] {
  const poses = [from]
  for (const step of steps) poses.push(after(poses[poses.length - 1], step))
  return poses
}

export function movesAlong(from: Pose, steps: readonly Step[]): Move[] {
  const poses = posesAlong(from, steps)
  return steps.map((step, i) => moveOf(step, poses[i]))
}

export function motionsAlong(from: Pose, steps: readonly Step[]): Motion[] {
  const poses = posesAlong(from, steps)
  return steps.map((step, i) => motionOf(step, poses[i]))
}
