import { above } from './convexHull.ts'
import { loopNormal } from './polytope.ts'
import { length, scale, unit, type Vec3 } from './vec.ts'

/**
 * Faces of a hull from its triangles: neighbours that lie in one plane to within `tolerance` become one face.
 * The widest triangle of a face sets its plane, so slivers never tilt it. A group whose rim is not one simple loop
 * (possible only at the size of the tolerance) stays triangles.
 * @returns outward loops; corners in the middle of a face are in no loop
 */
export function mergedFaces(points: Float64Array, triangles: readonly number[], tolerance: number): number[][] {
  const count = triangles.length / 3
  const corners = (t: number) => [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]]
  const areas = Array.from({ length: count }, (_, t) => loopNormal(points, corners(t)))
  const sizes = areas.map(length)
  const across = neighbours(triangles)
  const bySize = sizes.map((_, t) => t).sort((s, t) => sizes[t] - sizes[s] || s - t)
  const taken = new Uint8Array(count)
  const faces: number[][] = []
  for (const seed of bySize) {
    if (taken[seed]) continue
    const plane = planeThrough(points, triangles[3 * seed], areas[seed])
    const fits = (t: number) =>
      !taken[t] && corners(t).every((i) => Math.abs(plane(i)) <= tolerance) && opposes(areas[t], areas[seed]) === false
    taken[seed] = 1
    const group = [seed]
    for (let g = 0; g < group.length; g++)
      for (let k = 0; k < 3; k++) {
        const t = across[3 * group[g] + k]
        if (!fits(t)) continue
        taken[t] = 1
        group.push(t)
      }
    const rim = rimOf(group, triangles, across)
    if (rim) faces.push(rim)
    else faces.push(...group.map(corners))
  }
  return faces
}

/**
 * Which points are true corners of the hull: at least three edges with a crease meet there. Exact, so that a point in
 * the middle of a face or an edge goes and a corner, however blunt, stays.
 */
export function extremePoints(points: Float64Array, triangles: readonly number[]): Uint8Array {
  const across = neighbours(triangles)
  const creases = new Uint8Array(points.length / 3)
  for (let e = 0; e < triangles.length; e++) {
    const t = e - (e % 3)
    const other = 3 * across[e]
    const edge = [triangles[e], triangles[t + ((e + 1) % 3)]]
    const far = [0, 1, 2].map((k) => triangles[other + k]).find((i) => !edge.includes(i)) as number
    if (above(points, triangles[t], triangles[t + 1], triangles[t + 2], far) !== 0 && creases[edge[0]] < 3)
      creases[edge[0]]++
  }
  return creases.map((c) => (c > 2 ? 1 : 0))
}

const opposes = (a: Vec3, b: Vec3): boolean => a[0] * b[0] + a[1] * b[1] + a[2] * b[2] < 0

/** Signed height over the plane through a point; a zero normal (underflow) makes every height infinite. */
function planeThrough(points: Float64Array, origin: number, normal: Vec3): (i: number) => number {
  const size = Math.max(...normal.map(Math.abs))
  if (!(size > 0)) return () => Number.POSITIVE_INFINITY
  const [x, y, z] = unit(scale(normal, 1 / size))
  const o = 3 * origin
  return (i) =>
    x * (points[3 * i] - points[o]) + y * (points[3 * i + 1] - points[o + 1]) + z * (points[3 * i + 2] - points[o + 2])
}

/** Triangle across each edge of a closed surface. */
function neighbours(triangles: readonly number[]): Int32Array {
  const owner = new Map<string, number>()
  const edge = (e: number) => [triangles[e], triangles[e - (e % 3) + ((e + 1) % 3)]]
  for (let e = 0; e < triangles.length; e++) owner.set(edge(e).join(), (e / 3) | 0)
  return Int32Array.from(triangles, (_, e) => owner.get(edge(e).reverse().join()) ?? -1)
}

/** The single loop around a group of triangles, or null. */
function rimOf(group: readonly number[], triangles: readonly number[], across: Int32Array): number[] | null {
  const inside = new Set(group)
  const next = new Map<number, number>()
  for (const t of group)
    for (let k = 0; k < 3; k++) {
      if (inside.has(across[3 * t + k])) continue
      const from = triangles[3 * t + k]
      if (next.has(from)) return null
      next.set(from, triangles[3 * t + ((k + 1) % 3)])
    }
  const start = next.keys().next().value as number
  const rim = [start]
  for (let at = next.get(start); at !== start && at !== undefined && rim.length <= next.size; at = next.get(at))
    rim.push(at)
  return rim.length === next.size ? rim : null
}
