import { dot } from '../../shape/vec.ts'
import { type Frame, joinedFrame, views } from '../drawing/view.ts'

/** Where views stand beside each other (ISO 5456-2). */
export type Projection = 'first-angle' | 'third-angle'

export interface ThreeFrames {
  readonly front: Frame
  readonly side: Frame
  readonly plan: Frame
}

/** Which column and row each view stands in, from the left and from above. */
export interface Cells {
  readonly front: readonly [column: 0 | 1, row: 0 | 1]
  readonly side: readonly [column: 0 | 1, row: 0 | 1]
  readonly plan: readonly [column: 0 | 1, row: 0 | 1]
}

/**
 * Third angle: each view stands on the side that it is seen from; first angle: on the other one. Source: ISO 5456-2, 5.2
 * and 5.3, from memory. Seen from the front, the car's left is on the right.
 */
export function cellsFor(projection: Projection): Cells {
  const { front, side, plan } = views
  const own = projection === 'third-angle' ? 1 : -1
  const sideRight = own * dot(side.eye, front.right) > 0
  const planAbove = own * dot(plan.eye, front.up) > 0
  const column = sideRight ? 0 : 1
  const row = planAbove ? 1 : 0
  return {
    front: [column, row],
    side: [column === 0 ? 1 : 0, row],
    plan: [column, row === 0 ? 1 : 0],
  }
}

/** Frames that agree in height, width and depth, so that views stand in line with each other. */
export function alignedFrames({ front, side, plan }: ThreeFrames): ThreeFrames {
  const across = joinedFrame(front, plan)
  const up = joinedFrame(front, side)
  // Depth runs to the right from the side and up from above.
  const depth = [Math.min(side.min[0], plan.min[1]), Math.max(side.max[0], plan.max[1])] as const
  return {
    front: { min: [across.min[0], up.min[1]], max: [across.max[0], up.max[1]] },
    side: { min: [depth[0], up.min[1]], max: [depth[1], up.max[1]] },
    plan: { min: [across.min[0], depth[0]], max: [across.max[0], depth[1]] },
  }
}
