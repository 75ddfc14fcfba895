import { bad, type Fault, good, type Outcome } from '../fault.ts'
import type { ArcPiece, Piece, StraightPiece } from './form.ts'
import { add, along, cross, distance, dot, length, mix, scale, sub, unit, type Vec3 } from './vec.ts'

/** A corner of a centreline, ready to be rounded. */
interface Corner {
  readonly index: number
  readonly at: Vec3
  readonly before: Vec3
  readonly after: Vec3
  /** Angle turned, radians. */
  readonly angle: number
  /** Of its arc, on the centreline, mm. */
  readonly radius: number
  /** From the corner to where its arc begins and ends, mm. */
  readonly setback: number
}

export interface RoundingOptions {
  /** Radius of the tube; the bend radius must be at least this. */
  readonly radius?: number
  /** Field name of point i, for faults; default `path[i]`. */
  readonly fieldOf?: (index: number) => string
}

/** One radius for all corners, or one for each, by its number among the corners: 0 is the first point after the beginning. Of the centreline, mm. */
export type BendRadius = number | ((corner: number) => number)

/**
 * Tangent-continuous centreline through corner points, each corner rounded to the bend radius.
 * @param points corners with both ends, mm; ends are not rounded
 * @param bendRadius one for all or one for each; that of a corner that turns nothing counts only for 'bend-too-tight'
 * @returns straights and arcs in order, without pieces of no length; corners that turn nothing (within rounding) vanish.
 * Faults, all of them at once: 'too-few-points', 'repeated-point', 'turns-back' (180°), 'bend-too-tight' (bend radius
 * below the tube's radius), 'straight-too-short' with the mm missing and the corners that want it.
 * Setback = bendRadius · tan(angle / 2); derived, checked against D1 of the project's list of checks.
 */
export function roundCorners(
  points: readonly Vec3[],
  bendRadius: BendRadius,
  options: RoundingOptions = {},
): Outcome<readonly Piece[]> {
  const fieldOf = options.fieldOf ?? ((i: number) => `path[${i}]`)
  if (points.length < 2) return bad({ code: 'too-few-points', expected: 'at least 2 points', got: points.length })
  const unfit = [...tightBends(points, bendRadius, options.radius ?? 0, fieldOf), ...repeatedFaults(points, fieldOf)]
  if (unfit.length > 0) return bad(...unfit)

  const kept = turningPoints(points)
  const radiusAt = (index: number) => (typeof bendRadius === 'number' ? bendRadius : bendRadius(index - 1))
  const corners = kept.slice(1, -1).map((index, k) => cornerAt(points, kept[k], index, kept[k + 2], radiusAt(index)))
  const faults = [...backTurns(corners, fieldOf), ...shortStraights(points, kept, corners, fieldOf)]
  return faults.length > 0 ? bad(...faults) : good(piecesOf(points, corners))
}

function tightBends(
  points: readonly Vec3[],
  bendRadius: BendRadius,
  least: number,
  fieldOf: (i: number) => string,
): Fault[] {
  const fault = (field: string, got: number): Fault[] =>
    got > 0 && got >= least ? [] : [{ code: 'bend-too-tight', field, expected: `at least ${least} mm`, got }]
  if (typeof bendRadius === 'number') return fault('bendRadius', bendRadius)
  return points.slice(1, -1).flatMap((_, corner) => fault(fieldOf(corner + 1), bendRadius(corner)))
}

/** Coordinates cannot tell lengths below this apart, mm: 8 ulps of the largest, and at least a millionth of a micrometre. */
export const rounding = (points: readonly Vec3[]): number =>
  Math.max(1e-9, 8 * Number.EPSILON * Math.max(...points.map((p) => Math.max(...p.map(Math.abs)))))

/** Numbers of the points that lie where the one before lies. */
export function repeatedPoints(points: readonly Vec3[]): number[] {
  const least = rounding(points)
  return points.flatMap((p, i) => (i > 0 && !(distance(p, points[i - 1]) > least) ? [i] : []))
}

const repeatedFaults = (points: readonly Vec3[], fieldOf: (i: number) => string): Fault[] =>
  repeatedPoints(points).map((i) => ({
    code: 'repeated-point',
    field: fieldOf(i),
    expected: 'a point away from the one before',
    got: [...points[i]],
  }))

/**
 * Numbers of the points that stay: both ends, and every corner off the straight between the kept one and the next.
 * No point may repeat the one before.
 */
export function turningPoints(points: readonly Vec3[]): number[] {
  const allowed = rounding(points)
  const kept = [0]
  for (let i = 1; i + 1 < points.length; i++) {
    const from = points[kept[kept.length - 1]]
    const [run, next] = [sub(points[i], from), sub(points[i + 1], points[i])]
    const chord = unit(sub(points[i + 1], from))
    const onward = dot(run, next) > 0
    if (!onward || length(cross(run, chord)) > allowed) kept.push(i)
  }
  return [...kept, points.length - 1]
}

function cornerAt(points: readonly Vec3[], from: number, index: number, to: number, radius: number): Corner {
  const before = unit(sub(points[index], points[from]))
  const after = unit(sub(points[to], points[index]))
  const angle = Math.atan2(length(cross(before, after)), dot(before, after))
  return { index, at: points[index], before, after, angle, radius, setback: radius * Math.tan(angle / 2) }
}

const turnsBack = (corner: Corner): boolean => corner.angle > Math.PI - 1e-9

function backTurns(corners: readonly Corner[], fieldOf: (i: number) => string): Fault[] {
  return corners.filter(turnsBack).map((corner) => ({
    code: 'turns-back',
    field: fieldOf(corner.index),
    expected: 'a turn of less than 180°',
    got: 180,
  }))
}

function shortStraights(
  points: readonly Vec3[],
  kept: readonly number[],
  corners: readonly Corner[],
  fieldOf: (i: number) => string,
): Fault[] {
  const allowed = rounding(points)
  return kept.slice(1).flatMap((to, leg) => {
    const from = kept[leg]
    const ends = [corners[leg - 1], corners[leg]].filter((corner): corner is Corner => corner !== undefined)
    if (ends.some(turnsBack)) return []
    const straight = distance(points[from], points[to])
    const needed = ends.reduce((sum, corner) => sum + corner.setback, 0)
    if (needed <= straight + allowed) return []
    const { index } = ends[ends.length - 1]
    const side = index === to ? 'before' : 'after'
    const missing = needed - straight
    return [
      {
        code: 'straight-too-short',
        field: fieldOf(index),
        expected: 'a straight that holds the setbacks of the bends at its ends',
        got: { corners: ends.map((corner) => corner.index), from, to, side, straight, needed, missing },
      },
    ]
  })
}

function piecesOf(points: readonly Vec3[], corners: readonly Corner[]): Piece[] {
  const least = rounding(points)
  const pieces: Piece[] = []
  let at = points[0]
  const straightTo = (to: Vec3) => {
    if (distance(at, to) > least) pieces.push({ kind: 'straight', from: at, to })
  }
  for (const corner of corners) {
    const arc = arcAt(corner)
    straightTo(pointOn(arc, 0))
    pieces.push(arc)
    at = pointOn(arc, arc.angle)
  }
  straightTo(points[points.length - 1])
  return pieces
}

function arcAt(corner: Corner): ArcPiece {
  const { before: y, radius } = corner
  // Towards the centre: the part of the way on that is square to the way in.
  const inward = unit(along(corner.after, y, -dot(corner.after, y)))
  const start = along(corner.at, y, -corner.setback)
  return {
    kind: 'arc',
    centre: along(start, inward, radius),
    x: sub([0, 0, 0], inward),
    y,
    radius,
    angle: corner.angle,
  }
}

function pointOn(arc: ArcPiece, angle: number): Vec3 {
  const [c, s] = [arc.radius * Math.cos(angle), arc.radius * Math.sin(angle)]
  return add(arc.centre, add(scale(arc.x, c), scale(arc.y, s)))
}

export const pieceLength = (piece: Piece): number =>
  piece.kind === 'straight' ? distance(piece.from, piece.to) : piece.radius * piece.angle

/** Developed length of a centreline, mm. */
export const centrelineLength = (pieces: readonly Piece[]): number =>
  pieces.reduce((sum, piece) => sum + pieceLength(piece), 0)

/** Point and unit direction of travel at a share 0 … 1 of one piece's length. */
export function pointAlong(piece: Piece, share: number): { readonly point: Vec3; readonly direction: Vec3 } {
  if (piece.kind === 'straight')
    return {
      point: share === 1 ? piece.to : mix(piece.from, piece.to, share),
      direction: unit(sub(piece.to, piece.from)),
    }
  const a = share * piece.angle
  return { point: pointOn(piece, a), direction: unit(add(scale(piece.x, -Math.sin(a)), scale(piece.y, Math.cos(a)))) }
}

/**
 * Point and unit direction of travel at a length along the centreline, mm.
 * Lengths below 0 give the start, lengths beyond the end give the end; `pieces` must not be empty.
 */
export function pointAt(pieces: readonly Piece[], at: number): { readonly point: Vec3; readonly direction: Vec3 } {
  let left = Math.max(0, at)
  for (const piece of pieces) {
    const long = pieceLength(piece)
    if (left <= long) return pointAlong(piece, long > 0 ? left / long : 0)
    left -= long
  }
  return pointAlong(pieces[pieces.length - 1], 1)
}

/**
 * The part of a centreline between two lengths along it, mm, both taken into 0 … its length.
 * @returns pieces in order, none shorter than 1e-9 mm; empty where nothing is left
 */
export function trimCentreline(pieces: readonly Piece[], from: number, to: number): readonly Piece[] {
  const trimmed: Piece[] = []
  let passed = 0
  for (const piece of pieces) {
    const long = pieceLength(piece)
    const [start, end] = [Math.max(0, from - passed), Math.min(long, to - passed)]
    passed += long
    if (start <= 0 && end >= long) trimmed.push(piece)
    else if (end - start > 1e-9)
      trimmed.push(
        piece.kind === 'straight' ? partOfStraight(piece, start / long, end / long) : partOfArc(piece, start, end),
      )
  }
  return trimmed
}

function partOfStraight(piece: StraightPiece, start: number, end: number): StraightPiece {
  return { kind: 'straight', from: pointAlong(piece, start).point, to: pointAlong(piece, end).point }
}

function partOfArc(arc: ArcPiece, start: number, end: number): ArcPiece {
  const a = start / arc.radius
  const [c, s] = [Math.cos(a), Math.sin(a)]
  const x = add(scale(arc.x, c), scale(arc.y, s))
  const y = add(scale(arc.x, -s), scale(arc.y, c))
  return { ...arc, x, y, angle: (end - start) / arc.radius }
}
