import type { Mesh } from '../../core/shape/mesh.ts'

type Point = readonly [number, number, number]

/** An open surface of triangles, nine numbers each. */
const surface = (triangles: readonly (readonly number[])[]): Mesh => ({
  positions: new Float64Array(triangles.flat()),
  triangles: Uint32Array.from({ length: 3 * triangles.length }, (_, i) => i),
  closed: false,
})

/** Slivers 0.01 mm wide that run along X from 0 to `length`. */
export const needles = (places: readonly (readonly [y: number, z: number])[], length: number): Mesh =>
  surface(
    places.flatMap(([y, z]) => [
      [0, y, z, length, y, z, length, y + 0.01, z],
      [0, y, z, length, y + 0.01, z, 0, y + 0.01, z],
    ]),
  )

const boxSides = [
  [0, 2, 1],
  [1, 2, 3],
  [4, 5, 6],
  [5, 7, 6],
  [0, 1, 4],
  [1, 5, 4],
  [2, 6, 3],
  [3, 6, 7],
  [0, 4, 2],
  [2, 4, 6],
  [1, 3, 5],
  [3, 7, 5],
]

/** Boxes as one surface, low and high corner each. */
export const boxesMesh = (boxes: readonly { low: Point; high: Point }[]): Mesh =>
  surface(
    boxes.flatMap(({ low, high }) =>
      boxSides.map((side) => side.flatMap((i) => [0, 1, 2].map((k) => ((i >> k) & 1 ? high[k] : low[k])))),
    ),
  )

/** Ellipsoid about a point, faces between points on it: its inside is convex and a little smaller. */
export function ellipsoidMesh(centre: Point, radius: Point, rings: number, sides: number): Mesh {
  const at = (i: number, j: number): number[] => {
    const a = (Math.PI * i) / rings - Math.PI / 2
    const b = (2 * Math.PI * j) / sides
    return [
      centre[0] + radius[0] * Math.cos(a) * Math.cos(b),
      centre[1] + radius[1] * Math.cos(a) * Math.sin(b),
      centre[2] + radius[2] * Math.sin(a),
    ]
  }
  const triangles: number[][] = []
  for (let i = 0; i < rings; i++)
    for (let j = 0; j < sides; j++) {
      if (i > 0) triangles.push([...at(i, j), ...at(i, j + 1), ...at(i + 1, j)])
      if (i < rings - 1) triangles.push([...at(i, j + 1), ...at(i + 1, j + 1), ...at(i + 1, j)])
    }
  return surface(triangles)
}
