import type { Mesh } from '../shape/mesh.ts'

const kept = new WeakMap<Mesh, Uint32Array>()

/**
 * One vertex of each connected piece of a mesh (pieces that share a vertex are one): where nothing crosses its surface,
 * all of a piece lies on one side of another surface, and its one vertex tells which. Kept as long as the mesh is.
 */
export function pieceVertices(mesh: Mesh): Uint32Array {
  let vertices = kept.get(mesh)
  if (!vertices) {
    vertices = found(mesh)
    kept.set(mesh, vertices)
  }
  return vertices
}

/** Sets of vertices joined triangle by triangle; paths are halved on the way up. */
function found({ triangles, positions }: Mesh): Uint32Array {
  const above = Uint32Array.from({ length: positions.length / 3 }, (_, i) => i)
  const top = (i: number): number => {
    while (above[i] !== i) {
      above[i] = above[above[i]]
      i = above[i]
    }
    return i
  }
  for (let t = 0; t < triangles.length; t += 3) {
    const a = top(triangles[t])
    above[top(triangles[t + 1])] = a
    above[top(triangles[t + 2])] = a
  }
  const isUsed = new Uint8Array(above.length)
  const tops: number[] = []
  for (const vertex of triangles) {
    const i = top(vertex)
    if (isUsed[i] === 0) tops.push(i)
    isUsed[i] = 1
  }
  return Uint32Array.from(tops)
}
