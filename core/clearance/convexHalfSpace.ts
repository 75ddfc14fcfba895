import { along, dot, sub, type Vec3 } from '../shape/vec.ts'
import { epsilon } from './nearest.ts'
import type { PairClearance } from './pair.ts'
import { BodySet, supportOf } from './support.ts'

/**
 * Gap or depth of a convex solid and a half-space, closed form: height of the lowest point over the plane.
 * @param part    polytope or cylinder, mm
 * @param keepOut half-space in the same frame
 * @returns bounds in mm; the depth is exact, its direction the plane's normal: no shorter way leads out of a half-space
 * Error: 40 units in the last place of the largest coordinate. Lying flat on the plane touches, depth 0.
 * Of several lowest points one is named; gap and depth are continuous in the pose.
 */
export const convexHalfSpace: PairClearance<'convex', 'halfSpace'> = (part, keepOut, options) => {
  const set = room.of(part.body)
  const { normal, point } = keepOut
  const lowest = new Float64Array(3)
  supportOf(set, -normal[0], -normal[1], -normal[2], lowest, 0)
  const onPart: Vec3 = [lowest[0], lowest[1], lowest[2]]
  const from = sub(onPart, point)
  const height = dot(normal, from)
  // Term by term: a point of the plane that lies far off along it costs digits only where the plane is tilted.
  const terms = Math.abs(normal[0] * from[0]) + Math.abs(normal[1] * from[1]) + Math.abs(normal[2] * from[2])
  const slack = 32 * epsilon * set.reach + 8 * epsilon * terms
  const onKeepOut = along(onPart, normal, -height)
  if (height > 0)
    return { atLeast: Math.max(0, height - slack), atMost: height, onPart, onKeepOut, stopped: 'converged' }
  const depthAtLeast = Math.max(0, -height - slack)
  return {
    atLeast: 0,
    atMost: 0,
    onPart,
    onKeepOut,
    stopped: 'converged',
    overlap:
      options.depth === false
        ? { kind: 'atLeast', depthAtLeast }
        : { kind: 'exact', depthAtLeast, depthAtMost: slack - height, direction: normal },
  }
}

// Room for one call, which does not call itself: no state survives it.
const room = new BodySet()
