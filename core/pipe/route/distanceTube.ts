import { convexDistance } from '../../clearance/gjk.ts'
import { emptyNearest } from '../../clearance/nearest.ts'
import { segmentSegment, segmentTriangleSize } from '../../clearance/segmentTriangle.ts'
import { type ConvexSet, emptySet, setDiscFrame, setSegment } from '../../clearance/support.ts'
import { touch, touchSize } from '../../clearance/tubeDiscs.ts'
import { spanStride } from '../../clearance/tubeSpans.ts'
import { apart, type Contact, place, type Segment } from './contact.ts'
import type { TubeBody } from './distanceBodies.ts'

// Private to one call of `segmentToTube`, which calls nothing back.
const probe: ConvexSet = emptySet()
const rod: ConvexSet = emptySet()
const nearest = emptyNearest()
const onSpan = new Float64Array(segmentTriangleSize)
const at = new Float64Array(touchSize)

/**
 * Against the segment of each span, which its line keeps to within the span's slack. What is nearest to a straight's
 * inside is exact so; its flat ends are left to the convex kernel. Of a bend, the segment's point is held against the arc.
 */
export function segmentToTube(body: TubeBody, s: Segment, limit: number, out: Contact): boolean {
  const { tube, spans, slack } = body
  let best = limit
  let atLeast = Infinity
  for (const span of spans) {
    const o = spanStride * span
    const { spans: n } = tube
    const squared = segmentSegment(
      s.ax,
      s.ay,
      s.az,
      s.bx,
      s.by,
      s.bz,
      n[o],
      n[o + 1],
      n[o + 2],
      n[o + 3],
      n[o + 4],
      n[o + 5],
      onSpan,
    )
    const least = Math.sqrt(squared) - n[o + 6] - slack
    if (least >= best) continue
    if (least < atLeast) atLeast = least
    if (tube.isStraight(span) && least > 0) {
      const found = toStraight(body, span, s, best, out)
      if (found) best = out.distance
      continue
    }
    const share = onSpan[0]
    const x = s.ax + share * (s.bx - s.ax)
    const y = s.ay + share * (s.by - s.ay)
    const z = s.az + share * (s.bz - s.az)
    const d = touch(tube, span, x, y, z, at)
    const line = Math.hypot(x - at[3], y - at[4], z - at[5])
    const signed = d > 0 ? d : line - tube.radius
    if (signed >= best) continue
    best = signed
    const from = d > 0 ? 0 : 3
    const l = d > 0 ? d : line
    const scale = l > 0 ? 1 / l : 0
    const nz = l > 0 ? scale * (z - at[from + 2]) : 1
    place(s, share, signed, scale * (x - at[from]), scale * (y - at[from + 1]), nz, out)
  }
  if (best >= limit) return false
  out.atLeast = Math.max(0, Math.min(atLeast, best))
  return true
}

function toStraight({ tube }: TubeBody, span: number, s: Segment, limit: number, out: Contact): boolean {
  const o = spanStride * span
  const { spans: n } = tube
  setSegment(rod, n[o], n[o + 1], n[o + 2], n[o + 3], n[o + 4], n[o + 5])
  setDiscFrame(rod, tube.radius, n[o + 3] - n[o], n[o + 4] - n[o + 1], n[o + 5] - n[o + 2])
  setSegment(probe, s.ax, s.ay, s.az, s.bx, s.by, s.bz)
  convexDistance(probe, rod, limit, nearest)
  if (nearest.stopped === 'upTo' || nearest.atMost >= limit || !(nearest.atMost > 0)) return false
  const { ax, ay, az, bx, by, bz, atMost } = nearest
  apart(out, s, atMost, nearest.atLeast, ax, ay, az, bx, by, bz)
  return true
}
