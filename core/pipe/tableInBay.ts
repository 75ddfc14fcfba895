import { rollZero } from '../bay/joints.ts'
import { type PipeEnd, pipeEnd, stubsOf } from '../bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../bay/schema.ts'
import { bad, good, type Outcome } from '../fault.ts'
import { add, cross, dot, length, scale, sub, turnMatrix, unit, type Vec3 } from '../shape/vec.ts'
import type { BendRow, PipeEndName } from './answer.ts'
import { pointsFromTable } from './pointsFromTable.ts'

/** A bend table put where its pipe begins. mm, degrees, bay frame. */
export interface TableInBay {
  /** Corner points and both ends of the table's own run, from the pipe's `from` to its `to`. */
  readonly points: readonly Vec3[]
  /** How the run arrives at the pipe's other end. */
  readonly miss: {
    readonly end: PipeEndName
    readonly distance: number
    readonly angle: number
    /** From where the pipe should end to where the table ends. */
    readonly by: Vec3
  }
  /** Whether that is near enough to call it the pipe's table; see `reached`. */
  readonly reaches: boolean
}

/**
 * Near enough: what a table loses that is written to 0.1 mm and 0.01°, for some bends on legs of half a metre, and what
 * couplers take. Common practice, no source.
 */
export const reached = { distance: 1, angle: 0.5 } as const

/**
 * Where a bend table leads that begins at a port as the pipe does: along the port's direction, turned about it so that its
 * end comes nearest to where the pipe ends.
 * @param candidate of the bay, one of whose pipes is meant
 * @param rows from the pipe's beginning, or with `fromEnd` from its end; signs as in `bendTable`
 * @returns faults as of `pointsFromTable`, and 'unknown-port'
 * Turned nearest: the angle about the first straight is found in closed form (least squares of the end's place; where that
 * says nothing, since the end lies on the axis, of the way that it arrives).
 */
export function tableInBay(
  bay: Bay,
  candidate: Candidate,
  pipe: Pipe,
  rows: readonly BendRow[],
  fromEnd = false,
): Outcome<TableInBay> {
  const stubs = stubsOf(candidate, { turn: turnMatrix(candidate.turn), at: candidate.at })
  const from = pipeEnd(pipe, 'from', bay, stubs)
  const to = pipeEnd(pipe, 'to', bay, stubs)
  if (!from || !to)
    return bad({ code: 'unknown-port', item: pipe.id, expected: 'a port', got: from ? pipe.to : pipe.from })
  const [start, goal] = fromEnd ? [to, from] : [from, to]
  const upright = pointsFromTable(rows, { at: start.at, direction: start.direction, up: rollZero(start.direction) })
  if (!upright.ok) return upright
  const turn = nearestTurn(upright.value, start, goal)
  const points = upright.value.map((point) => add(start.at, turned(sub(point, start.at), start.direction, turn)))
  const last = points[points.length - 1]
  const by = sub(last, goal.at)
  const arrives = sub(points[points.length - 2], last)
  const miss = { distance: length(by), angle: angleBetween(arrives, goal.direction), by }
  return good({
    points: fromEnd ? points.reverse() : points,
    miss: { end: fromEnd ? 'from' : 'to', ...miss },
    reaches: miss.distance <= reached.distance && miss.angle <= reached.angle,
  })
}

/** Right-handed about the first straight, radians. */
function nearestTurn(points: readonly Vec3[], start: PipeEnd, goal: PipeEnd): number {
  const end = points[points.length - 1]
  const arrives = unit(sub(points[points.length - 2], end))
  const byPlace = bestTurn(sub(end, start.at), sub(goal.at, start.at), start.direction)
  return byPlace ?? bestTurn(arrives, goal.direction, start.direction) ?? 0
}

/** The turn about an axis that brings one vector nearest to another; null where one of them lies along the axis. */
function bestTurn(one: Vec3, other: Vec3, axis: Vec3): number | null {
  const cosine = dot(one, other) - dot(one, axis) * dot(other, axis)
  const sine = dot(cross(axis, one), other)
  return Math.hypot(cosine, sine) > 1e-9 * Math.max(1, length(one) * length(other)) ? Math.atan2(sine, cosine) : null
}

function turned(v: Vec3, axis: Vec3, angle: number): Vec3 {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  return add(add(scale(v, c), scale(cross(axis, v), s)), scale(axis, dot(axis, v) * (1 - c)))
}

const angleBetween = (a: Vec3, b: Vec3): number => (Math.atan2(length(cross(a, b)), dot(a, b)) * 180) / Math.PI

/**
 * A pipe that runs by a table: its corners are the table's, its bend radius that of the table's bends.
 * @param rows in the order of the pipe's `from` to `to`
 * @returns Faults: 'radii-differ' where its bends, welded elbows apart, have more than one radius. Elbows keep their
 *   corners where there are as many corners as before, and are dropped otherwise. Coordinates are rounded to 1e-6 mm.
 */
export function withTable(pipe: Pipe, rows: readonly BendRow[], points: readonly Vec3[]): Outcome<Pipe> {
  const corners = points.slice(1, -1)
  const { elbows, ...bent } = pipe
  const kept = elbows && corners.length === pipe.path.length ? elbows : []
  const radii = rows.flatMap(({ radius }, k) =>
    radius === undefined || kept.some(({ corner }) => corner === k) ? [] : [radius],
  )
  const differing = radii.find((radius) => Math.abs(radius - radii[0]) > sameRadius)
  if (differing !== undefined)
    return bad({ code: 'radii-differ', item: pipe.id, expected: `one bend radius, ${radii[0]}`, got: differing })
  const path = corners.map((p) => p.map((x) => Math.round(x * 1e6) / 1e6 + 0) as unknown as Pipe['path'][number])
  return good({ ...bent, bendRadius: radii[0] ?? pipe.bendRadius, path, ...(kept.length > 0 && { elbows: kept }) })
}

/** Dies are the same within this, mm. */
const sameRadius = 0.01
