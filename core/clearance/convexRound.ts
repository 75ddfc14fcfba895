import type { ConvexForm, Cylinder, Polytope, RoundForm } from '../shape/form.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { BoundQueue } from './boundQueue.ts'
import { convexConvex } from './convexConvex.ts'
import { convexDistance } from './gjk.ts'
import { emptyNearest, type Nearest } from './nearest.ts'
import { endWidthAfter, widest } from './searchEnd.ts'
import { BodySet, type ConvexSet, emptySet, setDisc, setDiscFrame, setSegment, supportOf } from './support.ts'
import { depthAtLeast, type Room } from './tubeDepth.ts'
import { touch, touchSize, tubeSupport } from './tubeDiscs.ts'
import { spanStride, spansOf, type TubeSpans } from './tubeSpans.ts'

/** Spans looked at before the bounds are given as they are. */
const mostSpans = 20_000

/**
 * Gap between a convex solid and a round sweep with flat ends.
 * @param part    polytope or cylinder, mm
 * @param keepOut round sweep in the same frame; exact circles, nothing tessellated
 * @returns bounds in mm; touching or overlapping 0, with `depthAtLeast` (see `tubeDepth.ts`); exact where the tube is straight
 * Error: atMost − atLeast ≤ 1e-8 mm, up to 1e-4 where very many places are equally near (`endWidthAfter`), + rounding
 *        (1e-13 of the largest coordinate), unless stopped is not 'converged'.
 *
 * Method: best-first over spans of the centreline. A straight is a cylinder, and the convex kernel settles it. For an arc
 * - below: the span's tube lies within radius + slack of a segment; and for any direction e from tube to solid the gap is
 *   at least min e·solid − max e·tube, with the tube's reach in closed form. The first closes on the inner side of a bend,
 *   the second on its outer side and at flat ends, where the first keeps a half-ball too many;
 * - above: a disc of the tube against the solid, by the convex kernel.
 * Nearest points may jump between equal ones; the gap is continuous in the pose.
 * Source: derived; best-first branch and bound: common practice, no source.
 */
export function convexRound(part: ConvexForm, keepOut: RoundForm, options: ClearanceOptions): Clearance {
  return new Search(part.body, keepOut, options).answer()
}

// Room for one call of `convexRound`, which calls nothing back: no state survives it, and making it anew costs more than
// most searches.
const queue = new BoundQueue(64)
const room = new BodySet()
const probe = emptySet()
const found: Nearest = emptyNearest()
const at = new Float64Array(touchSize)
const corner = new Float64Array(3)
const far = new Float64Array(touchSize)

class Search {
  private readonly body: Polytope | Cylinder
  private readonly solid: ConvexSet
  private readonly tube: TubeSpans
  private readonly options: ClearanceOptions
  private readonly upTo: number
  private best = Number.POSITIVE_INFINITY
  private onSolid: Vec3 = [0, 0, 0]
  private onTube: Vec3 = [0, 0, 0]
  /** Least bound of the spans that need no more halving. */
  private settled = Number.POSITIVE_INFINITY
  private looked = 0
  private width = 0

  constructor(body: Polytope | Cylinder, round: RoundForm, options: ClearanceOptions) {
    this.body = body
    this.solid = room.of(body)
    this.tube = spansOf(round)
    this.options = options
    this.upTo = options.upTo ?? Number.POSITIVE_INFINITY
  }

  answer(): Clearance {
    const { tube } = this
    queue.clear()
    for (let span = 0; span < tube.pieces; span++) queue.push(this.coarse(span), span, 0)
    const slack = tube.rounding + 32 * 2 ** -52 * this.solid.reach
    let stopped: Clearance['stopped'] = 'converged'
    while (this.best > 0 && queue.least() < Math.min(this.best - this.width, this.settled)) {
      if (queue.least() - slack >= this.upTo && this.best < Number.POSITIVE_INFINITY) {
        stopped = 'upTo'
        break
      }
      if (this.looked > mostSpans) {
        stopped = 'limit'
        break
      }
      queue.take()
      this.look(queue.first, queue.bound)
    }
    // Within rounding a touch cannot be told from a gap or from a depth that the kernel's simplex lies flat in: all meet.
    if (this.best <= slack) return this.overlap()
    const atLeast = Math.min(this.best, queue.least(), this.settled) - slack
    if (stopped === 'converged' && this.best - atLeast > widest + 2 * slack) stopped = 'limit'
    return {
      atLeast: Math.max(0, atLeast),
      atMost: this.best,
      onPart: this.onSolid,
      onKeepOut: this.onTube,
      stopped,
    }
  }

  /** A bound from spheres only, to look at the near pieces first. */
  private coarse(span: number): number {
    const { spans, radius } = this.tube
    const s = spanStride * span
    const x = 0.5 * (spans[s] + spans[s + 3])
    const y = 0.5 * (spans[s + 1] + spans[s + 4])
    const z = 0.5 * (spans[s + 2] + spans[s + 5])
    const half = 0.5 * Math.hypot(spans[s + 3] - spans[s], spans[s + 4] - spans[s + 1], spans[s + 5] - spans[s + 2])
    const { points, count } = this.solid
    // One direction, from the solid's first point to the span, gives a plane that parts them if they are far apart.
    const l = Math.hypot(points[0] - x, points[1] - y, points[2] - z)
    if (!(l > 0) || count === 0) return 0
    const ex = (points[0] - x) / l
    const ey = (points[1] - y) / l
    const ez = (points[2] - z) / l
    supportOf(this.solid, -ex, -ey, -ez, corner, 0)
    const apart = ex * (corner[0] - x) + ey * (corner[1] - y) + ez * (corner[2] - z)
    return Math.max(0, apart - half - radius - 2 * spans[s + 7])
  }

  private look(span: number, known: number): void {
    this.width = endWidthAfter(++this.looked, this.tube.reach + this.solid.reach)
    if (this.tube.isStraight(span)) {
      this.settle(this.alongStraight(span))
      return
    }
    const bound = Math.max(known, this.alongArc(span))
    if (bound >= this.best - this.width) {
      this.settle(bound)
      return
    }
    const half = this.tube.halve(span)
    queue.push(bound, half, 0)
    queue.push(bound, half + 1, 0)
  }

  private settle(bound: number): void {
    if (bound < this.settled) this.settled = bound
  }

  private alongStraight(span: number): number {
    this.setCylinder(span)
    this.meet(this.best)
    return found.atLeast
  }

  /** Cylinder about the chord: a straight's own tube; for a short span of an arc nearly so. */
  private setCylinder(span: number): void {
    const { spans, radius } = this.tube
    const s = spanStride * span
    setSegment(probe, spans[s], spans[s + 1], spans[s + 2], spans[s + 3], spans[s + 4], spans[s + 5])
    setDiscFrame(probe, radius, spans[s + 3] - spans[s], spans[s + 4] - spans[s + 1], spans[s + 5] - spans[s + 2])
  }

  /** Probe against solid; where the probe is part of the tube the witnesses count. */
  private meet(upTo: number, isReal = true): void {
    convexDistance(probe, this.solid, upTo, found)
    if (!isReal || found.stopped === 'upTo') return
    const distance = found.contact === 'overlap' ? 0 : found.atMost
    if (distance < this.best) this.take(distance, found.ax, found.ay, found.az, found.bx, found.by, found.bz)
  }

  private take(distance: number, px: number, py: number, pz: number, qx: number, qy: number, qz: number): void {
    this.best = distance
    this.onTube = [px, py, pz]
    this.onSolid = [qx, qy, qz]
  }

  private alongArc(span: number): number {
    const { tube } = this
    const { spans } = tube
    const s = spanStride * span
    setSegment(probe, spans[s], spans[s + 1], spans[s + 2], spans[s + 3], spans[s + 4], spans[s + 5])
    const reach = spans[s + 6]
    this.meet(this.best + reach, false)
    let bound = found.atLeast - reach
    if (bound >= this.best - this.width) return bound
    const distance = touch(tube, span, found.bx, found.by, found.bz, at)
    if (distance < this.best) this.take(distance, at[0], at[1], at[2], found.bx, found.by, found.bz)
    bound = Math.max(bound, this.byDisc(span))
    if (bound >= this.best - this.width) return bound
    bound = Math.max(bound, this.byReach(span))
    if (bound >= this.best - this.width || at[9] === 0) return bound
    // The end disc is not nearest either (the solid bends round its rim): the cylinder about the chord gives a direction.
    this.setCylinder(span)
    this.meet(Number.POSITIVE_INFINITY, false)
    return Math.max(bound, this.apart(span))
  }

  /** The disc at `at` against the solid; its direction bounds the whole span. */
  private byDisc(span: number): number {
    const { tube } = this
    setDisc(probe, at[3], at[4], at[5], at[6], at[7], at[8], tube.radius)
    this.meet(Number.POSITIVE_INFINITY)
    return this.apart(span)
  }

  /** The disc that reaches farthest along the direction just found. */
  private byReach(span: number): number {
    const { tube } = this
    const side = at[9]
    const x = found.bx - found.ax
    const y = found.by - found.ay
    const z = found.bz - found.az
    const l = Math.sqrt(x * x + y * y + z * z)
    if (!(l > 0)) return 0
    tubeSupport(tube, span, x / l, y / l, z / l, at)
    at[9] = side
    return this.byDisc(span)
  }

  /** Lower bound of the span's gap by the plane square to the pair just found: exact reach of the span and of the solid. */
  private apart(span: number): number {
    const { tube } = this
    const x = found.bx - found.ax
    const y = found.by - found.ay
    const z = found.bz - found.az
    const l = Math.sqrt(x * x + y * y + z * z)
    if (!(l > 0)) return 0
    supportOf(this.solid, -x / l, -y / l, -z / l, corner, 0)
    return (x * corner[0] + y * corner[1] + z * corner[2]) / l - tubeSupport(tube, span, x / l, y / l, z / l, far)
  }

  private overlap(): Clearance {
    const { options, tube } = this
    const depth = options.depth !== false
    const rod = depth ? tube.asCylinder() : undefined
    const exact = rod && convexConvex({ form: 'convex', body: this.body }, { form: 'convex', body: rod }, options)
    if (exact?.overlap) return exact
    return {
      atLeast: 0,
      atMost: 0,
      onPart: this.onSolid,
      onKeepOut: this.onTube,
      stopped: 'converged',
      overlap: depth
        ? depthAtLeast(tube, roomInConvex(this.body, this.solid), [this.onTube, this.onSolid])
        : { kind: 'atLeast', depthAtLeast: 0 },
    }
  }
}

/** Room in a convex body, see `Room`: distance to its nearest face inside, minus the distance to it outside. */
export function roomInConvex(body: Polytope | Cylinder, solid: ConvexSet): Room {
  const probe = emptySet()
  const found = emptyNearest()
  return (y) => {
    const inside = body.kind === 'polytope' ? insidePlanes(body, y) : insideCylinder(body, y)
    if (inside > 0) return inside - 16 * 2 ** -52 * solid.reach
    setSegment(probe, y[0], y[1], y[2], y[0], y[1], y[2])
    convexDistance(probe, solid, Number.POSITIVE_INFINITY, found)
    return -found.atMost
  }
}

function insidePlanes(body: Polytope, y: Vec3): number {
  const { planes } = body
  let room = Number.POSITIVE_INFINITY
  for (let i = 0; i < planes.length; i += 4)
    room = Math.min(room, planes[i + 3] - (planes[i] * y[0] + planes[i + 1] * y[1] + planes[i + 2] * y[2]))
  return room
}

function insideCylinder(body: Cylinder, y: Vec3): number {
  const { from, to, radius } = body
  const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2])
  const axis = [(to[0] - from[0]) / length, (to[1] - from[1]) / length, (to[2] - from[2]) / length]
  const g = [y[0] - from[0], y[1] - from[1], y[2] - from[2]]
  const h = g[0] * axis[0] + g[1] * axis[1] + g[2] * axis[2]
  const across = Math.hypot(g[0] - h * axis[0], g[1] - h * axis[1], g[2] - h * axis[2])
  return Math.min(h, length - h, radius - across)
}
