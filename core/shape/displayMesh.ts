import type { Display } from './displayData.ts'
import type { MeshForm } from './form.ts'
import { eachEdge } from './meshEdges.ts'
import { cross, dot, placed, turned, type Vec3 } from './vec.ts'

/** Edges sharper than 30° are drawn and shaded as creases. */
const creaseCosine = Math.cos(Math.PI / 6)

/** A mesh as it stands in the bay: shaded smooth where it is smooth and creased where sharp; creases and rims as edges. */
export function meshDisplay({ mesh, pose }: MeshForm): Display {
  const { positions: own, triangles: ownTriangles } = mesh
  const flat = faceNormals(own, ownTriangles)
  const smooth = vertexNormals(ownTriangles, flat, own.length / 3)
  const { triangles, sources, normals } = cornersOf(ownTriangles, flat, smooth)
  const positions = new Float32Array(3 * sources.length)
  for (let i = 0; i < sources.length; i++) {
    positions.set(placed(pose, at(own, sources[i])), 3 * i)
    normals.set(turned(pose.turn, at(normals, i)), 3 * i)
  }
  const edges = featureEdges(ownTriangles, flat, own.length / 3)
  const segments = new Float32Array(3 * edges.length)
  edges.forEach((v, i) => {
    segments.set(placed(pose, at(own, v)), 3 * i)
  })
  if (mirrors(pose.turn)) turnRound(triangles)
  return { positions, normals, triangles, edges: segments }
}

const at = (array: ArrayLike<number>, i: number): Vec3 => [array[3 * i], array[3 * i + 1], array[3 * i + 2]]

function mirrors([a, b, c, d, e, f, g, h, i]: readonly number[]): boolean {
  return dot(cross([a, b, c], [d, e, f]), [g, h, i]) < 0
}

/** A mirrored triangle runs the other way round. */
function turnRound(triangles: Uint32Array): void {
  for (let i = 0; i < triangles.length; i += 3) {
    const second = triangles[i + 1]
    triangles[i + 1] = triangles[i + 2]
    triangles[i + 2] = second
  }
}

/** Twice the vector area of each triangle. */
function faceNormals(p: Float64Array, triangles: Uint32Array): Float64Array {
  const normals = new Float64Array(triangles.length)
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]]
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]]
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]]
    normals[i] = uy * vz - uz * vy
    normals[i + 1] = uz * vx - ux * vz
    normals[i + 2] = ux * vy - uy * vx
  }
  return normals
}

/** Sum of the area vectors around each vertex: large triangles count for more. */
function vertexNormals(triangles: Uint32Array, flat: Float64Array, vertices: number): Float64Array {
  const normals = new Float64Array(3 * vertices)
  for (let i = 0; i < triangles.length; i++) {
    const [v, t] = [3 * triangles[i], i - (i % 3)]
    normals[v] += flat[t]
    normals[v + 1] += flat[t + 1]
    normals[v + 2] += flat[t + 2]
  }
  return normals
}

/** Cosine of the angle between vector i of one list and vector j of another; 1 where one is zero. */
function cosine(a: Float64Array, i: number, b: Float64Array, j: number): number {
  const square = (a[i] ** 2 + a[i + 1] ** 2 + a[i + 2] ** 2) * (b[j] ** 2 + b[j + 1] ** 2 + b[j + 2] ** 2)
  return square > 0 ? (a[i] * b[j] + a[i + 1] * b[j + 1] + a[i + 2] * b[j + 2]) / Math.sqrt(square) : 1
}

/** Gives a corner whose triangle leaves the smooth surface a vertex of its own, with the triangle's normal. */
function cornersOf(own: Uint32Array, flat: Float64Array, smooth: Float64Array) {
  const triangles = own.slice()
  const vertices = smooth.length / 3
  const creased: number[] = []
  for (let i = 0; i < own.length; i++) {
    if (cosine(flat, i - (i % 3), smooth, 3 * own[i]) >= creaseCosine) continue
    triangles[i] = vertices + creased.length
    creased.push(i)
  }
  const sources = new Uint32Array(vertices + creased.length)
  const normals = new Float32Array(3 * sources.length)
  const set = (n: number, source: number, from: Float64Array, i: number) => {
    const size = Math.sqrt(from[i] ** 2 + from[i + 1] ** 2 + from[i + 2] ** 2) || 1
    sources[n] = source
    for (let k = 0; k < 3; k++) normals[3 * n + k] = from[i + k] / size
  }
  for (let v = 0; v < vertices; v++) set(v, v, smooth, 3 * v)
  creased.forEach((i, n) => {
    set(vertices + n, own[i], flat, i - (i % 3))
  })
  return { triangles, sources, normals }
}

/** Vertex pairs of rims, of edges with more than two triangles, and of creases. */
function featureEdges(triangles: Uint32Array, flat: Float64Array, vertices: number): number[] {
  const ends: number[] = []
  const triangleOf = (side: number) => side - (side % 3)
  eachEdge(triangles, vertices, (low, high, sides, from, to) => {
    const [s, t] = [sides[from], sides[to - 1]]
    // Two triangles that run along an edge the same way face opposite sides of one surface.
    const sense = (triangles[s] === low) === (triangles[t] === low) ? -1 : 1
    if (to === from + 2 && sense * cosine(flat, triangleOf(s), flat, triangleOf(t)) >= creaseCosine) return
    ends.push(low, high)
  })
  return ends
}
