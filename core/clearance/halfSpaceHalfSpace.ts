import { add, along, dot, length, scale, sub, unit } from '../shape/vec.ts'
import { epsilon } from './nearest.ts'
import type { PairClearance } from './pair.ts'

/**
 * Gap or depth of two half-spaces, closed form. Opposite normals (to rounding): the planes' distance. Any other two meet
 * somewhere, however far away, and no shift parts them: contact with a depth of at least Infinity, no direction.
 * @returns bounds in mm
 * Error: 32 units in the last place of the largest coordinate of the two points.
 */
export const halfSpaceHalfSpace: PairClearance<'halfSpace', 'halfSpace'> = (part, keepOut) => {
  const n = part.normal
  const m = keepOut.normal
  const tilt = add(n, m)
  if (length(tilt) > 8 * epsilon) {
    // Down between the two planes until both are passed.
    const down = scale(unit(tilt), -1)
    const fall = Math.max(0, dot(m, sub(part.point, keepOut.point)) / -dot(m, down))
    const common = along(part.point, down, fall)
    const overlap = { kind: 'atLeast', depthAtLeast: Infinity } as const
    return { atLeast: 0, atMost: 0, onPart: common, onKeepOut: common, stopped: 'converged', overlap }
  }
  const height = dot(n, sub(keepOut.point, part.point))
  const largest = Math.max(...part.point.map(Math.abs), ...keepOut.point.map(Math.abs))
  const slack = 32 * epsilon * largest
  const onPart = part.point
  const onKeepOut = along(onPart, n, height)
  if (height > 0)
    return { atLeast: Math.max(0, height - slack), atMost: height, onPart, onKeepOut, stopped: 'converged' }
  return {
    atLeast: 0,
    atMost: 0,
    onPart,
    onKeepOut,
    stopped: 'converged',
    overlap: { kind: 'exact', depthAtLeast: Math.max(0, -height - slack), depthAtMost: slack - height, direction: m },
  }
}
