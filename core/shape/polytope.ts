import { bad, good, type Outcome } from '../fault.ts'
import type { Polytope } from './form.ts'
import { identity, type Mat3, type Pose, placed, unit, type Vec3 } from './vec.ts'

/** Smallest length a solid may have, mm: below it, coordinates of a car's size no longer resolve the shape. */
export const leastSize = 1e-6

/**
 * A coordinate for exact orientation tests: below 1e-60 mm it counts as 0, since products of such numbers underflow
 * and exact tests would contradict each other. Never −0.
 */
export const resolved = (x: number): number => (Math.abs(x) < 1e-60 ? 0 : x)

export const vertexAt = (p: { readonly vertices: Float64Array }, i: number): Vec3 => [
  p.vertices[3 * i],
  p.vertices[3 * i + 1],
  p.vertices[3 * i + 2],
]

/**
 * Polytope from its vertices and faces, with planes that err outward.
 * @param vertices x, y, z after each other, mm; kept, not copied
 * @param faces outward loops, counter-clockwise seen from outside, planar to rounding
 * @param normals outward normals where the caller knows them better than the loops do (tiny faces); need not be unit
 * @returns planes with n·x ≤ offset for every vertex, in exact arithmetic too
 */
export function polytopeOf(
  vertices: Float64Array,
  faces: readonly (readonly number[])[],
  normals?: readonly (Vec3 | undefined)[],
): Polytope {
  const planes = new Float64Array(4 * faces.length)
  faces.forEach((face, f) => {
    const [x, y, z] = unit(normals?.[f] ?? loopNormal(vertices, face))
    const normal: Vec3 = [x + 0, y + 0, z + 0] // no −0, which is equal but prints and compares otherwise
    planes.set(normal, 4 * f)
    planes[4 * f + 3] = outwardOffset(vertices, normal)
  })
  return { kind: 'polytope', vertices, faces, planes }
}

/** Twice the vector area of a loop (Newell), taken about its first vertex so that far-off solids lose no digits. */
export function loopNormal(vertices: Float64Array, loop: readonly number[]): Vec3 {
  const o = 3 * loop[0]
  const [ox, oy, oz] = [vertices[o], vertices[o + 1], vertices[o + 2]]
  let [nx, ny, nz] = [0, 0, 0]
  for (let i = 1; i + 1 < loop.length; i++) {
    const [a, b] = [3 * loop[i], 3 * loop[i + 1]]
    const [ax, ay, az] = [vertices[a] - ox, vertices[a + 1] - oy, vertices[a + 2] - oz]
    const [bx, by, bz] = [vertices[b] - ox, vertices[b + 1] - oy, vertices[b + 2] - oz]
    nx += ay * bz - az * by
    ny += az * bx - ax * bz
    nz += ax * by - ay * bx
  }
  return [nx, ny, nz]
}

/**
 * Greatest n·x over the vertices, rounded outward. A three-term dot product is off by less than 2 ulps of the sum of
 * its terms' sizes; twice that is added, and 1e-300 for products that underflow, so the plane holds in exact arithmetic.
 */
export function outwardOffset(vertices: Float64Array, [nx, ny, nz]: Vec3): number {
  let offset = -Infinity
  for (let i = 0; i < vertices.length; i += 3) {
    const [a, b, c] = [nx * vertices[i], ny * vertices[i + 1], nz * vertices[i + 2]]
    const up = a + b + c + 4 * Number.EPSILON * (Math.abs(a) + Math.abs(b) + Math.abs(c)) + 1e-300
    if (up > offset) offset = up
  }
  return offset
}

/** Faces of a body with the corner numbering of `cornersOf`: bit 0 = X, bit 1 = Y, bit 2 = Z high. Order −X +X −Y +Y −Z +Z. */
const boxFaces: readonly (readonly number[])[] = [
  [0, 4, 6, 2],
  [1, 3, 7, 5],
  [0, 1, 5, 4],
  [2, 6, 7, 3],
  [0, 2, 3, 1],
  [4, 5, 7, 6],
]

/**
 * Box as a polytope.
 * @param centre mm, bay frame
 * @param size full lengths along the box's own axes, mm, each at least 1e-6
 * @param turn orthogonal matrix; the box turns about its centre
 * @returns faces in the order −X, +X, −Y, +Y, −Z, +Z of the box's own axes; fault 'too-small' for a length below 1e-6 mm or not a number
 */
export function boxPolytope(centre: Vec3, size: Vec3, turn: Mat3 = identity): Outcome<Polytope> {
  if (!size.every((s) => s >= leastSize))
    return bad({ code: 'too-small', field: 'size', expected: 'each length at least 0.000001 mm', got: [...size] })
  const pose: Pose = { turn, at: centre }
  const vertices = new Float64Array(24)
  for (let i = 0; i < 8; i++) {
    const corner: Vec3 = [
      (i & 1 ? 0.5 : -0.5) * size[0],
      (i & 2 ? 0.5 : -0.5) * size[1],
      (i & 4 ? 0.5 : -0.5) * size[2],
    ]
    vertices.set(placed(pose, corner), 3 * i)
  }
  const axis = (k: number, s: number): Vec3 => [s * turn[k], s * turn[3 + k], s * turn[6 + k]]
  const normals = [0, 1, 2].flatMap((k) => [axis(k, -1), axis(k, 1)])
  return good(polytopeOf(vertices, boxFaces, normals))
}

/** An end tank in the candidate's frame (core centre at the origin, X depth, Y width, Z height), mm. */
export interface TankOutline {
  /** Y of the core's side that the tank sits on. */
  readonly y: number
  /** −1: outward is −Y (left tank); 1: outward is +Y (right tank). */
  readonly outward: -1 | 1
  readonly length: number
  /** Extent of the foot in X and in Z. */
  readonly footX: readonly [number, number]
  readonly footZ: readonly [number, number]
  /** The far end's lengths as shares of the foot's, about the foot's centre. */
  readonly taper: { readonly depth: number; readonly height: number }
}

/**
 * End tank with rectangular foot and tapered far end.
 * @param pose the candidate's place and turn in the bay
 * @returns faces in the order front (−X), rear (+X), −Y, +Y, below (−Z), above (+Z);
 *          faults 'tank-length', 'tank-foot', 'tank-end' where a length falls below 1e-6 mm (overhangs may be negative)
 */
export function tankPolytope(tank: TankOutline, pose: Pose): Outcome<Polytope> {
  const depth = tank.footX[1] - tank.footX[0]
  const height = tank.footZ[1] - tank.footZ[0]
  const expected = 'each length at least 0.000001 mm'
  if (!(tank.length >= leastSize)) return bad({ code: 'tank-length', field: 'length', expected, got: tank.length })
  if (!(depth >= leastSize && height >= leastSize)) return bad({ code: 'tank-foot', expected, got: [depth, height] })
  const end = [depth * tank.taper.depth, height * tank.taper.height]
  if (!(end[0] >= leastSize && end[1] >= leastSize))
    return bad({ code: 'tank-end', field: 'taper', expected, got: end })

  const vertices = new Float64Array(24)
  for (let i = 0; i < 8; i++) vertices.set(placed(pose, tankCorner(tank, i)), 3 * i)
  const side = (s: number): Vec3 => [s * pose.turn[1], s * pose.turn[4], s * pose.turn[7]]
  return good(polytopeOf(vertices, boxFaces, [undefined, undefined, side(-1), side(1)]))
}

function tankCorner(tank: TankOutline, i: number): Vec3 {
  const far = ((i & 2) !== 0) === tank.outward > 0
  const x = tank.footX[i & 1 ? 1 : 0]
  const z = tank.footZ[i & 4 ? 1 : 0]
  if (!far) return [x, tank.y, z]
  const [midX, midZ] = [(tank.footX[0] + tank.footX[1]) / 2, (tank.footZ[0] + tank.footZ[1]) / 2]
  return [
    midX + (x - midX) * tank.taper.depth,
    tank.y + tank.outward * tank.length,
    midZ + (z - midZ) * tank.taper.height,
  ]
}
