import type { Piece, RoundForm } from '../shape/form.ts'
import { cross, length, type Pose, placedBack, sub, turnedBack, unit } from '../shape/vec.ts'
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
    const room = Math.max(64, 4 * kept.length)
    this.spans = new Float64Array(spanStride * room)
    this.pieceOf = new Int32Array(room)
    this.halves = new Int32Array(room)
    this.count = 0
    let reach = 0
    for (const piece of kept) reach = Math.max(reach, this.addPiece(pose ? pieceIn(pose, piece) : piece))
    this.reach = reach + form.radius
    this.rounding = 32 * epsilon * this.reach + left
  }

  private addPiece(piece: Piece): number {
    const f = frameStride * this.count
    const { frames } = this
    if (piece.kind === 'straight') {
      frames.set(piece.from, f)
      frames.set(unit(sub(piece.to, piece.from)), f + 3)
      this.addSpan(this.count, 0)
      this.spans.set(piece.from, spanStride * (this.count - 1))
      this.spans.set(piece.to, spanStride * (this.count - 1) + 3)
      return Math.max(...piece.from.map(Math.abs), ...piece.to.map(Math.abs))
    }
    frames.set(piece.centre, f)
    frames.set(piece.x, f + 3)
    frames.set(piece.y, f + 6)
    frames.set(cross(piece.x, piece.y), f + 9)
    frames[f + 12] = piece.radius
    this.addArcSpan(this.count, 1, 0, Math.cos(piece.angle), Math.sin(piece.angle))
    return Math.max(...piece.centre.map(Math.abs)) + piece.radius
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
    const middle = this.middleOf(s)
    const out = R > 0 ? slack / R : 0
    for (let k = 0; k < 3; k++) {
      const o = frames[f + k]
      const x = R * frames[f + 3 + k]
      const y = R * frames[f + 6 + k]
      spans[s + k] = o + x * (ux + out * middle[0]) + y * (uy + out * middle[1])
      spans[s + 3 + k] = o + x * (wx + out * middle[0]) + y * (wy + out * middle[1])
    }
    return id
  }

  /** Direction halfway between a span's first and last; square to both for half a turn, where their sum vanishes. */
  private middleOf(s: number): [number, number] {
    const { spans } = this
    const ux = spans[s + 8]
    const uy = spans[s + 9]
    const x = ux + spans[s + 10]
    const y = uy + spans[s + 11]
    const l = Math.sqrt(x * x + y * y)
    return l > 1e-3 ? [x / l, y / l] : [-uy, ux]
  }

  /** Id of the first half of an arc's span; the second follows it. Straights are exact and never halved. */
  halve(span: number): number {
    if (this.halves[span] !== 0) return this.halves[span]
    const s = spanStride * span
    const [mx, my] = this.middleOf(s)
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

  /** Where the frame of a span's piece begins in `frames`. */
  frameOf(span: number): number {
    return frameStride * this.pieceOf[span]
  }
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
  const kept = centreline.filter((piece) => {
    if (piece.kind === 'arc') return true
    const l = length(sub(piece.to, piece.from))
    const size = Math.max(...piece.from.map(Math.abs), ...piece.to.map(Math.abs))
    if (l > 1e-10 + 64 * epsilon * size) return true
    left += l
    return false
  })
  if (kept.length === 0) throw new RangeError('a round sweep without length has no discs')
  return { kept, left }
}
