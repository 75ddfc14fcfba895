import { boxMesh, stlText } from '../kit/meshWriters.ts'

/** Text of a cube in the ASCII form of STL; without its last triangles it is open. */
export function cube(size: number, triangles = 12): string {
  const { positions, triangles: all } = boxMesh([size, size, size])
  return new TextDecoder().decode(stlText({ positions, triangles: Array.from(all).slice(0, 3 * triangles) }))
}
