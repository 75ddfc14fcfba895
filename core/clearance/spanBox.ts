import { onDisc, spanEnd, touchSize, tubeSupport } from './tubeDiscs.ts'
import { spanStride, type TubeSpans } from './tubeSpans.ts'

const disc = new Float64Array(touchSize)
const far = new Float64Array(touchSize)

/**
 * Lower bound of the distance between a span's tube and an axis-aligned box, mm; may be negative. Never above the true one.
 * First the plane square to the nearest difference of the span's segment and the box (found within two steps to and fro;
 * any direction bounds, a good one bounds well). Where the segment's end is nearest, its half-ball would let in all that
 * lies before a flat end: there the plane square to the nearest difference from the end disc is tried too.
 * @param limit a bound of at least this ends the search for a better one
 */
export function spanBoxBound(
  tube: TubeSpans,
  span: number,
  minX: number,
  minY: number,
  minZ: number,
  maxX: number,
  maxY: number,
  maxZ: number,
  limit: number,
): number {
  const { spans } = tube
  const s = spanStride * span
  const ax = spans[s]
  const ay = spans[s + 1]
  const az = spans[s + 2]
  const vx = spans[s + 3] - ax
  const vy = spans[s + 4] - ay
  const vz = spans[s + 5] - az
  const vv = vx * vx + vy * vy + vz * vz
  const perLength = vv > 0 ? 1 / vv : 0
  let x = 0.5 * (minX + maxX)
  let y = 0.5 * (minY + maxY)
  let z = 0.5 * (minZ + maxZ)
  let at = 0
  let bound = -Infinity
  for (let round = 0; round < 3; round++) {
    const t = ((x - ax) * vx + (y - ay) * vy + (z - az) * vz) * perLength
    at = t > 0 ? Math.min(t, 1) : 0
    const wx = ax + at * vx
    const wy = ay + at * vy
    const wz = az + at * vz
    x = wx < minX ? minX : Math.min(wx, maxX)
    y = wy < minY ? minY : Math.min(wy, maxY)
    z = wz < minZ ? minZ : Math.min(wz, maxZ)
    const ex = x - wx
    const ey = y - wy
    const ez = z - wz
    const l = Math.sqrt(ex * ex + ey * ey + ez * ez)
    if (!(l > 0)) break
    // x, y, z is the box's first point along e; the segment's last is one of its ends.
    const turn = ex * vx + ey * vy + ez * vz
    const b = l - (turn > 0 ? (1 - at) * turn : -at * turn) / l - spans[s + 6]
    if (b > bound) bound = b
    if (bound >= limit) return bound
  }
  if (at > 0 && at < 1 && bound > -Infinity) return bound
  if (at === 0 || at === 1) {
    const b = endBoxBound(tube, span, at, x, y, z, minX, minY, minZ, maxX, maxY, maxZ)
    if (b > bound) bound = b
  }
  return bound > -Infinity ? bound : -spans[s + 6]
}

function endBoxBound(
  tube: TubeSpans,
  span: number,
  end: 0 | 1,
  x: number,
  y: number,
  z: number,
  minX: number,
  minY: number,
  minZ: number,
  maxX: number,
  maxY: number,
  maxZ: number,
): number {
  spanEnd(tube, span, end, disc)
  if ((x - disc[3]) * disc[6] + (y - disc[4]) * disc[7] + (z - disc[5]) * disc[8] <= 0) return -Infinity
  let bound = -Infinity
  for (let round = 0; round < 2; round++) {
    const l = onDisc(tube.radius, x, y, z, disc)
    if (!(l > 0)) return bound
    const ex = (x - disc[0]) / l
    const ey = (y - disc[1]) / l
    const ez = (z - disc[2]) / l
    const near = ex * (ex > 0 ? minX : maxX) + ey * (ey > 0 ? minY : maxY) + ez * (ez > 0 ? minZ : maxZ)
    const b = near - tubeSupport(tube, span, ex, ey, ez, far)
    if (b > bound) bound = b
    x = disc[0] < minX ? minX : Math.min(disc[0], maxX)
    y = disc[1] < minY ? minY : Math.min(disc[1], maxY)
    z = disc[2] < minZ ? minZ : Math.min(disc[2], maxZ)
  }
  return bound
}
