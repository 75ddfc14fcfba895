import { convexDistance } from './gjk.ts'
import { emptyNearest, type Nearest } from './nearest.ts'
import { segmentTriangle, segmentTriangleSize } from './segmentTriangle.ts'
import { emptySet, setDisc, setDiscFrame, setSegment, setTriangle } from './support.ts'
import { touch, touchSize, tubeSupport } from './tubeDiscs.ts'
import { spanStride, type TubeSpans } from './tubeSpans.ts'

/**
 * Bounds between spans of one tube and triangle after triangle; keeps the nearest pair of real points met so far.
 * The bounds are those of `convexRound`, with closed forms in place of the convex kernel wherever the triangle's nearest
 * point lies between the planes of the span's end discs.
 */
export class SpanTriangle {
  /** Distance of the nearest pair so far, mm. */
  best = Number.POSITIVE_INFINITY
  readonly onTube = new Float64Array(3)
  readonly onMesh = new Float64Array(3)
  /** Corners of the triangle asked about: to be filled before `bound`. */
  readonly corners = new Float64Array(9)
  /** A bound this much below `best` needs no better one, mm. */
  width = 0
  private tube!: TubeSpans
  private readonly near = new Float64Array(segmentTriangleSize)
  private readonly at = new Float64Array(touchSize)
  private readonly again = new Float64Array(touchSize)
  private readonly far = new Float64Array(touchSize)
  private readonly probe = emptySet()
  private readonly triangle = emptySet()
  private readonly found: Nearest = emptyNearest()

  /** Begins anew with another tube: the room is kept from one search to the next. */
  begin(tube: TubeSpans, width: number): void {
    this.tube = tube
    this.width = width
    this.best = Number.POSITIVE_INFINITY
  }

  /** A pair of real points known from elsewhere. */
  offer(distance: number, tube: Float64Array, x: number, y: number, z: number): void {
    if (distance >= this.best) return
    this.best = distance
    this.onTube[0] = tube[0]
    this.onTube[1] = tube[1]
    this.onTube[2] = tube[2]
    this.onMesh[0] = x
    this.onMesh[1] = y
    this.onMesh[2] = z
  }

  /** Lower bound of the distance between a span's tube and the triangle at `corners`, mm; for a straight it is exact. */
  bound(span: number): number {
    const { tube, near, at } = this
    const { spans } = tube
    const s = spanStride * span
    const reach = spans[s + 6]
    // Not less the width: what is passed over unmeasured must be no nearer than `best` itself.
    const bound = Math.sqrt(this.fromSegment(s, this.best + reach)) - reach
    if (bound >= this.best - this.width) return bound
    this.offer(touch(tube, span, near[1], near[2], near[3], at), at, near[1], near[2], near[3])
    if (at[9] === 0 && spans[s + 7] === 0) return bound
    const planes = Math.max(bound, this.byPlanes(span, near[1] - at[0], near[2] - at[1], near[3] - at[2]))
    if (planes >= this.best - this.width) return planes
    if (at[9] !== 0) return Math.max(planes, this.beyondEnd(span))
    return Math.max(planes, this.closerIn(span))
  }

  private fromSegment(s: number, limit: number): number {
    const { spans } = this.tube
    return segmentTriangle(
      spans[s],
      spans[s + 1],
      spans[s + 2],
      spans[s + 3],
      spans[s + 4],
      spans[s + 5],
      this.corners,
      limit,
      this.near,
    )
  }

  /** Exact reach of the span and of the triangle along (x, y, z): what lies between the two planes. */
  private byPlanes(span: number, x: number, y: number, z: number): number {
    const l = Math.sqrt(x * x + y * y + z * z)
    if (!(l > 0)) return 0
    const c = this.corners
    const first = Math.min(
      x * c[0] + y * c[1] + z * c[2],
      x * c[3] + y * c[4] + z * c[5],
      x * c[6] + y * c[7] + z * c[8],
    )
    return first / l - tubeSupport(this.tube, span, x / l, y / l, z / l, this.far)
  }

  /**
   * From the disc found, its centre's nearest point of the triangle, and from there the disc again: a nearer pair, often,
   * and a better direction. The triangle's own normal comes after: an arc over a finely divided plate is settled by it.
   */
  private closerIn(span: number): number {
    const { at, again, near, corners: c } = this
    const x = at[3]
    const y = at[4]
    const z = at[5]
    segmentTriangle(x, y, z, x, y, z, c, Number.POSITIVE_INFINITY, near)
    this.offer(touch(this.tube, span, near[1], near[2], near[3], again), again, near[1], near[2], near[3])
    const bound = this.byPlanes(span, near[1] - again[0], near[2] - again[1], near[3] - again[2])
    if (bound >= this.best - this.width) return bound
    const ux = c[3] - c[0]
    const uy = c[4] - c[1]
    const uz = c[5] - c[2]
    const vx = c[6] - c[0]
    const vy = c[7] - c[1]
    const vz = c[8] - c[2]
    const nx = uy * vz - uz * vy
    const ny = uz * vx - ux * vz
    const nz = ux * vy - uy * vx
    const side = nx * (c[0] - x) + ny * (c[1] - y) + nz * (c[2] - z) > 0 ? 1 : -1
    return Math.max(bound, this.byPlanes(span, side * nx, side * ny, side * nz))
  }

  /** The triangle's nearest point lies beyond an end disc: there a half-ball would be too many. */
  private beyondEnd(span: number): number {
    const { tube, at, probe, found } = this
    setTriangle(this.triangle, this.corners)
    if (tube.isStraight(span)) {
      this.setCylinder(span)
      this.meet(this.best, true)
      return found.atLeast
    }
    setDisc(probe, at[3], at[4], at[5], at[6], at[7], at[8], tube.radius)
    this.meet(Number.POSITIVE_INFINITY, true)
    const byDisc = this.byPlanes(span, found.bx - found.ax, found.by - found.ay, found.bz - found.az)
    if (byDisc >= this.best - this.width || !this.hasLength(span)) return byDisc
    // The disc is not what is nearest of the span: the cylinder about the chord gives another direction.
    this.setCylinder(span)
    this.meet(Number.POSITIVE_INFINITY, false)
    return Math.max(byDisc, this.byPlanes(span, found.bx - found.ax, found.by - found.ay, found.bz - found.az))
  }

  private meet(upTo: number, isReal: boolean): void {
    const { found } = this
    convexDistance(this.probe, this.triangle, upTo, found)
    if (!isReal || found.stopped === 'upTo') return
    const distance = found.contact === 'overlap' ? 0 : found.atMost
    if (distance >= this.best) return
    this.best = distance
    this.onTube[0] = found.ax
    this.onTube[1] = found.ay
    this.onTube[2] = found.az
    this.onMesh[0] = found.bx
    this.onMesh[1] = found.by
    this.onMesh[2] = found.bz
  }

  private hasLength(span: number): boolean {
    const { spans } = this.tube
    const s = spanStride * span
    return spans[s] !== spans[s + 3] || spans[s + 1] !== spans[s + 4] || spans[s + 2] !== spans[s + 5]
  }

  private setCylinder(span: number): void {
    const { spans, radius } = this.tube
    const s = spanStride * span
    setSegment(this.probe, spans[s], spans[s + 1], spans[s + 2], spans[s + 3], spans[s + 4], spans[s + 5])
    setDiscFrame(this.probe, radius, spans[s + 3] - spans[s], spans[s + 4] - spans[s + 1], spans[s + 5] - spans[s + 2])
  }
}
