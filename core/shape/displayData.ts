/**
 * A solid as plain data to look at, mm, bay frame: never for measuring. Single precision, round forms tessellated.
 * `normals` has one outward unit vector a position; `edges` holds line segments (six numbers each) along true edges
 * only: creases, rims and flat ends, never seams of the tessellation or between pieces.
 */
export interface Display {
  readonly positions: Float32Array
  readonly normals: Float32Array
  /** Counter-clockwise seen from outside. */
  readonly triangles: Uint32Array
  readonly edges: Float32Array
}

/** Several displays as one. */
export function joined(parts: readonly Display[]): Display {
  if (parts.length === 1) return parts[0]
  const total = (pick: (part: Display) => ArrayLike<number>) => parts.reduce((sum, part) => sum + pick(part).length, 0)
  const positions = new Float32Array(total((p) => p.positions))
  const normals = new Float32Array(positions.length)
  const triangles = new Uint32Array(total((p) => p.triangles))
  const edges = new Float32Array(total((p) => p.edges))
  let [at, triangleAt, edgeAt] = [0, 0, 0]
  for (const part of parts) {
    positions.set(part.positions, at)
    normals.set(part.normals, at)
    edges.set(part.edges, edgeAt)
    for (let i = 0; i < part.triangles.length; i++) triangles[triangleAt + i] = part.triangles[i] + at / 3
    at += part.positions.length
    triangleAt += part.triangles.length
    edgeAt += part.edges.length
  }
  return { positions, normals, triangles, edges }
}
