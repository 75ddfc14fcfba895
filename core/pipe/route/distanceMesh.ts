import { windingNumber } from '../../clearance/inside.ts'
import { triangleAt } from '../../clearance/meshSearch.ts'
import type { MeshTree } from '../../clearance/meshTree.ts'
import { segmentTriangle, segmentTriangleSize } from '../../clearance/segmentTriangle.ts'
import type { MeshForm } from '../../shape/form.ts'

/** What `segmentToMesh` writes: share of the segment (0), the mesh's point (1–3), the triangle's number in the tree (4). */
export const onMeshSize = 5

// Private to one call: nodes waiting and their squared bounds, the triangle looked at, the nearest points on it.
let waiting = new Int32Array(256)
let bounds = new Float64Array(256)
const corners = new Float64Array(9)
const near = new Float64Array(segmentTriangleSize)

/**
 * Distance of a segment to the triangles of a mesh, as surfaces.
 * @param tree   everything in its frame, mm; equal ends make the segment a point
 * @param limit  what is at least as far is of no interest
 * @param out    see `onMeshSize`; left as it was where nothing is nearer than the limit
 * @returns the distance, mm, 0 where it crosses; `limit` where nothing is nearer
 * Error: a few units in the last place of the largest coordinate.
 */
export function segmentToMesh(
  tree: MeshTree,
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  limit: number,
  out: Float64Array,
): number {
  const { right, first, count, boxes } = tree
  const x0 = Math.min(ax, bx)
  const y0 = Math.min(ay, by)
  const z0 = Math.min(az, bz)
  const x1 = Math.max(ax, bx)
  const y1 = Math.max(ay, by)
  const z1 = Math.max(az, bz)
  let best = limit
  let best2 = limit * limit
  let size = 1
  waiting[0] = 0
  bounds[0] = boxGap2(boxes, 0, x0, y0, z0, x1, y1, z1)
  while (size > 0) {
    const node = waiting[--size]
    if (bounds[size] >= best2) continue
    if (right[node] < 0) {
      for (let t = first[node]; t < first[node] + count[node]; t++) {
        const d2 = segmentTriangle(ax, ay, az, bx, by, bz, triangleAt(tree, t, corners), best, near)
        if (d2 >= best2) continue
        best2 = d2
        best = Math.sqrt(d2)
        out[0] = near[0]
        out[1] = near[1]
        out[2] = near[2]
        out[3] = near[3]
        out[4] = t
        if (best === 0) return 0
      }
      continue
    }
    const left = node + 1
    const other = right[node]
    const toLeft = boxGap2(boxes, 6 * left, x0, y0, z0, x1, y1, z1)
    const toOther = boxGap2(boxes, 6 * other, x0, y0, z0, x1, y1, z1)
    const isLeft = toLeft <= toOther
    if (size + 2 > waiting.length) makeRoom()
    // The nearer one is taken next.
    const far = isLeft ? toOther : toLeft
    if (far < best2) {
      waiting[size] = isLeft ? other : left
      bounds[size++] = far
    }
    const close = isLeft ? toLeft : toOther
    if (close < best2) {
      waiting[size] = isLeft ? left : other
      bounds[size++] = close
    }
  }
  return best
}

function boxGap2(
  boxes: Float64Array,
  at: number,
  x0: number,
  y0: number,
  z0: number,
  x1: number,
  y1: number,
  z1: number,
): number {
  const x = Math.max(boxes[at] - x1, x0 - boxes[at + 3], 0)
  const y = Math.max(boxes[at + 1] - y1, y0 - boxes[at + 4], 0)
  const z = Math.max(boxes[at + 2] - z1, z0 - boxes[at + 5], 0)
  return x * x + y * y + z * z
}

function makeRoom(): void {
  const [more, further] = [new Int32Array(2 * waiting.length), new Float64Array(2 * waiting.length)]
  more.set(waiting)
  further.set(bounds)
  waiting = more
  bounds = further
}

/** Whether a point, tree frame, lies in the solid that a closed mesh bounds. */
export const isInMesh = (tree: MeshTree, x: number, y: number, z: number): boolean =>
  tree.mesh.closed && (windingNumber(tree, x, y, z) ?? 0) !== 0

/** Writes a point of the bay in the tree's frame to out[at…at + 2]. */
export function toTree(
  form: MeshForm,
  tree: MeshTree,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
  at = 0,
): void {
  const { turn: m, at: p } = form.pose
  const c = tree.centre
  const u = x - p[0]
  const v = y - p[1]
  const w = z - p[2]
  out[at] = m[0] * u + m[3] * v + m[6] * w - c[0]
  out[at + 1] = m[1] * u + m[4] * v + m[7] * w - c[1]
  out[at + 2] = m[2] * u + m[5] * v + m[8] * w - c[2]
}

/** Turns a way at out[at…at + 2] from the tree's frame into the bay's. */
export function turnToBay(form: MeshForm, out: Float64Array, at = 0): void {
  const m = form.pose.turn
  const x = out[at]
  const y = out[at + 1]
  const z = out[at + 2]
  out[at] = m[0] * x + m[1] * y + m[2] * z
  out[at + 1] = m[3] * x + m[4] * y + m[5] * z
  out[at + 2] = m[6] * x + m[7] * y + m[8] * z
}

/** Unit normal of a triangle, tree frame, to out[0…2]. */
export function triangleNormal(tree: MeshTree, triangle: number, out: Float64Array): void {
  const t = triangleAt(tree, triangle, corners)
  const ux = t[3] - t[0]
  const uy = t[4] - t[1]
  const uz = t[5] - t[2]
  const vx = t[6] - t[0]
  const vy = t[7] - t[1]
  const vz = t[8] - t[2]
  const x = uy * vz - uz * vy
  const y = uz * vx - ux * vz
  const z = ux * vy - uy * vx
  const l = Math.sqrt(x * x + y * y + z * z)
  out[0] = l > 0 ? x / l : 0
  out[1] = l > 0 ? y / l : 0
  out[2] = l > 0 ? z / l : 1
}
