import type { RoundForm } from '../shape/form.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { arcPairBound } from './arcPairBound.ts'
import { BoundQueue } from './boundQueue.ts'
import { convexConvex } from './convexConvex.ts'
import { convexDistance } from './gjk.ts'
import { emptyNearest, type Nearest } from './nearest.ts'
import { segmentSegment, segmentTriangleSize } from './segmentTriangle.ts'
import { endWidthAfter, widest } from './searchEnd.ts'
import { type ConvexSet, emptySet, setDisc, setDiscFrame, setSegment } from './support.ts'
import { depthAtLeast } from './tubeDepth.ts'
import { touch, touchSize, tubeSupport } from './tubeDiscs.ts'
import { roomInTube } from './tubeRoom.ts'
import { spanStride, spansOf, type TubeSpans } from './tubeSpans.ts'

/** Pairs of spans looked at before the bounds are given as they are. */
const mostPairs = 50_000

/**
 * Gap between two round sweeps with flat ends.
 * @param part, keepOut one frame, mm; exact circles, nothing tessellated
 * @returns bounds in mm; touching or overlapping 0, with `depthAtLeast` (see `tubeDepth.ts`); exact where both are straight
 * Error: atMost − atLeast ≤ 1e-8 mm, up to 1e-4 where very many places are equally near (`endWidthAfter`), + rounding
 *        (1e-13 of the largest coordinate), unless stopped is not 'converged'.
 *
 * Method: best-first over pairs of spans.
 * - below: distance of the spans' segments less both reaches, which closes wherever the nearest points lie square to both
 *   centrelines; and, for any direction, both tubes' reach along it in closed form, which closes at flat ends;
 * - above: a pair of real discs' points, found by going to and fro between the centrelines, or by the convex kernel.
 * Two straights need one look: square to both it is the axes' distance less the radii, else two cylinders.
 * Source: derived; best-first branch and bound: common practice, no source.
 */
export function roundRound(part: RoundForm, keepOut: RoundForm, options: ClearanceOptions): Clearance {
  return new Search(part, keepOut, options).answer()
}

// Room for one call of `roundRound`, which calls nothing back: no state survives it, and making it anew costs more than
// most searches.
const queue = new BoundQueue(256)
const setA = emptySet()
const setB = emptySet()
const found: Nearest = emptyNearest()
const near = new Float64Array(segmentTriangleSize)
const atA = new Float64Array(touchSize)
const atB = new Float64Array(touchSize)
const far = new Float64Array(touchSize)

class Search {
  private readonly a: TubeSpans
  private readonly b: TubeSpans
  private readonly options: ClearanceOptions
  private best = Number.POSITIVE_INFINITY
  private onA: Vec3 = [0, 0, 0]
  private onB: Vec3 = [0, 0, 0]
  private settled = Number.POSITIVE_INFINITY
  private looked = 0
  private width = 0

  constructor(part: RoundForm, keepOut: RoundForm, options: ClearanceOptions) {
    this.a = spansOf(part)
    this.b = spansOf(keepOut)
    this.options = options
  }

  answer(): Clearance {
    const { a, b } = this
    const upTo = this.options.upTo ?? Number.POSITIVE_INFINITY
    const slack = a.rounding + b.rounding
    queue.clear()
    for (let i = 0; i < a.pieces; i++) for (let j = 0; j < b.pieces; j++) queue.push(this.coarse(i, j), i, j)
    let stopped: Clearance['stopped'] = 'converged'
    while (this.best > 0 && queue.least() < Math.min(this.best - this.width, this.settled)) {
      if (queue.least() - slack >= upTo && this.looked > 0) {
        stopped = 'upTo'
        break
      }
      if (this.looked > mostPairs) {
        stopped = 'limit'
        break
      }
      queue.take()
      this.look(queue.first, queue.second, queue.bound)
    }
    // Within rounding a touch cannot be told from a gap or from a depth that the kernel's simplex lies flat in: all meet.
    if (this.best <= slack) return this.overlap()
    const atLeast = Math.min(this.best, queue.least(), this.settled) - slack
    if (stopped === 'converged' && this.best - atLeast > widest + 2 * slack) stopped = 'limit'
    return { atLeast: Math.max(0, atLeast), atMost: this.best, onPart: this.onA, onKeepOut: this.onB, stopped }
  }

  /** A bound from the spheres about both spans, to look at the near pairs first. */
  private coarse(i: number, j: number): number {
    const p = this.a.spans
    const q = this.b.spans
    const s = spanStride * i
    const t = spanStride * j
    let middle = 0
    let halfA = 0
    let halfB = 0
    for (let k = 0; k < 3; k++) {
      middle += (0.5 * (p[s + k] + p[s + 3 + k] - q[t + k] - q[t + 3 + k])) ** 2
      halfA += (0.5 * (p[s + 3 + k] - p[s + k])) ** 2
      halfB += (0.5 * (q[t + 3 + k] - q[t + k])) ** 2
    }
    return Math.max(0, Math.sqrt(middle) - Math.sqrt(halfA) - Math.sqrt(halfB) - p[s + 6] - q[t + 6])
  }

  private look(i: number, j: number, known: number): void {
    this.width = endWidthAfter(++this.looked, this.a.reach + this.b.reach)
    const { a, b } = this
    const bound = Math.max(known, this.bound(i, j))
    const slackA = a.spans[spanStride * i + 7]
    const slackB = b.spans[spanStride * j + 7]
    if (bound >= this.best - this.width || (slackA === 0 && slackB === 0)) {
      if (bound < this.settled) this.settled = bound
      return
    }
    if (slackA >= slackB) {
      const half = a.halve(i)
      queue.push(bound, half, j)
      queue.push(bound, half + 1, j)
    } else {
      const half = b.halve(j)
      queue.push(bound, i, half)
      queue.push(bound, i, half + 1)
    }
  }

  private bound(i: number, j: number): number {
    const { a, b } = this
    const s = spanStride * i
    const t = spanStride * j
    let bound = segmentGap(a.spans, s, b.spans, t) - a.spans[s + 6] - b.spans[t + 6]
    if (bound >= this.best - this.width) return bound
    if (!a.isStraight(i) && !b.isStraight(j)) {
      bound = Math.max(bound, arcPairBound(a, i, b, j) - a.radius - b.radius)
      if (bound >= this.best - this.width) return bound
    }
    this.toAndFro(i, j)
    const isSquare = atA[9] === 0 && atB[9] === 0
    const isExact = a.spans[s + 7] === 0 && b.spans[t + 7] === 0
    if (isSquare && isExact) return bound
    bound = Math.max(bound, this.apart(i, j, atB[0] - atA[0], atB[1] - atA[1], atB[2] - atA[2]))
    if (bound >= this.best - this.width || isSquare) return bound
    // Beyond an end: the discs there (a straight: its whole cylinder) against each other.
    this.faceOf(a, i, atA, setA)
    this.faceOf(b, j, atB, setB)
    bound = Math.max(bound, this.byFaces(i, j))
    if (isExact) return found.atLeast
    if (bound >= this.best - this.width) return bound
    // Not those discs either: cylinders about both chords give a direction.
    cylinderOf(a, s, setA)
    cylinderOf(b, t, setB)
    convexDistance(setA, setB, Number.POSITIVE_INFINITY, found)
    return Math.max(bound, this.apart(i, j, found.bx - found.ax, found.by - found.ay, found.bz - found.az))
  }

  /** From the segments' nearest points to near points of the centrelines, then of the tubes. */
  private toAndFro(i: number, j: number): void {
    const { a, b } = this
    touch(a, i, near[1], near[2], near[3], atA)
    touch(b, j, atA[3], atA[4], atA[5], atB)
    for (let round = 0; round < 2; round++) {
      touch(a, i, atB[3], atB[4], atB[5], atA)
      touch(b, j, atA[3], atA[4], atA[5], atB)
    }
    touch(a, i, atB[3], atB[4], atB[5], atA)
    touch(b, j, atA[0], atA[1], atA[2], atB)
    const isMet = touch(a, i, atB[0], atB[1], atB[2], atA) === 0
    // What parts the discs along their normals is measured too: `touch` leaves that rounding out of its answer.
    const distance = isMet ? 0 : Math.hypot(atA[0] - atB[0], atA[1] - atB[1], atA[2] - atB[2])
    if (distance < this.best) this.take(distance, atA[0], atA[1], atA[2], atB[0], atB[1], atB[2])
  }

  private take(distance: number, px: number, py: number, pz: number, qx: number, qy: number, qz: number): void {
    this.best = distance
    this.onA = [px, py, pz]
    this.onB = [qx, qy, qz]
  }

  private faceOf(tube: TubeSpans, span: number, at: Float64Array, set: ConvexSet): void {
    if (tube.isStraight(span)) cylinderOf(tube, spanStride * span, set)
    else setDisc(set, at[3], at[4], at[5], at[6], at[7], at[8], tube.radius)
  }

  private byFaces(i: number, j: number): number {
    convexDistance(setA, setB, Number.POSITIVE_INFINITY, found)
    const distance = found.contact === 'overlap' ? 0 : found.atMost
    if (distance < this.best) this.take(distance, found.ax, found.ay, found.az, found.bx, found.by, found.bz)
    return this.apart(i, j, found.bx - found.ax, found.by - found.ay, found.bz - found.az)
  }

  /** Lower bound by planes square to a direction from a to b: exact reach of both spans. */
  private apart(i: number, j: number, x: number, y: number, z: number): number {
    const l = Math.sqrt(x * x + y * y + z * z)
    if (!(l > 0)) return 0
    const reachA = tubeSupport(this.a, i, x / l, y / l, z / l, far)
    const reachB = tubeSupport(this.b, j, -x / l, -y / l, -z / l, far)
    return -reachA - reachB
  }

  private overlap(): Clearance {
    const { a, b, options } = this
    const depth = options.depth !== false
    const rods = depth ? [a.asCylinder(), b.asCylinder()] : undefined
    if (rods?.[0] && rods[1]) {
      const exact = convexConvex(
        { form: 'convex', body: rods[0] },
        { form: 'convex', body: rods[1] },
        { ...options, depth },
      )
      if (exact.overlap) return exact
    }
    return {
      atLeast: 0,
      atMost: 0,
      onPart: this.onA,
      onKeepOut: this.onB,
      stopped: 'converged',
      overlap: depth
        ? depthAtLeast(a, (y) => roomInTube(b, y), [this.onA, this.onB])
        : { kind: 'atLeast', depthAtLeast: 0 },
    }
  }
}

function segmentGap(p: Float64Array, s: number, q: Float64Array, t: number): number {
  const squared = segmentSegment(
    p[s],
    p[s + 1],
    p[s + 2],
    p[s + 3],
    p[s + 4],
    p[s + 5],
    q[t],
    q[t + 1],
    q[t + 2],
    q[t + 3],
    q[t + 4],
    q[t + 5],
    near,
  )
  return Math.sqrt(squared)
}

function segmentOf({ spans }: TubeSpans, s: number, set: ConvexSet): void {
  setSegment(set, spans[s], spans[s + 1], spans[s + 2], spans[s + 3], spans[s + 4], spans[s + 5])
}

/** Cylinder about a span's segment: a straight's own tube; for a short span of an arc nearly so. */
function cylinderOf(tube: TubeSpans, s: number, set: ConvexSet): void {
  const { spans, radius } = tube
  segmentOf(tube, s, set)
  setDiscFrame(set, radius, spans[s + 3] - spans[s], spans[s + 4] - spans[s + 1], spans[s + 5] - spans[s + 2])
}
