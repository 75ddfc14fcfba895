import { pointAlong } from '../../shape/centreline.ts'
import type { ArcPiece, Piece } from '../../shape/form.ts'
import { along, cross, dot, length, unit, type Vec3 } from '../../shape/vec.ts'
import { arcSteps } from '../../shape/arcSteps.ts'
import { type Seen, seen, type AnyView } from './view.ts'

/** A place of the centreline and the way its surface turns away from the eye; null where the centreline runs at the eye. */
interface Turn {
  readonly at: Vec3
  readonly out: Vec3 | null
}

/** Straights that run nearer at the eye than this sine show their ends only. */
const atTheEye = 1e-9
/** Between two points of a contour its way turns by less than this cosine. */
const smooth = Math.cos(Math.PI / 30)
const mostHalvings = 10

/**
 * Where the surface of a round sweep turns away from the eye: one line to either side of each run of the centreline, and the
 * rim where an arc runs straight at the eye.
 * @returns lines of points on the surface, in the picture's directions, mm
 */
export function contoursOf(centreline: readonly Piece[], radius: number, view: AnyView, sag: number): Seen[][] {
  const turns = centreline.flatMap((piece) => turnsOf(piece, radius, view, sag))
  const lines = [1, -1].flatMap((side) => sideLines(turns, side * radius, view))
  return [...lines, ...rimsAtTheEye(centreline, radius, view, sag)]
}

function turnsOf(piece: Piece, radius: number, view: AnyView, sag: number): Turn[] {
  const at = (share: number): Turn => {
    const { point, direction } = pointAlong(piece, share)
    const out = cross(direction, view.eye)
    return { at: point, out: length(out) < atTheEye ? null : unit(out) }
  }
  if (piece.kind === 'straight') return [at(0), at(1)]
  const steps = Math.max(2, arcSteps(piece.angle, piece.radius + radius, sag))
  const turns = [at(0)]
  for (let i = 1; i <= steps; i++) refined((i - 1) / steps, i / steps, mostHalvings, at, turns)
  return turns
}

/** Puts what lies after `from` up to `to` behind the turns, with more points where the contour swings round fast. */
function refined(from: number, to: number, halvings: number, at: (share: number) => Turn, turns: Turn[]): void {
  const [before, after] = [turns[turns.length - 1].out, at(to)]
  const swings = before !== null && after.out !== null && dot(before, after.out) < smooth
  if (!swings || halvings === 0) {
    turns.push(after)
    return
  }
  const middle = (from + to) / 2
  refined(from, middle, halvings - 1, at, turns)
  refined(middle, to, halvings - 1, at, turns)
}

/** A line ends where the centreline runs at the eye, and where it passes through that: the sides change over there. */
function sideLines(turns: readonly Turn[], reach: number, view: AnyView): Seen[][] {
  const lines: Seen[][] = []
  let line: Seen[] = []
  let last: Vec3 | null = null
  const end = () => {
    if (line.length > 1) lines.push(line)
    line = []
  }
  for (const { at, out } of turns) {
    if (out === null || (last !== null && dot(last, out) < 0)) end()
    if (out !== null) line.push(seen(view, along(at, out, reach)))
    last = out
  }
  end()
  return lines
}

function rimsAtTheEye(centreline: readonly Piece[], radius: number, view: AnyView, sag: number): Seen[][] {
  return centreline.flatMap((piece) => {
    const share = piece.kind === 'arc' ? shareAtTheEye(piece, view.eye) : null
    if (share === null) return []
    const { point } = pointAlong(piece, share)
    const steps = arcSteps(2 * Math.PI, radius, sag)
    const rim = Array.from({ length: steps + 1 }, (_, i) => {
      const a = (2 * Math.PI * i) / steps
      return seen(view, along(along(point, view.right, radius * Math.cos(a)), view.up, radius * Math.sin(a)))
    })
    return [rim]
  })
}

/** Which share of an arc runs at the eye or away from it, its ends included; null where none does. */
function shareAtTheEye({ x, y, angle }: ArcPiece, eye: Vec3): number | null {
  const flat = [dot(eye, x), dot(eye, y)]
  if (Math.hypot(...flat) < 1 - 1e-12) return null
  // The way at angle a is −sin a · x + cos a · y.
  const turn = Math.atan2(-flat[0], flat[1])
  const places = [turn, turn + Math.PI, turn - Math.PI].filter((a) => a > -1e-9 && a < angle + 1e-9)
  return places.length > 0 ? Math.min(1, Math.max(0, places[0] / angle)) : null
}
