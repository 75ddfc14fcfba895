import { squareTo, unit, type Vec3 } from '../../shape/vec.ts'
import type { BentLine } from './bentLine.ts'
import type { Body } from './distanceBodies.ts'
import { emptyPointDistance, pointToBody } from './distancePoint.ts'
import { emptyContact, type Segment, segmentToBody } from './distanceSegment.ts'
import { type ReadyObstacle, readyObstacles } from './margin.ts'
import type { RouteProblem } from './problem.ts'

/** A ball that the centreline is to keep out of, mm: routes that are to be others than one found. */
export interface Ball {
  readonly centre: Vec3
  readonly radius: number
}

/** A place where the line comes near something. To first order, moving that place along the way gains so much margin. */
export interface Witness {
  readonly piece: number
  readonly share: number
  readonly nx: number
  readonly ny: number
  readonly nz: number
  /** Distance less what is to be kept, mm. */
  readonly margin: number
}

export interface Witnesses {
  readonly near: readonly Witness[]
  /** Least margin; Infinity where nothing is near. */
  readonly least: number
}

/** Pieces of the line that are asked about at once: straights of at most so many mm, arcs of so many radians. */
const straightPart = 45
const arcPart = 0.2
/** More places than this bring nothing new: the nearest ones are taken. */
const most = 300

/** A part of the line, as a segment, and where it lies on it. */
interface Part extends Segment {
  piece: number
  low: number
  high: number
  /** Lengths along the line where it begins and ends, mm. */
  start: number
  end: number
}

/**
 * One witness for each part of the line and each body of an obstacle that is within the band of what is to be kept.
 * Ends that an obstacle does not count are left out as in the exact check.
 * @param extra mm to be kept beyond what is needed, for each obstacle
 * @param balls that the centreline keeps out of
 */
export class WitnessFinder {
  private readonly obstacles: readonly ReadyObstacle[]
  private readonly balls: readonly Ball[]
  private readonly parts: Part[] = []
  private readonly cut: Segment = { ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 }
  private readonly contact = emptyContact()
  private readonly there = emptyPointDistance()
  private readonly point = new Float64Array(3)
  /**
   * Straights that every route has at its ends, mm. Nothing moves them, and the tube's flat ends are farther from what lies
   * behind them than the ends of a line are: they are left to the exact check.
   */
  private readonly fixed: { readonly from: number; readonly to: number }
  private count = 0
  private found: Witness[] = []
  private least = Infinity

  constructor(problem: RouteProblem, balls: readonly Ball[] = []) {
    this.obstacles = readyObstacles(problem)
    this.fixed = { from: problem.from.leastStraight, to: problem.to.leastStraight }
    this.balls = balls
  }

  find(line: BentLine, band: number, extra: Float64Array): Witnesses {
    this.found = []
    this.least = Infinity
    this.cutLine(line)
    const whole = this.count > 0 ? this.parts[this.count - 1].end : 0
    for (let k = 0; k < this.obstacles.length; k++) this.against(line, this.obstacles[k], band, extra[k], whole)
    for (const ball of this.balls) this.againstBall(line, ball, band)
    if (this.found.length > most) this.found = this.found.sort((a, b) => a.margin - b.margin).slice(0, most)
    return { near: this.found, least: this.least }
  }

  private cutLine(line: BentLine): void {
    this.count = 0
    let start = 0
    for (let piece = 0; piece < line.pieces; piece++) {
      const length = line.pieceLength(piece)
      if (!(length > 1e-9)) continue
      const parts = line.isArc(piece) ? Math.ceil(line.angles[piece >> 1] / arcPart) : Math.ceil(length / straightPart)
      for (let i = 0; i < parts; i++) {
        const part = this.nextPart()
        part.piece = piece
        part.low = i / parts
        part.high = (i + 1) / parts
        part.start = start + part.low * length
        part.end = start + part.high * length
        this.place(line, part, part)
      }
      start += length
    }
  }

  private nextPart(): Part {
    if (this.count === this.parts.length)
      this.parts.push({ piece: 0, low: 0, high: 0, start: 0, end: 0, ax: 0, ay: 0, az: 0, bx: 0, by: 0, bz: 0 })
    return this.parts[this.count++]
  }

  private place(line: BentLine, { piece, low, high }: Pick<Part, 'piece' | 'low' | 'high'>, out: Segment): void {
    const { point } = this
    line.pointOn(piece, low, point)
    out.ax = point[0]
    out.ay = point[1]
    out.az = point[2]
    line.pointOn(piece, high, point)
    out.bx = point[0]
    out.by = point[1]
    out.bz = point[2]
  }

  private against(line: BentLine, ready: ReadyObstacle, band: number, extra: number, whole: number): void {
    const { exempt } = ready.obstacle
    const keep = ready.keep + extra
    const [first, last] = [Math.max(exempt.from, this.fixed.from), whole - Math.max(exempt.to, this.fixed.to)]
    for (let i = 0; i < this.count; i++) {
      const part = this.parts[i]
      let { low, high } = part
      let segment: Segment = part
      if (part.end <= first || part.start >= last) continue
      const perLength = (part.high - part.low) / (part.end - part.start)
      if (part.start < first) low += (first - part.start) * perLength
      if (part.end > last) high -= (part.end - last) * perLength
      if (low > part.low || high < part.high) {
        segment = this.cut
        this.place(line, { piece: part.piece, low, high }, segment)
      }
      if (isBeyond(ready.box, segment, keep + band)) continue
      for (const body of ready.bodies) {
        if (!segmentToBody(body, segment, keep + band, this.contact)) continue
        if (line.isArc(part.piece)) this.ontoArc(line, body, part, low, high, segment)
        else this.contact.share = low + this.contact.share * (high - low)
        this.take(part.piece, keep)
      }
    }
  }

  /** From the chord onto the arc. `share` becomes that of the piece. */
  private ontoArc(line: BentLine, body: Body, part: Part, low: number, high: number, chord: Segment): void {
    const { contact: c, point } = this
    if (body.kind === 'halfSpace') {
      c.share = line.farthestOnArc(part.piece, -c.nx, -c.ny, -c.nz, low, high)
      line.pointOn(part.piece, c.share, point)
      c.distance = (point[0] - c.qx) * c.nx + (point[1] - c.qy) * c.ny + (point[2] - c.qz) * c.nz
    } else if (c.distance > 1e-6) this.facingArc(line, body, part.piece, low, high)
    else this.besideChord(line, part.piece, low, high, chord)
  }

  /** To and fro between arc and body: the chord's nearest point of the body is not quite the arc's. */
  private facingArc(line: BentLine, body: Body, piece: number, low: number, high: number): void {
    const { contact: c, point, there } = this
    this.nearestOf(line, piece, low, high)
    pointToBody(body, point[0], point[1], point[2], Infinity, there)
    if (!(there.atMost > 1e-6)) return
    c.qx = point[0] - there.atMost * there.nx
    c.qy = point[1] - there.atMost * there.ny
    c.qz = point[2] - there.atMost * there.nz
    this.nearestOf(line, piece, low, high)
  }

  private nearestOf(line: BentLine, piece: number, low: number, high: number): void {
    const { contact: c, point } = this
    c.share = line.nearestOnArc(piece, c.qx, c.qy, c.qz, low, high)
    line.pointOn(piece, c.share, point)
    const x = point[0] - c.qx
    const y = point[1] - c.qy
    const z = point[2] - c.qz
    const d = Math.sqrt(x * x + y * y + z * z)
    if (!(d > 0)) return
    c.distance = d
    c.nx = x / d
    c.ny = y / d
    c.nz = z / d
  }

  /** In a body the arc lies as much deeper or less deep as it stands off from its chord there. */
  private besideChord(line: BentLine, piece: number, low: number, high: number, chord: Segment): void {
    const { contact: c, point } = this
    const { share } = c
    c.share = low + share * (high - low)
    line.pointOn(piece, c.share, point)
    c.distance +=
      (point[0] - chord.ax - share * (chord.bx - chord.ax)) * c.nx +
      (point[1] - chord.ay - share * (chord.by - chord.ay)) * c.ny +
      (point[2] - chord.az - share * (chord.bz - chord.az)) * c.nz
  }

  private take(piece: number, keep: number): void {
    const { share, nx, ny, nz, distance } = this.contact
    const margin = distance - keep
    if (margin < this.least) this.least = margin
    this.found.push({ piece, share, nx, ny, nz, margin })
  }

  private againstBall(line: BentLine, { centre, radius }: Ball, band: number): void {
    const { contact, point } = this
    const [x, y, z] = centre
    for (let i = 0; i < this.count; i++) {
      const { piece, low, high, ax, ay, az, bx, by, bz } = this.parts[i]
      if (line.isArc(piece)) contact.share = line.nearestOnArc(piece, x, y, z, low, high)
      else {
        const [vx, vy, vz] = [bx - ax, by - ay, bz - az]
        const along = ((x - ax) * vx + (y - ay) * vy + (z - az) * vz) / (vx * vx + vy * vy + vz * vz)
        contact.share = low + Math.min(1, Math.max(0, along)) * (high - low)
      }
      line.pointOn(piece, contact.share, point)
      const [gx, gy, gz] = [point[0] - x, point[1] - y, point[2] - z]
      const d = Math.sqrt(gx * gx + gy * gy + gz * gz)
      if (d >= radius + band) continue
      contact.distance = d
      // A line through the very middle has no way out of its own: any way square to it is as good as another.
      const [nx, ny, nz] = d > 1e-9 ? [gx / d, gy / d, gz / d] : squareTo(unit([bx - ax, by - ay, bz - az]))[0]
      contact.nx = nx
      contact.ny = ny
      contact.nz = nz
      this.take(piece, radius)
    }
  }
}

function isBeyond(box: Float64Array, s: Segment, limit: number): boolean {
  return (
    Math.max(box[0] - Math.max(s.ax, s.bx), Math.min(s.ax, s.bx) - box[3]) >= limit ||
    Math.max(box[1] - Math.max(s.ay, s.by), Math.min(s.ay, s.by) - box[4]) >= limit ||
    Math.max(box[2] - Math.max(s.az, s.bz), Math.min(s.az, s.bz) - box[5]) >= limit
  )
}
