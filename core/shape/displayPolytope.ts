import type { Display } from './displayData.ts'
import type { Polytope } from './form.ts'
import { vertexAt } from './polytope.ts'
import { dot, type Vec3 } from './vec.ts'

interface Face {
  readonly corners: readonly Vec3[]
  readonly normal: Vec3
}

/** Faces whose normals differ by less than about 0.06° are one face to the eye. */
const sameFace = 1 - 5e-7

/**
 * Convex pieces as one body: faces that two pieces have in common go, and so do edges that lie in the middle of a
 * flat face. Pieces of a sweep share corners to the last bit, which is what makes common faces equal.
 */
export function polytopesDisplay(bodies: readonly Polytope[]): Display {
  const faces = outerFaces(bodies)
  const [positions, normals, triangles] = [[] as number[], [] as number[], [] as number[]]
  for (const { corners, normal } of faces) {
    const first = positions.length / 3
    for (const corner of corners) {
      positions.push(...corner)
      normals.push(...normal)
    }
    for (let i = 1; i + 1 < corners.length; i++) triangles.push(first, first + i, first + i + 1)
  }
  return {
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    triangles: Uint32Array.from(triangles),
    edges: Float32Array.from(creases(faces)),
  }
}

/**
 * Edges of convex pieces as one body: six numbers each, mm. None between two pieces, none in the middle of a flat face.
 */
export const bodyEdges = (bodies: readonly Polytope[]): number[] => creases(outerFaces(bodies))

function outerFaces(bodies: readonly Polytope[]): Face[] {
  const byCorners = new Map<string, Face[]>()
  for (const body of bodies)
    body.faces.forEach((loop, f) => {
      const corners = loop.map((i) => vertexAt(body, i))
      const key = corners
        .map((c) => c.join())
        .sort()
        .join(' ')
      const normal: Vec3 = [body.planes[4 * f], body.planes[4 * f + 1], body.planes[4 * f + 2]]
      byCorners.set(key, [...(byCorners.get(key) ?? []), { corners, normal }])
    })
  return [...byCorners.values()].filter((same) => same.length === 1).flat()
}

function creases(faces: readonly Face[]): number[] {
  const byEnds = new Map<string, { readonly ends: readonly number[]; readonly normals: Vec3[] }>()
  for (const { corners, normal } of faces)
    corners.forEach((from, i) => {
      const to = corners[(i + 1) % corners.length]
      const key = [from.join(), to.join()].sort().join(' ')
      const edge = byEnds.get(key) ?? { ends: [...from, ...to], normals: [] }
      edge.normals.push(normal)
      byEnds.set(key, edge)
    })
  return [...byEnds.values()]
    .filter(({ normals }) => !(normals.length === 2 && dot(normals[0], normals[1]) > sameFace))
    .flatMap(({ ends }) => ends)
}
