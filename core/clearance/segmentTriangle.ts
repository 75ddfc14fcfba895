/** Nearest points found by `segmentTriangle`: share 0 … 1 of the segment (0), point of the triangle (1–3). */
export const segmentTriangleSize = 4

// Private to one call: where the best pair so far is.
let best = 0
let share = 0
let qx = 0
let qy = 0
let qz = 0

/**
 * Squared distance of a segment a–b and a triangle, mm², with the nearest points.
 * @param t     nine coordinates of the triangle's corners
 * @param limit a distance, mm: if the segment is certainly farther from the triangle's plane, Infinity is returned at once
 * @param out   receives the share and the triangle's point; left as it was with Infinity
 * Equal ends make the segment a point. A triangle without area is treated as its three edges.
 * Error: a few units in the last place of the coordinates (on a sliver the point itself may lie beside it by its height
 * over it times ε · length / width, square to the way there: the distance does not feel it); near-parallel edges lose nothing, since the crossing is solved
 * with the cross product of the directions and not with a difference of products.
 * Method: where the end nearer to the plane stands over the triangle that is it; else an edge is nearest, and of two
 * segments either an end is, or the crossing. Source: common practice, no source.
 */
export function segmentTriangle(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  t: Float64Array,
  limit: number,
  out: Float64Array,
): number {
  const ux = t[3] - t[0]
  const uy = t[4] - t[1]
  const uz = t[5] - t[2]
  const vx = t[6] - t[0]
  const vy = t[7] - t[1]
  const vz = t[8] - t[2]
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const nn = nx * nx + ny * ny + nz * nz
  const ha = nx * (ax - t[0]) + ny * (ay - t[1]) + nz * (az - t[2])
  const hb = nx * (bx - t[0]) + ny * (by - t[1]) + nz * (bz - t[2])
  const isCrossing = (ha <= 0 && hb >= 0) || (ha >= 0 && hb <= 0)
  const least = isCrossing ? 0 : Math.min(Math.abs(ha), Math.abs(hb))
  if (least * least > limit * limit * nn * (1 + 1e-9)) return Infinity
  if (nn > 0) {
    const s = isCrossing ? (ha === hb ? 0 : ha / (ha - hb)) : Math.abs(ha) <= Math.abs(hb) ? 0 : 1
    // The foot: on the plane, under the crossing or the lower end.
    const h = isCrossing ? 0 : (s === 0 ? ha : hb) / nn
    const x = ax + s * (bx - ax) - h * nx
    const y = ay + s * (by - ay) - h * ny
    const z = az + s * (bz - az) - h * nz
    if (isOver(x, y, z, nx, ny, nz, t)) {
      out[0] = s
      out[1] = x
      out[2] = y
      out[3] = z
      return h * h * nn
    }
  }
  best = Infinity
  edge(ax, ay, az, bx, by, bz, t[0], t[1], t[2], t[3], t[4], t[5])
  edge(ax, ay, az, bx, by, bz, t[3], t[4], t[5], t[6], t[7], t[8])
  edge(ax, ay, az, bx, by, bz, t[6], t[7], t[8], t[0], t[1], t[2])
  out[0] = share
  out[1] = qx
  out[2] = qy
  out[3] = qz
  return best
}

/**
 * Squared distance of two segments a–b and c–d, mm², with the share of the first (out[0]) and the point of the second
 * (out[1…3]) that are nearest. Equal ends make a segment a point. Error and method as above.
 */
export function segmentSegment(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  cx: number,
  cy: number,
  cz: number,
  dx: number,
  dy: number,
  dz: number,
  out: Float64Array,
): number {
  best = Infinity
  edge(ax, ay, az, bx, by, bz, cx, cy, cz, dx, dy, dz)
  const ux = bx - ax
  const uy = by - ay
  const uz = bz - az
  const uu = ux * ux + uy * uy + uz * uz
  const on = uu > 0 ? ((dx - ax) * ux + (dy - ay) * uy + (dz - az) * uz) / uu : 0
  offer(Math.min(Math.max(on, 0), 1), ax, ay, az, ux, uy, uz, dx, dy, dz)
  out[0] = share
  out[1] = qx
  out[2] = qy
  out[3] = qz
  return best
}

function isOver(x: number, y: number, z: number, nx: number, ny: number, nz: number, t: Float64Array): boolean {
  for (let i = 0; i < 9; i += 3) {
    const j = i === 6 ? 0 : i + 3
    const ex = t[j] - t[i]
    const ey = t[j + 1] - t[i + 1]
    const ez = t[j + 2] - t[i + 2]
    const gx = x - t[i]
    const gy = y - t[i + 1]
    const gz = z - t[i + 2]
    if (nx * (ey * gz - ez * gy) + ny * (ez * gx - ex * gz) + nz * (ex * gy - ey * gx) < 0) return false
  }
  return true
}

/** Segment a–b against one edge c–d: its crossing, or ends of either. The edge's end d is the next edge's c. */
function edge(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  cx: number,
  cy: number,
  cz: number,
  dx: number,
  dy: number,
  dz: number,
): void {
  const ux = bx - ax
  const uy = by - ay
  const uz = bz - az
  const vx = dx - cx
  const vy = dy - cy
  const vz = dz - cz
  const rx = cx - ax
  const ry = cy - ay
  const rz = cz - az
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const nn = nx * nx + ny * ny + nz * nz
  if (nn > 0) {
    const s = ((ry * vz - rz * vy) * nx + (rz * vx - rx * vz) * ny + (rx * vy - ry * vx) * nz) / nn
    const t = ((ry * uz - rz * uy) * nx + (rz * ux - rx * uz) * ny + (rx * uy - ry * ux) * nz) / nn
    // Inside both, the crossing is nearer than all ends.
    if (s >= 0 && s <= 1 && t >= 0 && t <= 1) {
      offer(s, ax, ay, az, ux, uy, uz, cx + t * vx, cy + t * vy, cz + t * vz)
      return
    }
  }
  const uu = ux * ux + uy * uy + uz * uz
  const vv = vx * vx + vy * vy + vz * vz
  const onU = uu > 0 ? (rx * ux + ry * uy + rz * uz) / uu : 0
  offer(onU > 0 ? Math.min(onU, 1) : 0, ax, ay, az, ux, uy, uz, cx, cy, cz)
  if (!(vv > 0)) return
  let onV = -(rx * vx + ry * vy + rz * vz) / vv
  if (onV > 0) {
    if (onV > 1) onV = 1
    offer(0, ax, ay, az, ux, uy, uz, cx + onV * vx, cy + onV * vy, cz + onV * vz)
  }
  onV = ((ux - rx) * vx + (uy - ry) * vy + (uz - rz) * vz) / vv
  if (onV > 0) {
    if (onV > 1) onV = 1
    offer(1, ax, ay, az, ux, uy, uz, cx + onV * vx, cy + onV * vy, cz + onV * vz)
  }
}

function offer(
  s: number,
  ax: number,
  ay: number,
  az: number,
  ux: number,
  uy: number,
  uz: number,
  x: number,
  y: number,
  z: number,
): void {
  const gx = ax + s * ux - x
  const gy = ay + s * uy - y
  const gz = az + s * uz - z
  const d = gx * gx + gy * gy + gz * gz
  if (d >= best) return
  best = d
  share = s
  qx = x
  qy = y
  qz = z
}
