import type { MeshTree } from '../../clearance/meshTree.ts'

// Private to one call: nodes waiting and their squared bounds.
let waiting = new Int32Array(256)
let bounds = new Float64Array(256)
// Squared distance of the nearest place so far, and where it is.
let best2 = 0
let qx = 0
let qy = 0
let qz = 0

/**
 * Distance of a point to the triangles of a mesh, as surfaces: what `segmentToMesh` says of a segment without length, in a
 * fraction of the time. The field of a search asks it a million times.
 * @param tree  everything in its frame, mm
 * @param limit what is at least as far is of no interest
 * @param out   as of `segmentToMesh`; left as it was where nothing is nearer than the limit
 * @returns the distance, mm; `limit` where nothing is nearer
 * Error: a few units in the last place of the largest coordinate.
 */
export function pointToMesh(tree: MeshTree, x: number, y: number, z: number, limit: number, out: Float64Array): number {
  const { right, first, count, boxes } = tree
  best2 = limit * limit
  let triangle = -1
  let size = 1
  waiting[0] = 0
  bounds[0] = boxGap2(boxes, 0, x, y, z)
  while (size > 0) {
    const node = waiting[--size]
    if (bounds[size] >= best2) continue
    if (right[node] < 0) {
      const end = first[node] + count[node]
      for (let t = first[node]; t < end; t++) if (toTriangle(tree, t, x, y, z)) triangle = t
      continue
    }
    const left = node + 1
    const other = right[node]
    const toLeft = boxGap2(boxes, 6 * left, x, y, z)
    const toOther = boxGap2(boxes, 6 * other, x, y, z)
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
  if (triangle < 0) return limit
  out[0] = 0
  out[1] = qx
  out[2] = qy
  out[3] = qz
  out[4] = triangle
  return Math.sqrt(best2)
}

/** Takes the triangle's nearest point where it is nearer than the best: its foot where that lies in it, else one on an edge. */
function toTriangle({ corners, positions }: MeshTree, triangle: number, x: number, y: number, z: number): boolean {
  const a = 3 * corners[3 * triangle]
  const b = 3 * corners[3 * triangle + 1]
  const c = 3 * corners[3 * triangle + 2]
  const ax = positions[a]
  const ay = positions[a + 1]
  const az = positions[a + 2]
  const bx = positions[b]
  const by = positions[b + 1]
  const bz = positions[b + 2]
  const cx = positions[c]
  const cy = positions[c + 1]
  const cz = positions[c + 2]
  const ux = bx - ax
  const uy = by - ay
  const uz = bz - az
  const vx = cx - ax
  const vy = cy - ay
  const vz = cz - az
  const nx = uy * vz - uz * vy
  const ny = uz * vx - ux * vz
  const nz = ux * vy - uy * vx
  const nn = nx * nx + ny * ny + nz * nz
  const px = x - ax
  const py = y - ay
  const pz = z - az
  const h = nx * px + ny * py + nz * pz
  if (h * h > best2 * nn * (1 + 1e-9)) return false
  // Shares of the two edges from a that lead to the foot, times nn.
  const v = nx * (uy * pz - uz * py) + ny * (uz * px - ux * pz) + nz * (ux * py - uy * px)
  const u = nx * (py * vz - pz * vy) + ny * (pz * vx - px * vz) + nz * (px * vy - py * vx)
  if (u >= 0 && v >= 0 && u + v <= nn && nn > 0) {
    const d2 = (h * h) / nn
    if (d2 >= best2) return false
    best2 = d2
    const s = h / nn
    qx = x - s * nx
    qy = y - s * ny
    qz = z - s * nz
    return true
  }
  const onAb = toEdge(x, y, z, ax, ay, az, ux, uy, uz)
  const onAc = toEdge(x, y, z, ax, ay, az, vx, vy, vz)
  const onBc = toEdge(x, y, z, bx, by, bz, cx - bx, cy - by, cz - bz)
  return onAb || onAc || onBc
}

function toEdge(
  x: number,
  y: number,
  z: number,
  ax: number,
  ay: number,
  az: number,
  ex: number,
  ey: number,
  ez: number,
): boolean {
  const on = ((x - ax) * ex + (y - ay) * ey + (z - az) * ez) / (ex * ex + ey * ey + ez * ez)
  const t = Math.min(1, Math.max(0, on))
  const fx = ax + t * ex
  const fy = ay + t * ey
  const fz = az + t * ez
  const d2 = (x - fx) * (x - fx) + (y - fy) * (y - fy) + (z - fz) * (z - fz)
  if (!(d2 < best2)) return false
  best2 = d2
  qx = fx
  qy = fy
  qz = fz
  return true
}

function boxGap2(boxes: Float64Array, at: number, x: number, y: number, z: number): number {
  let d = boxes[at] - x
  let e = x - boxes[at + 3]
  if (e > d) d = e
  let sum = d > 0 ? d * d : 0
  d = boxes[at + 1] - y
  e = y - boxes[at + 4]
  if (e > d) d = e
  if (d > 0) sum += d * d
  d = boxes[at + 2] - z
  e = z - boxes[at + 5]
  if (e > d) d = e
  return d > 0 ? sum + d * d : sum
}

function makeRoom(): void {
  const [more, further] = [new Int32Array(2 * waiting.length), new Float64Array(2 * waiting.length)]
  more.set(waiting)
  further.set(bounds)
  waiting = more
  bounds = further
}
