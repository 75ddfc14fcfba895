import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { type BendRadius, repeatedPoints, rounding, turningPoints } from '../shape/centreline.ts'
import { cross, distance, dot, length, sub, unit, type Vec3 } from '../shape/vec.ts'
import type { BendRow } from './answer.ts'

/** A run of straights and bends, as the bender takes it and as lengths. mm, degrees. */
export interface BendRun {
  readonly table: readonly BendRow[]
  /** Between tangent points, one more than bends; negative where two bends want more than there is. */
  readonly straights: readonly number[]
  readonly arcs: readonly number[]
  /** Σ straights + Σ arcs. */
  readonly developed: number
  /** For each bend the number of its point; points that turn nothing have none. */
  readonly corners: readonly number[]
}

/** Turns so near to 180° have no tangent point within any car. */
const turnsBackDeg = 180 - (1e-9 * 180) / Math.PI
/** Half turns come out as + or − by rounding alone: both are told as +180. */
const halfTurnDeg = 180 - 1e-9

/**
 * Bend table of a centreline: for each bend the straight before it, the turn of the tube about its feed direction since
 * the bend before (right-hand rule positive, −180 … 180, 0 before the first), the angle bent and the radius.
 * @param points corners with both ends, mm, any frame; ends are not rounded
 * @param bendRadius of the centreline, mm: one for all corners, or that of each by its number among them (0 is `points[1]`)
 * @returns rows, straights, arcs, developed length. Points that turn nothing (within rounding) vanish. A straight that is
 *   too short for its bends comes out negative: the table is given all the same, and cannot be bent.
 *   Faults, all of one kind at once: 'too-few-points', 'not-finite', 'repeated-point', 'turns-back' (180°),
 *   'bend-too-tight' (a radius not above 0).
 * Reversing the points reverses straights, bends and rotations; a mirror image has its rotations' signs turned.
 * Source: straight = leg − setbacks, setback = radius · tan(angle / 2), rotation = atan2(u·(n₁×n₂), n₁·n₂): derived,
 *   checks D1.
 */
export function bendTable(points: readonly Vec3[], bendRadius: BendRadius): Outcome<BendRun> {
  const faults = pointFaults(points)
  if (faults.length > 0) return bad(...faults)
  const kept = turningPoints(points)
  const radiusOf = (point: number) => (typeof bendRadius === 'number' ? bendRadius : bendRadius(point - 1))
  const bends = bendsOf(kept.map((i) => points[i])).map((bend, k) => ({ ...bend, corner: kept[k + 1] }))
  const wrong = bends.flatMap((bend) => bendFaults(bend, radiusOf(bend.corner)))
  if (wrong.length > 0) return bad(...wrong)
  const radii = bends.map(({ corner }) => radiusOf(corner))
  const setbacks = [0, ...bends.map(({ angle }, k) => radii[k] * Math.tan(rad(angle) / 2)), 0]
  const dust = rounding(points)
  const straights = kept.slice(1).map((to, leg) => {
    const straight = distance(points[kept[leg]], points[to]) - setbacks[leg] - setbacks[leg + 1]
    return Math.abs(straight) <= dust ? 0 : straight
  })
  const arcs = bends.map(({ angle }, k) => radii[k] * rad(angle))
  const rows = bends.map(({ rotation, angle }, k) => ({ length: straights[k], rotation, angle, radius: radii[k] }))
  return good({
    table: [...rows, { length: straights[straights.length - 1] }],
    straights,
    arcs,
    developed: [...straights, ...arcs].reduce((sum, x) => sum + x, 0),
    corners: bends.map(({ corner }) => corner),
  })
}

const rad = (degrees: number): number => (degrees * Math.PI) / 180
const deg = (radians: number): number => (radians * 180) / Math.PI

function pointFaults(points: readonly Vec3[]): Fault[] {
  if (points.length < 2) return [{ code: 'too-few-points', expected: 'at least 2 points', got: points.length }]
  const wild = points.flatMap((p, i) => (p.every(Number.isFinite) ? [] : [i]))
  if (wild.length > 0)
    return wild.map((i) => ({ code: 'not-finite', field: `[${i}]`, expected: 'numbers', got: points[i].map(String) }))
  return repeatedPoints(points).map((i) => ({
    code: 'repeated-point',
    field: `[${i}]`,
    expected: 'a point away from the one before',
    got: [...points[i]],
  }))
}

interface Bend {
  /** Degrees turned. */
  readonly angle: number
  /** Degrees about the feed since the bend before. */
  readonly rotation: number
}

/** @param points without any that turn nothing */
function bendsOf(points: readonly Vec3[]): Bend[] {
  const ways = points.slice(1).map((p, i) => unit(sub(p, points[i])))
  const normals = ways.slice(1).map((way, i) => cross(ways[i], way))
  return normals.map((normal, i) => ({
    angle: deg(Math.atan2(length(normal), dot(ways[i], ways[i + 1]))),
    rotation: i === 0 ? 0 : rotationOf(normals[i - 1], normal, ways[i]),
  }))
}

function rotationOf(before: Vec3, after: Vec3, feed: Vec3): number {
  const rotation = deg(Math.atan2(dot(feed, cross(before, after)), dot(before, after)))
  return Math.abs(rotation) >= halfTurnDeg ? 180 : rotation + 0
}

function bendFaults({ angle, corner }: Bend & { readonly corner: number }, radius: number): Fault[] {
  const field = `[${corner}]`
  if (angle >= turnsBackDeg)
    return [{ code: 'turns-back', field, expected: 'a turn of less than 180°', got: Number(angle.toFixed(6)) }]
  return radius > 0 && Number.isFinite(radius)
    ? []
    : [{ code: 'bend-too-tight', field, expected: 'a radius above 0 mm', got: radius }]
}

/** The same run from its other end: bends, straights and rotations in reverse, rotations with their signs kept. */
export function reversedTable(table: readonly BendRow[]): BendRow[] {
  const bends = table.flatMap(({ rotation, angle, radius }) =>
    angle === undefined ? [] : [{ rotation, angle, radius }],
  )
  const straights = table.map((row) => row.length).reverse()
  const rows = bends.toReversed().map(({ angle, radius }, k) => ({
    length: straights[k],
    // Between two bends the tube turns by the same angle either way round; the first of either way has none before it.
    rotation: k === 0 ? 0 : bends[bends.length - k].rotation,
    angle,
    radius,
  }))
  return [...rows, { length: straights[straights.length - 1] }]
}
