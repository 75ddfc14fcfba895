import { pointAlong } from '../../shape/centreline.ts'
import type { ArcPiece, Piece } from '../../shape/form.ts'
import { arcSteps } from '../../shape/arcSteps.ts'
import { cross, dot, scale, sub, type Vec3 } from '../../shape/vec.ts'
import type { Flat } from '../drawing/view.ts'

/**
 * Bends of a tube that follow each other in one plane, laid on it: with the straight before the first and the straight
 * behind the last. mm, true size; the run begins at 0, 0 along +x, and its first bend turns to +y.
 */
export interface PlaneRun {
  readonly bends: readonly RunBend[]
  readonly straights: readonly RunStraight[]
  readonly middle: readonly Flat[]
  /** Both sides of the tube, half its outside diameter off the middle, seen the way it goes. */
  readonly left: readonly Flat[]
  readonly right: readonly Flat[]
  /** Whether the run begins and ends with the tube itself, and not with a bend in another plane. */
  readonly begins: boolean
  readonly ends: boolean
}

export interface RunBend {
  /** From 1, along the whole tube. */
  readonly number: number
  /** Turned, degrees. */
  readonly angle: number
  /** Of the middle line, mm. */
  readonly radius: number
  readonly turns: 'left' | 'right'
  readonly centre: Flat
  /** Middle of the arc. */
  readonly at: Flat
  /** Where the bend begins and ends, and the unit way of the tube there. */
  readonly tangents: readonly [Tangent, Tangent]
}

interface Tangent {
  readonly at: Flat
  readonly way: Flat
}

export interface RunStraight {
  readonly from: Flat
  readonly to: Flat
}

/** Off the plane by no more than this, a bend lies in it, mm: a tenth of a pencil line. */
const flatWithin = 0.05
/** Chords of arcs stay this near to them, mm. */
const sag = 0.005

/**
 * Runs of bends in one plane, in order; the straight between two runs belongs to both. None for a straight tube.
 * @param centreline straights and arcs that follow each other, tangents continuous
 * @param outsideDiameter of the tube, mm
 * Error: points are exact, chords of arcs within 0.005 mm; what is laid flat lay within 0.05 mm of its plane.
 */
export function planeRuns(centreline: readonly Piece[], outsideDiameter: number): PlaneRun[] {
  const runs: { from: number; to: number }[] = []
  centreline.forEach((piece, k) => {
    if (piece.kind !== 'arc') return
    const last = runs.at(-1)
    if (last && liesIn(centreline[last.from] as ArcPiece, piece)) last.to = k
    else runs.push({ from: k, to: k })
  })
  return runs.map(({ from, to }) => laidOut(centreline, from, to, outsideDiameter / 2))
}

function liesIn({ centre, x, y }: ArcPiece, arc: ArcPiece): boolean {
  const normal = cross(x, y)
  const ends = [0, 0.5, 1].map((share) => pointAlong(arc, share).point)
  return [...ends, arc.centre].every((point) => Math.abs(dot(sub(point, centre), normal)) <= flatWithin)
}

interface Plane {
  readonly origin: Vec3
  readonly right: Vec3
  readonly up: Vec3
}
const onto = ({ origin, right, up }: Plane, point: Vec3): Flat => {
  const away = sub(point, origin)
  return [dot(away, right), dot(away, up)]
}
const wayOn = ({ right, up }: Plane, way: Vec3): Flat => {
  const [x, y] = [dot(way, right), dot(way, up)]
  const long = Math.hypot(x, y)
  return [x / long, y / long]
}

function laidOut(centreline: readonly Piece[], first: number, last: number, half: number): PlaneRun {
  const from = centreline[first - 1]?.kind === 'straight' ? first - 1 : first
  const to = centreline[last + 1]?.kind === 'straight' ? last + 1 : last
  const pieces = centreline.slice(from, to + 1)
  const arc = centreline[first] as ArcPiece
  const plane: Plane = { origin: pointAlong(pieces[0], 0).point, right: arc.y, up: scale(arc.x, -1) }
  const rims = pieces.flatMap((piece) => sampled(piece, half, plane))
  const side = (by: number) => distinct(rims.map(({ at, way }): Flat => [at[0] - by * way[1], at[1] + by * way[0]]))
  let number = centreline.slice(0, from).filter(({ kind }) => kind === 'arc').length
  return {
    bends: pieces.flatMap((piece) => (piece.kind === 'arc' ? [bendOf(piece, ++number, plane)] : [])),
    straights: pieces.flatMap((piece) =>
      piece.kind === 'straight' ? [{ from: onto(plane, piece.from), to: onto(plane, piece.to) }] : [],
    ),
    middle: distinct(rims.map(({ at }) => at)),
    left: side(half),
    right: side(-half),
    begins: from === 0,
    ends: to === centreline.length - 1,
  }
}

const degrees = (radians: number): number => (radians * 180) / Math.PI

function bendOf(arc: ArcPiece, number: number, plane: Plane): RunBend {
  const tangent = (share: number): Tangent => {
    const { point, direction } = pointAlong(arc, share)
    return { at: onto(plane, point), way: wayOn(plane, direction) }
  }
  return {
    number,
    angle: degrees(arc.angle),
    radius: arc.radius,
    turns: dot(cross(arc.x, arc.y), cross(plane.right, plane.up)) > 0 ? 'left' : 'right',
    centre: onto(plane, arc.centre),
    at: tangent(0.5).at,
    tangents: [tangent(0), tangent(1)],
  }
}

function sampled(piece: Piece, half: number, plane: Plane): Tangent[] {
  const steps = piece.kind === 'arc' ? arcSteps(piece.angle, piece.radius + half, sag) : 1
  return Array.from({ length: steps + 1 }, (_, k) => {
    const { point, direction } = pointAlong(piece, k / steps)
    return { at: onto(plane, point), way: wayOn(plane, direction) }
  })
}

/** Where two pieces meet, the point stands once. */
const distinct = (points: readonly Flat[]): Flat[] =>
  points.filter((p, k) => k === 0 || Math.hypot(p[0] - points[k - 1][0], p[1] - points[k - 1][1]) > 1e-7)
