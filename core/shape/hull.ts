import { orient2d } from 'robust-predicates'
import { z } from 'zod'
import { bad, good, type Outcome } from '../fault.ts'
import { convexHull } from './convexHull.ts'
import type { ShapeDefinition } from './definition.ts'
import { pointSchema } from './fields.ts'
import type { Form, Polytope } from './form.ts'
import { extremePoints, mergedFaces } from './hullFaces.ts'
import { leastSize, loopNormal, polytopeOf, resolved, vertexAt } from './polytope.ts'
import type { Vec3 } from './vec.ts'

/** Convex hull of at least four points that do not lie in a plane, mm. */
const schema = z.strictObject({ kind: z.literal('hull'), points: z.array(pointSchema).min(4).max(5_000) })
type HullShape = z.infer<typeof schema>

/**
 * Convex hull of points as a polytope.
 * @param points mm; equal ones count once
 * @returns every extreme point is a vertex, exactly as given; faces are merged where they lie in one plane to within
 *          32 ulps of the largest coordinate, planes err outward. Fault 'planar-hull' where the hull is thinner than a
 *          billionth of its extent (or than coordinates of that size resolve): it then has no inside worth the name.
 */
export function hullPolytope(points: readonly Vec3[]): Outcome<Polytope> {
  const unequal = withoutEqual(points)
  const planar = (thickness: number) =>
    bad({
      code: 'planar-hull',
      field: 'points',
      expected: 'at least 4 points that do not lie in a plane',
      got: { points: points.length, thickness },
    })
  const triangles = unequal.length >= 12 ? convexHull(unequal) : null
  if (!triangles) return planar(0)

  const largest = unequal.reduce((most, x) => Math.max(most, Math.abs(x)), 0)
  const faces = mergedFaces(unequal, triangles, 32 * Number.EPSILON * largest)
  const body = trimmed(unequal, faces, extremePoints(unequal, triangles))
  const size = extent(body.vertices)
  if (size < leastSize)
    return bad({ code: 'too-small', field: 'points', expected: 'an extent of at least 0.000001 mm', got: size })
  const thin = thinnerThan(body, Math.max(1e-9 * size, 64 * Number.EPSILON * largest))
  return thin === undefined ? good(body) : planar(thin)
}

function withoutEqual(points: readonly Vec3[]): Float64Array {
  const seen = new Map<string, readonly number[]>()
  for (const p of points) {
    const point = p.map(resolved)
    seen.set(point.join(), point)
  }
  return Float64Array.from([...seen.values()].flat())
}

/**
 * Body with the extreme points as vertices. A corner that only two faces name (merging has made it the middle of an
 * edge) leaves the loops and stays a vertex.
 */
function trimmed(points: Float64Array, faces: readonly number[][], extreme: Uint8Array): Polytope {
  const uses = new Uint32Array(points.length / 3)
  for (const face of faces) for (const i of face) uses[i]++
  const loops = faces.map((face) => face.filter((i) => uses[i] > 2))
  const named = loops.every((loop) => loop.length >= 3) ? loops : faces
  const keep = new Set(named.flat())
  for (const [i, is] of extreme.entries()) if (is) keep.add(i)
  const kept = [...keep].sort((a, b) => a - b)
  const number = new Map(kept.map((old, i) => [old, i]))
  const vertices = Float64Array.from(kept.flatMap((i) => [points[3 * i], points[3 * i + 1], points[3 * i + 2]]))
  const renumbered = named.map((loop) => loop.map((i) => number.get(i) as number))
  return polytopeOf(
    vertices,
    renumbered,
    renumbered.map((loop) => facing(vertices, loop)),
  )
}

/**
 * Normal of a face. A sliver whose rounded normal vanishes still has an exact orientation in one of its projections:
 * rough, but never zero, and the plane is set outside all vertices anyway.
 */
function facing(vertices: Float64Array, loop: readonly number[]): Vec3 {
  const normal = loopNormal(vertices, loop)
  if (normal.some((x) => x !== 0)) return normal
  const [a, b, c] = loop.map((i) => vertexAt({ vertices }, i))
  const flat = (k: number, l: number) => -orient2d(a[k], a[l], b[k], b[l], c[k], c[l])
  return [flat(1, 2), flat(2, 0), flat(0, 1)]
}

/** The body's extent square to the first of its faces where that is no more than `limit`, mm; undefined where none is so thin. */
function thinnerThan({ vertices, planes }: Polytope, limit: number): number | undefined {
  for (let f = 0; f < planes.length; f += 4) {
    let deepest = 0
    // A single far vertex settles a face: on round bodies of many faces, looking at all would take seconds.
    for (let i = 0; i < vertices.length && !(deepest > limit); i += 3)
      deepest = Math.max(
        deepest,
        planes[f + 3] - (planes[f] * vertices[i] + planes[f + 1] * vertices[i + 1] + planes[f + 2] * vertices[i + 2]),
      )
    if (!(deepest > limit)) return deepest
  }
  return undefined
}

function extent(vertices: Float64Array): number {
  let most = 0
  for (let k = 0; k < 3; k++) {
    let [low, high] = [Infinity, -Infinity]
    for (let i = k; i < vertices.length; i += 3) {
      low = Math.min(low, vertices[i])
      high = Math.max(high, vertices[i])
    }
    most = Math.max(most, high - low)
  }
  return most
}

function solid({ points }: HullShape): Outcome<readonly Form[]> {
  const body = hullPolytope(points)
  if (!body.ok) return bad(...body.faults.map((fault) => ({ ...fault, field: `shape.${fault.field}` })))
  return good([{ form: 'convex', body: body.value }])
}

export const hull = { kind: 'hull', schema, solid } satisfies ShapeDefinition<HullShape>
