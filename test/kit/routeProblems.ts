import type { RouteObstacle, RouteProblem } from '../../core/pipe/route/problem.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { checkMesh } from '../../core/shape/meshCheck.ts'
import { boxPolytope } from '../../core/shape/polytope.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import { identity, type Mat3, unit, type Vec3 } from '../../core/shape/vec.ts'

/** Problems of routes, made of plain solids. Lengths mm. Without a word of its own an obstacle asks for 5 mm. */
const usualNeed = 5

export const block = (name: string, low: Vec3, high: Vec3, need = usualNeed): RouteObstacle =>
  turnedBlock(
    name,
    [0, 1, 2].map((k) => (low[k] + high[k]) / 2) as unknown as Vec3,
    [0, 1, 2].map((k) => high[k] - low[k]) as unknown as Vec3,
    identity,
    need,
  )

export function turnedBlock(name: string, centre: Vec3, size: Vec3, turn: Mat3, need = usualNeed): RouteObstacle {
  const body = boxPolytope(centre, size, turn)
  if (!body.ok) throw new Error(name)
  return obstacle(name, solidFrom([{ form: 'convex', body: body.value }]), need)
}

/** Solid on the side that the normal points away from. */
export const wall = (name: string, point: Vec3, normal: Vec3, need = usualNeed): RouteObstacle =>
  obstacle(name, solidFrom([{ form: 'halfSpace', point, normal: unit(normal) }]), need)

/** A mesh of triangles given by their corners. */
export function surface(
  name: string,
  triangles: readonly (readonly [Vec3, Vec3, Vec3])[],
  need = usualNeed,
): RouteObstacle {
  const positions = Float64Array.from(triangles.flat(2))
  const made = checkMesh(
    positions,
    Uint32Array.from({ length: positions.length / 3 }, (_, i) => i),
  )
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return meshed(name, made.value.mesh, need)
}

export const meshed = (name: string, mesh: Mesh, need = usualNeed): RouteObstacle =>
  obstacle(name, solidFrom([{ form: 'mesh', mesh, pose: { turn: identity, at: [0, 0, 0] } }]), need)

export const obstacle = (name: string, solid: RouteObstacle['solid'], need = usualNeed): RouteObstacle => ({
  name,
  kind: 'keepOut',
  solid,
  need,
  exempt: { from: 0, to: 0 },
})

/** Tube ⌀ 50, so that its middle keeps 30 mm from everything, on bends of 60 mm, all straights at least 30 mm. */
export const problemOf = (
  from: readonly [at: Vec3, direction: Vec3],
  to: readonly [at: Vec3, direction: Vec3],
  obstacles: readonly RouteObstacle[],
  rest: Partial<RouteProblem> = {},
): RouteProblem => ({
  from: { at: from[0], direction: unit(from[1]), leastStraight: 30 },
  to: { at: to[0], direction: unit(to[1]), leastStraight: 30 },
  radius: 25,
  bendRadius: 60,
  leastStraight: 30,
  largestAngle: (120 * Math.PI) / 180,
  obstacles,
  box: { min: [-500, -500, -500], max: [500, 500, 500] },
  selfNeed: 0,
  ...rest,
})

/** A rectangle as two triangles, corners in order round it. */
export const rectangle = (a: Vec3, b: Vec3, c: Vec3, d: Vec3): readonly (readonly [Vec3, Vec3, Vec3])[] => [
  [a, b, c],
  [a, c, d],
]
