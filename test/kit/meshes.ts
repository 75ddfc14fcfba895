import type { Polytope } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { seeded } from './random.ts'

/** A height field over 400 × 300 mm with bumps and noise, open, 2·columns·rows triangles; thickness 0 at z ≈ 0. */
export function bumpyMesh(columns: number, rows: number, seed: number): Mesh {
  const random = seeded(seed)
  const positions = new Float64Array(3 * (columns + 1) * (rows + 1))
  let at = 0
  for (let row = 0; row <= rows; row++)
    for (let column = 0; column <= columns; column++) {
      const x = (400 * column) / columns - 200
      const y = (300 * row) / rows - 150
      positions[at++] = x
      positions[at++] = y
      positions[at++] = 9 * Math.sin(x / 23) * Math.cos(y / 17) + 3 * Math.sin(x / 5.3 + y / 7.1) + random.real(0, 1)
    }
  const triangles = new Uint32Array(6 * columns * rows)
  at = 0
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const a = row * (columns + 1) + column
      const b = a + columns + 1
      triangles.set([a, a + 1, b, a + 1, b + 1, b], at)
      at += 6
    }
  return { positions, triangles, closed: false }
}

/** A closed mesh of a polytope's faces, fanned. */
export function meshOf(body: Polytope): Mesh {
  const triangles = body.faces.flatMap((face) => face.slice(2).flatMap((_, i) => [face[0], face[i + 1], face[i + 2]]))
  return { positions: body.vertices.slice(), triangles: Uint32Array.from(triangles), closed: true }
}
