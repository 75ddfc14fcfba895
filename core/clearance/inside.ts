import { orient3d } from 'robust-predicates'
import type { MeshTree } from './meshTree.ts'

/**
 * How often a closed mesh winds round a point: 0 outside and in a cavity, 1 inside, more where closed surfaces lie in
 * each other. The sign of every side is decided exactly, so no ray slips through an edge.
 * @param tree  of a closed mesh; x, y, z in its frame, mm
 * @returns the winding number, or undefined where the point lies on the surface or no ray was clear of every edge
 * Source: signed crossings of a ray; J. R. Shewchuk, Adaptive precision floating-point arithmetic and fast robust
 * geometric predicates (1997), through the library robust-predicates.
 */
export function windingNumber(tree: MeshTree, x: number, y: number, z: number): number | undefined {
  // Leaving the mesh's bounds for sure: farther than its diagonal and the point's own way to it.
  const far = 4 * (tree.reach + Math.abs(x) + Math.abs(y) + Math.abs(z)) + 1
  for (const [dx, dy, dz] of directions) {
    const winding = crossings(tree, [x, y, z], [x + far * dx, y + far * dy, z + far * dz])
    if (winding !== undefined) return winding
  }
  return undefined
}

/** Directions without any relation to axes or to each other; the next is taken where a ray meets an edge or a vertex. */
const directions: readonly (readonly [number, number, number])[] = [
  [0.973, 0.1131, 0.2017],
  [-0.1371, 0.951, 0.2777],
  [0.2213, -0.1723, -0.9597],
  [-0.8311, -0.3517, 0.4307],
  [0.3919, 0.5741, 0.7193],
]

type Point = readonly [number, number, number]

function crossings(tree: MeshTree, p: Point, q: Point): number | undefined {
  const { right, first, count, corners, positions: v } = tree
  const stack = [0]
  let winding = 0
  while (stack.length > 0) {
    const node = stack.pop() as number
    if (!meetsBox(tree.boxes, 6 * node, p, q)) continue
    if (right[node] >= 0) {
      stack.push(node + 1, right[node])
      continue
    }
    for (let t = 3 * first[node]; t < 3 * (first[node] + count[node]); t += 3) {
      const crossing = crossed(v, 3 * corners[t], 3 * corners[t + 1], 3 * corners[t + 2], p, q)
      if (crossing === undefined) return undefined
      winding += crossing
    }
  }
  return winding
}

/** +1 where the way from p to q leaves through the triangle's outer side, −1 where it enters, 0 past it. */
function crossed(v: Float64Array, a: number, b: number, c: number, p: Point, q: Point): number | undefined {
  const above = orient3d(v[a], v[a + 1], v[a + 2], v[b], v[b + 1], v[b + 2], v[c], v[c + 1], v[c + 2], p[0], p[1], p[2])
  const below = orient3d(v[a], v[a + 1], v[a + 2], v[b], v[b + 1], v[b + 2], v[c], v[c + 1], v[c + 2], q[0], q[1], q[2])
  if ((above > 0 && below > 0) || (above < 0 && below < 0)) return 0
  const ab = beside(v, a, b, p, q)
  const bc = beside(v, b, c, p, q)
  const ca = beside(v, c, a, p, q)
  const left = ab > 0 || bc > 0 || ca > 0
  const rightSide = ab < 0 || bc < 0 || ca < 0
  if (left && rightSide) return 0
  if (above === 0 || below === 0 || ab === 0 || bc === 0 || ca === 0) return undefined
  // orient3d is positive where the point lies below the plane seen counter-clockwise: on the inner side.
  return above > 0 ? 1 : -1
}

const beside = (v: Float64Array, a: number, b: number, p: Point, q: Point): number =>
  orient3d(p[0], p[1], p[2], q[0], q[1], q[2], v[a], v[a + 1], v[a + 2], v[b], v[b + 1], v[b + 2])

/** Whether a segment may meet a box; errs towards yes. */
function meetsBox(boxes: Float64Array, at: number, p: Point, q: Point): boolean {
  let enter = 0
  let leave = 1
  for (let k = 0; k < 3; k++) {
    const d = q[k] - p[k]
    const pad = 1e-12 * (Math.abs(p[k]) + Math.abs(q[k]))
    const low = (boxes[at + k] - pad - p[k]) / d
    const high = (boxes[at + 3 + k] + pad - p[k]) / d
    enter = Math.max(enter, Math.min(low, high))
    leave = Math.min(leave, Math.max(low, high))
  }
  return enter <= leave + 1e-12
}
