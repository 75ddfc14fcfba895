import type { HalfSpaceForm, RoundForm } from '../shape/form.ts'
import { along, dot, sub, type Vec3 } from '../shape/vec.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { epsilon } from './nearest.ts'
import { tubeSupport, touchSize } from './tubeDiscs.ts'
import { TubeSpans } from './tubeSpans.ts'

/**
 * Gap between a round sweep and a half-space, in closed form: the sweep's lowest point over the plane.
 * @param part    round sweep, mm
 * @param keepOut half-space in the same frame; solid where the unit normal points away from
 * @returns bounds in mm; below the plane the overlap's depth is exact: the shortest way out of a half-space is along its
 *          normal, by as much as the lowest point lies under the plane
 * Error: 128 units in the last place of the largest coordinate. A sweep lying flat on the plane touches: depth 0.
 * Of several lowest points (a straight parallel to the plane) one end is named; the gap is continuous in the pose.
 * Source: derived; the reach of an arc's discs along a direction is in `farthestDisc`.
 */
export function roundHalfSpace(part: RoundForm, keepOut: HalfSpaceForm, options: ClearanceOptions): Clearance {
  const tube = new TubeSpans(part)
  const { normal, point } = keepOut
  const out = new Float64Array(touchSize)
  let height = Infinity
  let onPart: Vec3 = [0, 0, 0]
  for (let span = 0; span < tube.pieces; span++) {
    tubeSupport(tube, span, -normal[0], -normal[1], -normal[2], out)
    const p: Vec3 = [out[0], out[1], out[2]]
    // Measured from the plane's own point, and not as a difference of two long projections.
    const h = dot(sub(p, point), normal)
    if (h < height) {
      height = h
      onPart = p
    }
  }
  const slack = 4 * tube.rounding + 64 * epsilon * Math.max(...point.map(Math.abs))
  if (height > 0) {
    return {
      atLeast: Math.max(0, height - slack),
      atMost: height,
      onPart,
      onKeepOut: along(onPart, normal, -height),
      stopped: 'converged',
    }
  }
  const depth = -height
  return {
    atLeast: 0,
    atMost: 0,
    onPart,
    onKeepOut: onPart,
    stopped: 'converged',
    overlap:
      options.depth === false
        ? { kind: 'atLeast', depthAtLeast: 0 }
        : {
            kind: 'exact',
            depthAtLeast: Math.max(0, depth - slack),
            depthAtMost: depth + slack,
            direction: [normal[0], normal[1], normal[2]],
          },
  }
}
