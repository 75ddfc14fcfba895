import { centrelineLength, pieceLength } from './centreline.ts'
import type { Form, Piece, Polytope, Solid } from './form.ts'
import { distance, placed, type Vec3 } from './vec.ts'

/** Volume in mm³, surface in mm², centre of volume in mm. */
export interface Measure {
  readonly volume: number
  readonly area: number
  readonly centroid: Vec3
}

/**
 * What a triangulated surface encloses and covers; sums are taken about its first vertex, so that far-off solids lose
 * no digits.
 * @param triangles three vertex numbers each, counter-clockwise seen from outside
 * @returns for an open surface only `area` means anything
 */
export function surfaceMeasure(positions: Float64Array, triangles: ArrayLike<number>): Measure {
  const o = 3 * triangles[0]
  const [ox, oy, oz] = [positions[o], positions[o + 1], positions[o + 2]]
  let [six, area, mx, my, mz] = [0, 0, 0, 0, 0]
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]]
    const [ax, ay, az] = [positions[a] - ox, positions[a + 1] - oy, positions[a + 2] - oz]
    const [bx, by, bz] = [positions[b] - ox, positions[b + 1] - oy, positions[b + 2] - oz]
    const [cx, cy, cz] = [positions[c] - ox, positions[c + 1] - oy, positions[c + 2] - oz]
    const [ux, uy, uz] = [bx - ax, by - ay, bz - az]
    const [vx, vy, vz] = [cx - ax, cy - ay, cz - az]
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
    area += Math.sqrt(nx * nx + ny * ny + nz * nz) / 2
    const part = ax * nx + ay * ny + az * nz
    six += part
    mx += part * (ax + bx + cx)
    my += part * (ay + by + cy)
    mz += part * (az + bz + cz)
  }
  return { volume: six / 6, area, centroid: [ox + mx / six / 4, oy + my / six / 4, oz + mz / six / 4] }
}

/** Triangles of all faces of a polytope, fanned from each face's first corner. */
export function faceTriangles({ faces }: Polytope): number[] {
  return faces.flatMap((face) => face.slice(2).flatMap((c, i) => [face[0], face[i + 1], c]))
}

/**
 * Volume, surface and centre of a form.
 * @returns null where there is no volume to speak of: a half-space (infinite) and an open mesh (no inside).
 * Round forms by Pappus and Guldin: the centroid of a disc travels the centreline.
 */
export function measureForm(form: Form): Measure | null {
  switch (form.form) {
    case 'convex': {
      if (form.body.kind === 'polytope') return surfaceMeasure(form.body.vertices, faceTriangles(form.body))
      const { from, to, radius } = form.body
      return {
        ...roundMeasure(distance(from, to), radius),
        centroid: [0, 1, 2].map((k) => (from[k] + to[k]) / 2) as unknown as Vec3,
      }
    }
    case 'round':
      return {
        ...roundMeasure(centrelineLength(form.centreline), form.radius),
        centroid: roundCentroid(form.centreline, form.radius),
      }
    case 'halfSpace':
      return null
    case 'mesh': {
      if (!form.mesh.closed) return null
      const own = surfaceMeasure(form.mesh.positions, form.mesh.triangles)
      return { ...own, centroid: placed(form.pose, own.centroid) }
    }
  }
}

function roundMeasure(long: number, radius: number): { volume: number; area: number } {
  return { volume: Math.PI * radius * radius * long, area: 2 * Math.PI * radius * (long + radius) }
}

/**
 * Centre of volume of a round form. Along an arc the discs are thicker outside than inside: over a disc the distance
 * from the axis weighs itself, which moves the centre out by radius² / (4 · arc radius).
 */
function roundCentroid(pieces: readonly Piece[], radius: number): Vec3 {
  const total = centrelineLength(pieces)
  const sum = [0, 0, 0]
  for (const piece of pieces) {
    const share = pieceLength(piece) / total
    const centre = pieceCentroid(piece, radius)
    for (let k = 0; k < 3; k++) sum[k] += share * centre[k]
  }
  return sum as unknown as Vec3
}

function pieceCentroid(piece: Piece, radius: number): Vec3 {
  if (piece.kind === 'straight') return [0, 1, 2].map((k) => (piece.from[k] + piece.to[k]) / 2) as unknown as Vec3
  const out = piece.radius + (radius * radius) / (4 * piece.radius)
  const [along, across] = [Math.sin(piece.angle) / piece.angle, (1 - Math.cos(piece.angle)) / piece.angle]
  return [0, 1, 2].map((k) => piece.centre[k] + out * (along * piece.x[k] + across * piece.y[k])) as unknown as Vec3
}

/**
 * Volume of a solid, mm³: the sum of its forms, which is an upper bound where forms overlap (a sweep whose path crosses
 * itself). Null where a form has none.
 */
export function solidVolume(solid: Solid): number | null {
  let sum = 0
  for (const form of solid.forms) {
    const measure = measureForm(form)
    if (!measure) return null
    sum += measure.volume
  }
  return sum
}
