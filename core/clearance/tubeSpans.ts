import type { Cylinder, Piece, RoundForm } from '../shape/form.ts'
import { length, type Pose, placedBack, sub, turnedBack, type Vec3 } from '../shape/vec.ts'
import { epsilon } from './nearest.ts'

/** Numbers kept for a span: middle segment (6), its reach, the slack in it, first and last direction of an arc (2 + 2). */
export const spanStride = 12
/** Numbers kept for a piece: origin, x, y, x × y (3 each), radius of the arc (0: straight, x its direction). */
export const frameStride = 13

/**
 * A round sweep as spans of its centreline, in one frame, mm. Spans 0 … pieces − 1 are whole pieces; `halve` adds more.
 *
 * Each span carries a segment, and the slack by which its centreline may stray from it: for an arc the chord moved
 * outward by half its rise (a straight: itself, slack 0). As every disc of the span has its centre within `slack` of
 * the segment, the span's tube lies within `radius + slack` of it: that is the first, cheap lower bound of distance.
 * No angles are kept: an arc's span is two unit directions in its plane, at most 180° apart, so that halving and
 * projecting need no trigonometry.
 */
export class TubeSpans {
  readonly radius: number
  readonly pieces: number
  /** No coordinate of the tube is larger than this, mm. */
  readonly reach: number
  /** What rounding, and straights too short to have a direction, can do to a bound, mm. */
  readonly rounding: number
  readonly frames: Float64Array
  spans: Float64Array
  pieceOf: Int32Array
  /** First of the two halves of a span; 0: not halved yet. */
  halves: Int32Array
  count: number

  /** @param pose where given, the frame that the tube is wanted in (its place in the form's frame); may mirror */
  constructor(form: RoundForm, pose?: Pose) {
    const { kept, left } = keptPieces(form.centreline)
    this.radius = form.radius
    this.pieces = kept.length
    this.frames = new Float64Array(frameStride * kept.length)
    const room = kept.length > 1 || kept[0].kind === 'arc' ? 4 * kept.length + 16 : 1
    this.spans = new Float64Array(spanStride * room)
    this.pieceOf = new Int32Array(room)
    this.halves = new Int32Array(room)
    this.count = 0
    for (const piece of kept) this.addPiece(pose ? pieceIn(pose, piece) : piece)
    this.reach = this.farthest() + form.radius
    this.rounding = 32 * epsilon * this.reach + left
  }

  private addPiece(piece: Piece): void {
    const f = frameStride * this.count
    const { frames, spans } = this
    if (piece.kind === 'straight') {
      const s = spanStride * this.addSpan(this.count, 0)
      const { from, to } = piece
      const l = length(sub(to, from))
      for (let k = 0; k < 3; k++) {
        spans[s + k] = frames[f + k] = from[k]
        spans[s + 3 + k] = to[k]
        frames[f + 3 + k] = (to[k] - from[k]) / l
      }
      return
    }
    const { centre, x, y, angle, radius } = piece
    for (let k = 0; k < 3; k++) {
      frames[f + k] = centre[k]
      frames[f + 3 + k] = x[k]
      frames[f + 6 + k] = y[k]
    }
    frames[f + 9] = x[1] * y[2] - x[2] * y[1]
    frames[f + 10] = x[2] * y[0] - x[0] * y[2]
    frames[f + 11] = x[0] * y[1] - x[1] * y[0]
    frames[f + 12] = radius
    this.addArcSpan(this.count, 1, 0, Math.cos(angle), Math.sin(angle))
  }

  /** Largest coordinate of the segments' ends and of the arcs' frames. */
  private farthest(): number {
    const { frames, spans } = this
    let reach = 0
    for (let span = 0; span < this.pieces; span++) {
      const f = frameStride * span
      for (let k = 0; k < 3; k++) {
        reach = Math.max(reach, Math.abs(frames[f + k]) + frames[f + 12], Math.abs(spans[spanStride * span + 3 + k]))
      }
    }
    return reach
  }

  private addSpan(piece: number, slack: number): number {
    const id = this.count++
    if (id >= this.pieceOf.length) this.grow()
    this.pieceOf[id] = piece
    this.spans[spanStride * id + 6] = this.radius + slack
    this.spans[spanStride * id + 7] = slack
    return id
  }

  private grow(): void {
    const wider = 2 * this.pieceOf.length
    const spans = new Float64Array(spanStride * wider)
    spans.set(this.spans)
    this.spans = spans
    const pieceOf = new Int32Array(wider)
    pieceOf.set(this.pieceOf)
    this.pieceOf = pieceOf
    const halves = new Int32Array(wider)
    halves.set(this.halves)
    this.halves = halves
  }

  private addArcSpan(piece: number, ux: number, uy: number, wx: number, wy: number): number {
    const f = frameStride * piece
    const { frames } = this
    const R = frames[f + 12]
    // 1 − cos of the half angle, from the chord: the plain difference loses all digits of a short span.
    const chord2 = 0.25 * ((wx - ux) * (wx - ux) + (wy - uy) * (wy - uy))
    const sin2 = Math.min(chord2, 1)
    const slack = (0.5 * R * sin2) / (1 + Math.sqrt(1 - sin2))
    const id = this.addSpan(piece, slack)
    const s = spanStride * id
    const { spans } = this
    spans[s + 8] = ux
    spans[s + 9] = uy
    spans[s + 10] = wx
    spans[s + 11] = wy
    const out = slack / R
    const mx = this.middleX(s)
    const my = this.middleY(s)
    for (let k = 0; k < 3; k++) {
      const o = frames[f + k]
      const x = R * frames[f + 3 + k]
      const y = R * frames[f + 6 + k]
      spans[s + k] = o + x * (ux + out * mx) + y * (uy + out * my)
      spans[s + 3 + k] = o + x * (wx + out * mx) + y * (wy + out * my)
    }
    return id
  }

  /**
   * Direction halfway between a span's first and last: along their sum, or square to the chord where they are so far
   * apart that the sum is the shorter of the two (it vanishes for half a turn).
   */
  private middleX(s: number): number {
    const { spans } = this
    const x = spans[s + 8] + spans[s + 10]
    const y = spans[s + 9] + spans[s + 11]
    const l = Math.sqrt(x * x + y * y)
    return l > 1 ? x / l : (spans[s + 11] - spans[s + 9]) / this.chord(s)
  }

  private middleY(s: number): number {
    const { spans } = this
    const x = spans[s + 8] + spans[s + 10]
    const y = spans[s + 9] + spans[s + 11]
    const l = Math.sqrt(x * x + y * y)
    return l > 1 ? y / l : (spans[s + 8] - spans[s + 10]) / this.chord(s)
  }

  private chord(s: number): number {
    const { spans } = this
    return Math.hypot(spans[s + 10] - spans[s + 8], spans[s + 11] - spans[s + 9])
  }

  /** Id of the first half of an arc's span; the second follows it. Straights are exact and never halved. */
  halve(span: number): number {
    if (this.halves[span] !== 0) return this.halves[span]
    const s = spanStride * span
    const mx = this.middleX(s)
    const my = this.middleY(s)
    const piece = this.pieceOf[span]
    const ux = this.spans[s + 8]
    const uy = this.spans[s + 9]
    const wx = this.spans[s + 10]
    const wy = this.spans[s + 11]
    const first = this.addArcSpan(piece, ux, uy, mx, my)
    this.addArcSpan(piece, mx, my, wx, wy)
    this.halves[span] = first
    return first
  }

  isStraight(span: number): boolean {
    return this.frames[this.frameOf(span) + 12] === 0
  }

  /** A tube of one straight is a cylinder, and everything known of cylinders holds for it; undefined where it bends. */
  asCylinder(): Cylinder | undefined {
    if (this.pieces > 1 || !this.isStraight(0)) return undefined
    const s = this.spans
    return { kind: 'cylinder', from: [s[0], s[1], s[2]], to: [s[3], s[4], s[5]], radius: this.radius }
  }

  /** Where the frame of a span's piece begins in `frames`. */
  frameOf(span: number): number {
    return frameStride * this.pieceOf[span]
  }
}

const kept = new WeakMap<RoundForm, TubeSpans>()
/** Spans halved for one pair serve the next; more than these are not kept. */
const mostKept = 1024

/** The spans of a form in its own frame: made once, as a pipe meets everything there is. */
export function spansOf(form: RoundForm): TubeSpans {
  const known = kept.get(form)
  if (known && known.count <= mostKept) return known
  const made = new TubeSpans(form)
  kept.set(form, made)
  return made
}

/** A piece in the frame that `pose` places. */
function pieceIn(pose: Pose, piece: Piece): Piece {
  if (piece.kind === 'straight')
    return { kind: 'straight', from: placedBack(pose, piece.from), to: placedBack(pose, piece.to) }
  return {
    ...piece,
    centre: placedBack(pose, piece.centre),
    x: turnedBack(pose.turn, piece.x),
    y: turnedBack(pose.turn, piece.y),
  }
}

/**
 * Pieces without the straights that are too short to have a direction (a bend that begins at the very end leaves one).
 * Their length is given back: the tube moves by no more than that.
 */
function keptPieces(centreline: readonly Piece[]): { kept: readonly Piece[]; left: number } {
  let left = 0
  const kept: Piece[] = []
  for (const piece of centreline) {
    const l = piece.kind === 'arc' ? Number.POSITIVE_INFINITY : length(sub(piece.to, piece.from))
    if (piece.kind === 'arc' || l > 1e-10 + 64 * epsilon * largest(piece.to)) kept.push(piece)
    else left += l
  }
  if (kept.length === 0) throw new RangeError('a round sweep without length has no discs')
  return { kept, left }
}

const largest = (v: Vec3): number => Math.max(Math.abs(v[0]), Math.abs(v[1]), Math.abs(v[2]))
