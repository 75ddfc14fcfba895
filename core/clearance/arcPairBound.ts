import { epsilon } from './nearest.ts'
import { spanStride, type TubeSpans } from './tubeSpans.ts'

/**
 * Lower bound of the distance between the centrelines of two arc spans, mm, to third order in the spans' angles.
 *
 * The squared distance of two points on two circles, turned by σ and τ from the spans' middles, is a constant plus a
 * sine and a cosine of each of σ, τ, σ − τ, σ + τ. Its quadratic part is minimised exactly over both spans; what is left
 * out is bounded by |x|³/6 for a sine, x⁴/24 for a cosine with a negative factor, and 0 from below for a positive one.
 * Concentric bends depend on σ − τ alone: there the bound closes early, where chords and their rise need thousands of spans.
 * Source: derived.
 */
export function arcPairBound(a: TubeSpans, i: number, b: TubeSpans, j: number): number {
  middleOf(a, i, first)
  middleOf(b, j, second)
  const alpha = first[12]
  const beta = second[12]
  const R1 = first[13]
  const R2 = second[13]
  let square = 0
  let size = R1 + R2
  for (let k = 0; k < 3; k++) {
    apart[k] = first[k] - second[k]
    square += (first[k] + R1 * first[3 + k] - second[k] - R2 * second[3 + k]) ** 2
    size += Math.abs(first[k]) + Math.abs(second[k])
  }
  const m = -R1 * R2
  const nn = m * dotAt(first, 3, second, 3)
  const nt = m * dotAt(first, 3, second, 6)
  const tn = m * dotAt(first, 6, second, 3)
  const tt = m * dotAt(first, 6, second, 6)
  const c1 = 2 * R1 * dotAt(apart, 0, first, 3)
  const s1 = 2 * R1 * dotAt(apart, 0, first, 6)
  const c2 = -2 * R2 * dotAt(apart, 0, second, 3)
  const s2 = -2 * R2 * dotAt(apart, 0, second, 6)
  const c3 = nn + tt
  const s3 = tn - nt
  const c4 = nn - tt
  const s4 = nt + tn
  const both = alpha + beta
  const quadratic = leastInBox(s1 + s3 + s4, s2 - s3 + s4, -(c1 + c3 + c4), c3 - c4, -(c2 + c3 + c4), alpha, beta)
  const left = leftOut(c1, s1, alpha) + leftOut(c2, s2, beta) + leftOut(c3, s3, both) + leftOut(c4, s4, both)
  // Each wave by itself: exact where only one of them is there, as for bends that are truly concentric.
  const still = square - c1 - c2 - c3 - c4
  const waves =
    leastOfWave(c1, s1, alpha) + leastOfWave(c2, s2, beta) + leastOfWave(c3, s3, both) + leastOfWave(c4, s4, both)
  const rounding = 64 * epsilon * size * size
  const least = Math.max(square + quadratic - left, still + waves) - rounding
  return least > 0 ? Math.sqrt(least) : 0
}

const first = new Float64Array(14)
const second = new Float64Array(14)
const apart = new Float64Array(3)

const dotAt = (p: Float64Array, i: number, q: Float64Array, j: number): number =>
  p[i] * q[j] + p[i + 1] * q[j + 1] + p[i + 2] * q[j + 2]

/** Centre (0–2), outward direction (3–5) and tangent (6–8) at the span's middle, half its angle (12), radius (13). */
function middleOf(tube: TubeSpans, span: number, out: Float64Array): void {
  const { spans, frames } = tube
  const f = tube.frameOf(span)
  const s = spanStride * span
  const dx = spans[s + 10] - spans[s + 8]
  const dy = spans[s + 11] - spans[s + 9]
  const half = Math.min(1, 0.5 * Math.sqrt(dx * dx + dy * dy))
  // The middle is square to the chord, on the side of the arc: right for half turns too, where the sum of the ends vanishes.
  const l = half > 0 ? 2 * half : 1
  const x = half > 0 ? dy / l : spans[s + 8]
  const y = half > 0 ? -dx / l : spans[s + 9]
  for (let k = 0; k < 3; k++) {
    const ex = frames[f + 3 + k]
    const ey = frames[f + 6 + k]
    out[k] = frames[f + k]
    out[3 + k] = x * ex + y * ey
    out[6 + k] = x * ey - y * ex
  }
  out[12] = Math.asin(half) * (1 + 8 * epsilon)
  out[13] = frames[f + 12]
}

/** Least of cosine·cos t + sine·sin t over |t| ≤ x. */
function leastOfWave(cosine: number, sine: number, x: number): number {
  if (Math.abs(Math.atan2(-sine, -cosine)) <= x) return -Math.sqrt(cosine * cosine + sine * sine)
  return cosine * Math.cos(x) - Math.abs(sine) * Math.sin(x)
}

function leftOut(cosine: number, sine: number, x: number): number {
  const x3 = x * x * x
  return (Math.abs(sine) * x3) / 6 + (cosine < 0 ? (-cosine * x3 * x) / 24 : 0)
}

/** Least of gx·x + gy·y + ½(xx·x² + 2·xy·x·y + yy·y²) over |x| ≤ a, |y| ≤ b. */
function leastInBox(gx: number, gy: number, xx: number, xy: number, yy: number, a: number, b: number): number {
  let least = 0
  const det = xx * yy - xy * xy
  if (xx > 0 && det > 0) {
    const x = (xy * gy - yy * gx) / det
    const y = (xy * gx - xx * gy) / det
    if (Math.abs(x) <= a && Math.abs(y) <= b) return 0.5 * (gx * x + gy * y)
  }
  for (const sign of [-1, 1]) {
    const x = sign * a
    least = Math.min(least, gx * x + 0.5 * xx * x * x + leastOnEdge(gy + xy * x, yy, b))
    const y = sign * b
    least = Math.min(least, gy * y + 0.5 * yy * y * y + leastOnEdge(gx + xy * y, xx, a))
  }
  return least
}

function leastOnEdge(g: number, h: number, a: number): number {
  if (h > 0 && Math.abs(g) <= h * a) return (-0.5 * g * g) / h
  return -Math.abs(g) * a + 0.5 * h * a * a
}
