import { z } from 'zod'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import type { ShapeDefinition } from './definition.ts'
import { lengthSchema, pointSchema, vectorSchema } from './fields.ts'
import type { ConvexForm, Form } from './form.ts'
import { leastSize, polytopeOf } from './polytope.ts'
import { readSection, type Section } from './section.ts'
import { along, cross, dot, length, scale, sub, unit, type Vec3 } from './vec.ts'

/** `section`: polygon (u, v), mm: v along `up`, u along `up × direction of travel`; mitred corners, flat ends. */
const schema = z.strictObject({
  kind: z.literal('sweep'),
  section: z
    .array(z.tuple([lengthSchema, lengthSchema]))
    .min(3)
    .max(500),
  path: z.array(pointSchema).min(2).max(1000),
  up: vectorSchema,
})
type SweepShape = z.infer<typeof schema>

/** Convex parts of the section times legs; more than this is no sweep that anybody measured. */
const mostPieces = 20_000

/** Place and directions at one path point: a section point (u, v) lies at `at + u·across + v·up`. */
interface Station {
  readonly at: Vec3
  readonly across: Vec3
}

/**
 * Mitred sweep as convex pieces, one for each convex part of the section and each leg of the path. Neighbouring pieces
 * are made from the same corner points, so the union has no slit.
 * Faults: 'repeated-point', 'zero-area', 'self-crossing' (section); 'zero-length', 'path-out-of-plane', 'turns-back',
 * 'mitre-overruns' (path), each naming the section or path point.
 */
function solid({ section, path, up }: SweepShape): Outcome<readonly Form[]> {
  const checked = readSection(section, 'shape.section')
  const small = sizeFault(section)
  if (small) return bad(small)
  const upward = unit(unit(up)) // twice: near the smallest numbers a length is known to a bit or two only
  const legs = checked.ok ? legsOf(path, upward) : bad()
  if (!checked.ok) return checked
  if (!legs.ok) return legs
  const stations = stationsOf(legs.value, upward)
  if (!stations.ok) return stations
  const count = checked.value.pieces.length * legs.value.length
  if (count > mostPieces)
    return bad({ code: 'too-many-pieces', field: 'shape.path', expected: `at most ${mostPieces}`, got: count })
  const fault = overrun(legs.value, stations.value, checked.value)
  return fault ? bad(fault) : good(pieces(checked.value, stations.value, legs.value, upward))
}

function sizeFault(section: SweepShape['section']): Fault | null {
  const [us, vs] = [section.map(([u]) => u), section.map(([, v]) => v)]
  const got = [Math.max(...us) - Math.min(...us), Math.max(...vs) - Math.min(...vs)]
  if (Math.max(...got) >= leastSize) return null
  return { code: 'too-small', field: 'shape.section', expected: 'a section of at least 0.000001 mm', got }
}

interface Leg {
  readonly from: Vec3
  readonly to: Vec3
  readonly direction: Vec3
  readonly length: number
}

/** How far a path point may lie off the plane, mm: rounding of typed points; the point is then laid into the plane. */
function legsOf(path: readonly Vec3[], up: Vec3): Outcome<readonly Leg[]> {
  const heights = path.map((p) => dot(sub(p, path[0]), up))
  const extent = Math.max(...path.map((p) => length(sub(p, path[0]))))
  const allowed = Math.max(1e-6, 1e-7 * extent)
  const off = heights.findIndex((h) => !(Math.abs(h) <= allowed))
  if (off >= 0)
    return bad({
      code: 'path-out-of-plane',
      field: `shape.path[${off}]`,
      expected: 'a path in a plane square to "up"',
      got: heights[off],
    })
  const flat = path.map((p, i) => along(p, up, -heights[i]))
  const legs: Leg[] = []
  for (let i = 0; i + 1 < flat.length; i++) {
    const run = sub(flat[i + 1], flat[i])
    const long = length(run)
    if (!(long >= leastSize)) {
      const expected = 'at least 0.000001 mm from the point before'
      return bad({ code: 'zero-length', field: `shape.path[${i + 1}]`, expected, got: long })
    }
    legs.push({ from: flat[i], to: flat[i + 1], direction: unit(run), length: long })
  }
  return good(legs)
}

function stationsOf(legs: readonly Leg[], up: Vec3): Outcome<readonly Station[]> {
  const sides = legs.map((leg) => unit(cross(up, leg.direction)))
  const stations: Station[] = [{ at: legs[0].from, across: sides[0] }]
  for (let i = 1; i < legs.length; i++) {
    // The mitre lies along the sum of both sides, as long as keeps its share along each side 1.
    const both: Vec3 = [sides[i - 1][0] + sides[i][0], sides[i - 1][1] + sides[i][1], sides[i - 1][2] + sides[i][2]]
    const square = dot(both, both)
    if (square < 1e-12)
      return bad({ code: 'turns-back', field: `shape.path[${i}]`, expected: 'a turn of less than 180°', got: 180 })
    stations.push({ at: legs[i].from, across: scale(both, 2 / square) })
  }
  const last = legs[legs.length - 1]
  return good([...stations, { at: last.to, across: sides[sides.length - 1] }])
}

/** A leg whose two mitres cross within the section, as a fault. */
function overrun(legs: readonly Leg[], stations: readonly Station[], section: Section): Fault | null {
  const us = section.corners.map(([u]) => u)
  for (const [i, leg] of legs.entries()) {
    const growth = dot(sub(stations[i + 1].across, stations[i].across), leg.direction)
    const left = Math.min(...[Math.min(...us), Math.max(...us)].map((u) => leg.length + u * growth))
    if (left >= leastSize) continue
    return {
      code: 'mitre-overruns',
      field: `shape.path[${i + 1}]`,
      expected: 'legs longer than the mitres at their ends',
      got: { leg: i, length: leg.length, missing: leastSize - left },
    }
  }
  return null
}

/**
 * Normals are taken from the section and the path, not from the corners: a sliver of a section, or a section far from
 * the origin, keeps true planes.
 */
function pieces(section: Section, stations: readonly Station[], legs: readonly Leg[], up: Vec3): ConvexForm[] {
  const rings = stations.map(({ at, across }) => section.corners.map(([u, v]) => along(along(at, across, u), up, v)))
  const caps = stations.map(({ across }) => unit(cross(across, up)))
  return legs.flatMap(({ direction }, i) => {
    const side = cross(up, direction)
    return section.pieces.map((piece): ConvexForm => {
      const corners = [...piece.map((k) => rings[i][k]), ...piece.map((k) => rings[i + 1][k])]
      const walls = piece.map((k, n) => {
        const [from, to] = [section.corners[k], section.corners[piece[(n + 1) % piece.length]]]
        return along(scale(side, to[1] - from[1]), up, from[0] - to[0])
      })
      const normals = [scale(caps[i], -1), caps[i + 1], ...walls]
      return { form: 'convex', body: polytopeOf(Float64Array.from(corners.flat()), prismFaces(piece.length), normals) }
    })
  })
}

/** Faces of a prism: corners 0 … n − 1 at the near end, counter-clockwise seen along the travel's far side, n … 2n − 1 beyond. */
function prismFaces(n: number): number[][] {
  const near = Array.from({ length: n }, (_, k) => n - 1 - k)
  const far = Array.from({ length: n }, (_, k) => n + k)
  const sides = far.map((_, k) => [k, (k + 1) % n, n + ((k + 1) % n), n + k])
  return [near, far, ...sides]
}

export const sweep = { kind: 'sweep', schema, solid } satisfies ShapeDefinition<SweepShape>
