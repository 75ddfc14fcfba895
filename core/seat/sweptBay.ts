import { askedBy } from '../bay/defaults.ts'
import { keepOutSolids } from '../bay/keepOuts.ts'
import type { KeepOutSolid, Meshes } from '../bay/part.ts'
import type { Bay, Candidate, KeepOut } from '../bay/schema.ts'
import { pointAlong } from '../shape/centreline.ts'
import type { Form, Piece } from '../shape/form.ts'
import { hullPolytope } from '../shape/hull.ts'
import { vertexAt } from '../shape/polytope.ts'
import type { Shape } from '../shape/registry.ts'
import {
  add,
  along,
  cross,
  dot,
  identity,
  placedBack,
  type Pose,
  squareTo,
  turnedBack,
  type Vec3,
} from '../shape/vec.ts'
import type { Move } from './answer.ts'
import { poseAt, posesFrom, reversedMove } from './move.ts'
import { stays } from './subject.ts'

/** A bay in which standing at the seat is as hard as coming in by given moves. */
export interface SweptBay {
  readonly bay: Bay
  /** Keep-outs that stay and whose sweep is not in it, or only in part: meshes. A bound from this bay holds all the same. */
  readonly notCounted: readonly string[]
}

/**
 * Carried by T, a part meets a point q on its way just where, standing at its seat, it would meet the point T⁻¹q. So beside
 * every keep-out of the bay stand those carried back: all along each move that only shifts (of a convex piece the hull of where
 * it is at the move's beginning and at its end), and at moments of each move that turns.
 *
 * Round things are taken a little within themselves, meshes are left out, and so are mounts, which may touch what they are
 * fixed to: whatever comes in by these moves stands clear in this bay. The other way round holds where nothing turns and
 * nothing is round or left out.
 * @param moves in the order of offering up; every core goes by these very moves, pivots and all, to its own seat
 * @param need clearance wanted on the way, mm; each keep-out's own caps it
 * @returns null where something cannot be made
 */
export function sweptBay(
  bay: Bay,
  candidate: Candidate,
  meshes: Meshes,
  moves: readonly Move[],
  need: number,
): SweptBay | null {
  const solids = keepOutSolids(bay, meshes)
  if (!solids.ok) return null
  const legs = legsOf(moves)
  const standing = solids.value.filter(({ keepOut }) => stays(keepOut))
  const ids = new Set(bay.keepOuts.map(({ id }) => id))
  const swept = standing.flatMap((each) => sweptOf(each, legs, need))
  const named = swept.map((keepOut, n): KeepOut => ({ ...keepOut, id: freeId(ids, n) }))
  const notCounted = standing.filter(({ solid }) => solid.forms.some(({ form }) => form === 'mesh')).map(({ id }) => id)
  const { mounts: _, ...bare } = candidate
  return { bay: { ...bay, keepOuts: [...bay.keepOuts, ...named], candidates: [bare] }, notCounted }
}

function freeId(ids: Set<string>, n: number): string {
  let id = `on-the-way-${n}`
  while (ids.has(id)) id = `${id}-0`
  ids.add(id)
  return id
}

/** Of a move that turns, moments so far apart are looked at, degrees. */
const apart = 3

/** How the part is carried from its seat to the beginning and the end of each stretch; the two have the same turn. */
function legsOf(moves: readonly Move[]): [Pose, Pose][] {
  const back = [...moves].reverse().map(reversedMove)
  const before = posesFrom({ at: [0, 0, 0], turn: identity }, back)
    .slice(1)
    .reverse()
  return moves.flatMap((move, n): [Pose, Pose][] => {
    const at = (share: number): Pose => poseAt(before[n], move, share)
    if (move.angle === 0) return [[at(0), at(1)]]
    const steps = Math.ceil(Math.abs(move.angle) / apart)
    return Array.from({ length: steps + 1 }, (_, i) => [at(i / steps), at(i / steps)])
  })
}

function sweptOf({ keepOut, solid }: KeepOutSolid, legs: readonly [Pose, Pose][], need: number): KeepOut[] {
  const { required, uncertainty } = askedBy(keepOut)
  const asked = { clearance: Math.min(need, required), uncertainty }
  return legs.flatMap(([from, to]) =>
    solid.forms.flatMap((form): KeepOut[] =>
      shapesBetween(form, from, to).map((shape) => ({
        id: keepOut.id,
        name: keepOut.name,
        role: keepOut.role,
        ...asked,
        shape,
      })),
    ),
  )
}

/** The keep-out's form as it comes by while the part is carried from one place to another, seen from the seat. */
function shapesBetween(form: Form, from: Pose, to: Pose): Shape[] {
  if (form.form === 'mesh') return []
  if (form.form === 'halfSpace') {
    const normal = turnedBack(from.turn, form.normal)
    const [a, b] = [from, to].map((carried) => placedBack(carried, form.point))
    return [{ kind: 'halfSpace', point: free(dot(a, normal) > dot(b, normal) ? a : b), normal: free(normal) }]
  }
  return pointSets(form).flatMap((points): Shape[] => {
    const both = points.flatMap((p) => [placedBack(from, p), placedBack(to, p)])
    return hullPolytope(both).ok ? [{ kind: 'hull', points: both.map(free) }] : []
  })
}

const free = ([x, y, z]: Vec3): [number, number, number] => [x, y, z]

/** Corners of convex pieces that lie within the form. */
function pointSets(form: Exclude<Form, { form: 'mesh' | 'halfSpace' }>): Vec3[][] {
  if (form.form === 'round') return form.centreline.flatMap((piece) => discHulls(piece, form.radius))
  const { body } = form
  if (body.kind === 'cylinder') return discHulls({ kind: 'straight', from: body.from, to: body.to }, body.radius)
  return [Array.from({ length: body.vertices.length / 3 }, (_, i) => vertexAt(body, i))]
}

const sides = 16
/** An arc is told by chords that turn by no more than this, radians. */
const chord = Math.PI / 12

/**
 * Two discs and what lies between. Along an arc their radius is less by as much as the chord lies off it, so that their hull
 * stays within the tube.
 */
function discHulls(piece: Piece, radius: number): Vec3[][] {
  const steps = piece.kind === 'straight' ? 1 : Math.ceil(piece.angle / chord)
  const less = piece.kind === 'straight' ? 0 : piece.radius * (1 - Math.cos(piece.angle / steps / 2))
  if (less >= radius) return []
  const discs = Array.from({ length: steps + 1 }, (_, i) => disc(piece, i / steps, radius - less))
  return discs.slice(1).map((next, i) => [...discs[i], ...next])
}

function disc(piece: Piece, share: number, radius: number): Vec3[] {
  const { point, direction } = pointAlong(piece, share)
  const [u] = squareTo(direction)
  const v = cross(direction, u)
  return Array.from({ length: sides }, (_, k) => {
    const a = (2 * Math.PI * k) / sides
    return add(along(point, u, radius * Math.cos(a)), [
      v[0] * radius * Math.sin(a),
      v[1] * radius * Math.sin(a),
      v[2] * radius * Math.sin(a),
    ])
  })
}
