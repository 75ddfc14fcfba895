import type { Vec3 } from '../shape/vec.ts'
import { onDisc, spanEnd, touch, touchSize } from './tubeDiscs.ts'
import type { TubeSpans } from './tubeSpans.ts'

/**
 * Radius of a ball about y that lies in the tube, mm; where y is outside, minus a distance within which the tube has a
 * point. Rounded to the safe side.
 *
 * Why it holds, with d = distance of y from the centreline, r the radius: every point x of the ball of radius ρ ≤ r − d
 * is within r of the centreline. If the centreline's point nearest to x is not an end, the line to it is square to the
 * (continuous) tangent, so x is in that disc. If it is an end, x is in its disc or in the open half-ball beyond it. So
 * the ball lies in the tube as soon as it keeps off both half-balls: ρ = min(r − d, distance to either half-ball).
 * At inner joints nothing is taken away: what sticks out of one piece there lies in the next, or beyond an end.
 */
export function roomInTube(tube: TubeSpans, y: Vec3): number {
  const out = new Float64Array(touchSize)
  let nearest = Infinity
  let outside = Infinity
  for (let span = 0; span < tube.pieces; span++) {
    outside = Math.min(outside, touch(tube, span, y[0], y[1], y[2], out))
    nearest = Math.min(nearest, Math.hypot(y[0] - out[3], y[1] - out[4], y[2] - out[5]))
  }
  if (outside > 0) return -outside - tube.rounding
  const room = Math.min(tube.radius - nearest, toHalfBall(tube, 0, y, out), toHalfBall(tube, 1, y, out))
  return Math.max(0, room - tube.rounding)
}

/** Distance of y to the half-ball beyond the first (0) or the last (1) end disc. */
function toHalfBall(tube: TubeSpans, end: 0 | 1, y: Vec3, out: Float64Array): number {
  spanEnd(tube, end === 0 ? 0 : tube.pieces - 1, end, out)
  const toDisc = onDisc(tube.radius, y[0], y[1], y[2], out)
  const x = y[0] - out[3]
  const q = y[1] - out[4]
  const z = y[2] - out[5]
  const ahead = x * out[6] + q * out[7] + z * out[8]
  return ahead > 0 ? Math.max(0, Math.sqrt(x * x + q * q + z * z) - tube.radius) : toDisc
}
