import { spanStride, type TubeSpans } from './tubeSpans.ts'

/**
 * Where a point meets a span's tube. Written by `touch`: nearest point (0–2), centre (3–5) and unit normal (6–8) of the
 * disc it is on, and the side (9): 0 the point lies between the planes of the span's two end discs, +1 ahead of the
 * last, −1 behind the first.
 */
export const touchSize = 10

/**
 * Point of one disc of a span's tube that is nearest to q: the disc through q's own half-plane where there is one,
 * else the end disc on q's side. A real point of the solid, so its distance is an upper bound whatever else holds.
 * @returns distance of q to it, mm; 0 where q is in that disc
 */
export function touch(tube: TubeSpans, span: number, qx: number, qy: number, qz: number, out: Float64Array): number {
  const f = tube.frameOf(span)
  if (tube.frames[f + 12] > 0) discOfArc(tube, spanStride * span, f, qx, qy, qz, out)
  else discOfStraight(tube, spanStride * span, f, qx, qy, qz, out)
  const distance = onDisc(tube.radius, qx, qy, qz, out)
  if (out[9] !== 0) return distance
  // q lies in the disc's plane by construction: what is found along the normal is rounding, and would hide a contact.
  const beyond = Math.hypot(qx - out[3], qy - out[4], qz - out[5]) - tube.radius
  return Math.max(beyond, 0)
}

function discOfStraight(
  tube: TubeSpans,
  s: number,
  f: number,
  qx: number,
  qy: number,
  qz: number,
  out: Float64Array,
): void {
  const { spans, frames } = tube
  const tx = frames[f + 3]
  const ty = frames[f + 4]
  const tz = frames[f + 5]
  out[6] = tx
  out[7] = ty
  out[8] = tz
  const length =
    (spans[s + 3] - spans[s]) * tx + (spans[s + 4] - spans[s + 1]) * ty + (spans[s + 5] - spans[s + 2]) * tz
  const h = (qx - spans[s]) * tx + (qy - spans[s + 1]) * ty + (qz - spans[s + 2]) * tz
  if (h >= length) {
    out[3] = spans[s + 3]
    out[4] = spans[s + 4]
    out[5] = spans[s + 5]
    out[9] = h > length ? 1 : 0
    return
  }
  const at = Math.max(h, 0)
  out[3] = spans[s] + at * tx
  out[4] = spans[s + 1] + at * ty
  out[5] = spans[s + 2] + at * tz
  out[9] = h < 0 ? -1 : 0
}

function discOfArc(tube: TubeSpans, s: number, f: number, qx: number, qy: number, qz: number, out: Float64Array): void {
  const { spans, frames } = tube
  const gx = qx - frames[f]
  const gy = qy - frames[f + 1]
  const gz = qz - frames[f + 2]
  let x = gx * frames[f + 3] + gy * frames[f + 4] + gz * frames[f + 5]
  let y = gx * frames[f + 6] + gy * frames[f + 7] + gz * frames[f + 8]
  const ux = spans[s + 8]
  const uy = spans[s + 9]
  const wx = spans[s + 10]
  const wy = spans[s + 11]
  const l = Math.sqrt(x * x + y * y)
  if (l > 0 && ux * y - uy * x >= 0 && x * wy - y * wx >= 0) {
    x /= l
    y /= l
    out[9] = 0
  } else if (x * wx + y * wy >= x * ux + y * uy) {
    out[9] = l > 0 ? 1 : 0
    x = wx
    y = wy
  } else {
    out[9] = -1
    x = ux
    y = uy
  }
  const R = frames[f + 12]
  for (let k = 0; k < 3; k++) {
    const ex = frames[f + 3 + k]
    const ey = frames[f + 6 + k]
    out[3 + k] = frames[f + k] + R * (x * ex + y * ey)
    out[6 + k] = x * ey - y * ex
  }
}

/** Point of the disc at out[3…8] nearest to q, into out[0…2]. */
export function onDisc(radius: number, qx: number, qy: number, qz: number, out: Float64Array): number {
  const gx = qx - out[3]
  const gy = qy - out[4]
  const gz = qz - out[5]
  const h = gx * out[6] + gy * out[7] + gz * out[8]
  const x = gx - h * out[6]
  const y = gy - h * out[7]
  const z = gz - h * out[8]
  const l = Math.sqrt(x * x + y * y + z * z)
  const share = l > radius ? radius / l : 1
  out[0] = out[3] + share * x
  out[1] = out[4] + share * y
  out[2] = out[5] + share * z
  const beyond = l > radius ? l - radius : 0
  return Math.sqrt(h * h + beyond * beyond)
}

/**
 * Writes the disc of a span that reaches farthest along (ex, ey, ez): centre to out[3…5], normal to out[6…8].
 * Along an arc the reach R p cos ψ + r √(1 − p² sin² ψ), with ψ the turn from the direction's own half-plane and p its
 * share in the arc's plane, falls as |ψ| grows up to 180° wherever R ≥ r: so the nearest direction of the span is it.
 */
export function farthestDisc(
  tube: TubeSpans,
  span: number,
  ex: number,
  ey: number,
  ez: number,
  out: Float64Array,
): void {
  const f = tube.frameOf(span)
  const s = spanStride * span
  const { spans, frames } = tube
  const R = frames[f + 12]
  if (R === 0) {
    const k =
      ex * (spans[s + 3] - spans[s]) + ey * (spans[s + 4] - spans[s + 1]) + ez * (spans[s + 5] - spans[s + 2]) > 0
        ? 3
        : 0
    for (let i = 0; i < 3; i++) {
      out[3 + i] = spans[s + k + i]
      out[6 + i] = frames[f + 3 + i]
    }
    return
  }
  let x = ex * frames[f + 3] + ey * frames[f + 4] + ez * frames[f + 5]
  let y = ex * frames[f + 6] + ey * frames[f + 7] + ez * frames[f + 8]
  const ux = spans[s + 8]
  const uy = spans[s + 9]
  const wx = spans[s + 10]
  const wy = spans[s + 11]
  const l = Math.sqrt(x * x + y * y)
  if (l > 0 && ux * y - uy * x >= 0 && x * wy - y * wx >= 0) {
    x /= l
    y /= l
  } else if (x * wx + y * wy >= x * ux + y * uy) {
    x = wx
    y = wy
  } else {
    x = ux
    y = uy
  }
  for (let k = 0; k < 3; k++) {
    const px = frames[f + 3 + k]
    const py = frames[f + 6 + k]
    out[3 + k] = frames[f + k] + R * (x * px + y * py)
    out[6 + k] = x * py - y * px
  }
}

/**
 * Writes the point of a span's tube farthest along a unit direction to out[0…2] (its disc to out[3…8]).
 * @returns its reach along the direction, mm
 */
export function tubeSupport(
  tube: TubeSpans,
  span: number,
  ex: number,
  ey: number,
  ez: number,
  out: Float64Array,
): number {
  farthestDisc(tube, span, ex, ey, ez, out)
  // The part of e square to the normal first: √(1 − (e·t)²) would leave 1e-8 of a radius at an end facing a wall squarely.
  const h = ex * out[6] + ey * out[7] + ez * out[8]
  const x = ex - h * out[6]
  const y = ey - h * out[7]
  const z = ez - h * out[8]
  const l = Math.sqrt(x * x + y * y + z * z)
  if (l > 1e-7) {
    const share = tube.radius / l
    out[0] = out[3] + share * x
    out[1] = out[4] + share * y
    out[2] = out[5] + share * z
  } else {
    // Square to the disc all its points reach as far, and what is left of e is rounding that points out of its plane.
    out[0] = out[3]
    out[1] = out[4]
    out[2] = out[5]
  }
  return ex * out[3] + ey * out[4] + ez * out[5] + tube.radius * l
}

/** Writes the first (0) or last (1) disc of a span: centre to out[3…5], unit normal pointing out of the span to out[6…8]. */
export function spanEnd(tube: TubeSpans, span: number, end: 0 | 1, out: Float64Array): void {
  const { spans, frames } = tube
  const f = tube.frameOf(span)
  const s = spanStride * span
  const sign = end === 0 ? -1 : 1
  const R = frames[f + 12]
  if (R === 0) {
    for (let k = 0; k < 3; k++) {
      out[3 + k] = spans[s + 3 * end + k]
      out[6 + k] = sign * frames[f + 3 + k]
    }
    return
  }
  const x = spans[s + 8 + 2 * end]
  const y = spans[s + 9 + 2 * end]
  for (let k = 0; k < 3; k++) {
    out[3 + k] = frames[f + k] + R * (x * frames[f + 3 + k] + y * frames[f + 6 + k])
    out[6 + k] = sign * (x * frames[f + 6 + k] - y * frames[f + 3 + k])
  }
}
