import { orient3d } from 'robust-predicates'
import type { MeshTree } from './meshTree.ts'

/**
 * How often a closed mesh winds round a point: 0 outside and in a cavity, 1 inside, more where closed surfaces lie in
 * each other, −1 inside a piece that is turned inside out. The sign of every side is decided exactly, so no ray slips
 * through an edge.
 * @param tree  of a closed mesh; x, y, z in its frame, mm
 * @returns the winding number; undefined on the surface
 * A ray leaves the mesh's bounds at the nearest side, slightly askew; where it meets an edge or a vertex another one is
 * taken; should twenty-four do so, the solid angle of all triangles is summed.
 * Source: signed crossings of a ray; J. R. Shewchuk, Adaptive precision floating-point arithmetic and fast robust
 * geometric predicates (1997), through the library robust-predicates.
 */
export function windingNumber(tree: MeshTree, x: number, y: number, z: number): number | undefined {
  const point = [x, y, z] as const
  const { boxes } = tree
  for (let k = 0; k < 3; k++) if (point[k] < boxes[k] || point[k] > boxes[3 + k]) return 0
  for (let attempt = 0; attempt < 24; attempt++) {
    const winding = crossings(tree, point, wayOut(tree, point, attempt))
    if (winding !== undefined) return winding === onSurface ? undefined : winding
  }
  return bySolidAngle(tree, point)
}

/** Whether a point lies in the solid that a closed mesh bounds. On the surface counts as not: the surfaces' distance speaks then. */
export const isInside = (tree: MeshTree, [x, y, z]: Point): boolean =>
  tree.mesh.closed && (windingNumber(tree, x, y, z) ?? 0) !== 0

type Point = readonly [number, number, number]
const onSurface = Number.NEGATIVE_INFINITY

/** A point outside the bounds, beyond the nearest side at the first attempt, beyond the others at the next ones. */
function wayOut({ boxes, reach }: MeshTree, p: Point, attempt: number): Point {
  const sides = [0, 1, 2, 3, 4, 5].map((side) => Math.abs(boxes[side] - p[side % 3]))
  const order = [0, 1, 2, 3, 4, 5].sort((a, b) => sides[a] - sides[b] || a - b)
  const side = order[attempt % 6]
  const k = side % 3
  const way = (sides[side] + 1e-3 * reach + 1e-9) * (side < 3 ? -1 : 1)
  const q: [number, number, number] = [p[0], p[1], p[2]]
  q[k] += way
  // Askew by two numbers without a relation to each other or to whole ones, others at every round.
  const round = 1 + Math.floor(attempt / 6)
  q[(k + 1) % 3] += way * 0.0347291 * round
  q[(k + 2) % 3] += way * 0.0518137 * Math.sqrt(round)
  return q
}

const stack: number[] = []

function crossings(tree: MeshTree, p: Point, q: Point): number | undefined {
  const { right, first, count, corners, positions: v } = tree
  stack.length = 1
  stack[0] = 0
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
      if (crossing === undefined || crossing === onSurface) return crossing
      winding += crossing
    }
  }
  return winding
}

/** +1 where the way from p to q leaves through the triangle's outer side, −1 where it enters, 0 past it. */
function crossed(v: Float64Array, a: number, b: number, c: number, p: Point, q: Point): number | undefined {
  const above = toPlane(v, a, b, c, p)
  const below = toPlane(v, a, b, c, q)
  if ((above > 0 && below > 0) || (above < 0 && below < 0)) return 0
  const ab = beside(v, a, b, p, q)
  const bc = beside(v, b, c, p, q)
  const ca = beside(v, c, a, p, q)
  const left = ab > 0 || bc > 0 || ca > 0
  const rightSide = ab < 0 || bc < 0 || ca < 0
  if (left && rightSide) return 0
  if (above === 0 && below !== 0) return onSurface
  if (above === 0 || below === 0 || ab === 0 || bc === 0 || ca === 0) return undefined
  // orient3d is positive where the point lies below the plane seen counter-clockwise: on the inner side.
  return above > 0 ? 1 : -1
}

const toPlane = (v: Float64Array, a: number, b: number, c: number, p: Point): number =>
  orient3d(v[a], v[a + 1], v[a + 2], v[b], v[b + 1], v[b + 2], v[c], v[c + 1], v[c + 2], p[0], p[1], p[2])

const beside = (v: Float64Array, a: number, b: number, p: Point, q: Point): number =>
  orient3d(p[0], p[1], p[2], q[0], q[1], q[2], v[a], v[a + 1], v[a + 2], v[b], v[b + 1], v[b + 2])

/** Whether a segment may meet a box; errs towards yes. */
function meetsBox(boxes: Float64Array, at: number, p: Point, q: Point): boolean {
  let enter = 0
  let leave = 1
  for (let k = 0; k < 3; k++) {
    const d = q[k] - p[k]
    const pad = 1e-12 * (Math.abs(p[k]) + Math.abs(q[k]))
    const below = boxes[at + k] - pad - p[k]
    const above = boxes[at + 3 + k] + pad - p[k]
    if (d === 0) {
      if (below > 0 || above < 0) return false
      continue
    }
    const low = below / d
    const high = above / d
    enter = Math.max(enter, Math.min(low, high))
    leave = Math.min(leave, Math.max(low, high))
  }
  return enter <= leave + 1e-12
}

/** Sum of signed solid angles over a full one. Source: A. van Oosterom, J. Strackee (1983), from memory. */
function bySolidAngle({ positions: v, corners }: MeshTree, p: Point): number {
  let sum = 0
  for (let t = 0; t < corners.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => {
      const i = 3 * corners[t + k]
      const [x, y, z] = [v[i] - p[0], v[i + 1] - p[1], v[i + 2] - p[2]]
      return { x, y, z, l: Math.hypot(x, y, z) }
    })
    const ab = a.x * b.x + a.y * b.y + a.z * b.z
    const bc = b.x * c.x + b.y * c.y + b.z * c.z
    const ca = c.x * a.x + c.y * a.y + c.z * a.z
    const volume = a.x * (b.y * c.z - b.z * c.y) + a.y * (b.z * c.x - b.x * c.z) + a.z * (b.x * c.y - b.y * c.x)
    sum += 2 * Math.atan2(volume, a.l * b.l * c.l + ab * c.l + bc * a.l + ca * b.l)
  }
  return Math.round(sum / (4 * Math.PI))
}
