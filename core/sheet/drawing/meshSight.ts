import type { MeshForm } from '../../shape/form.ts'
import { dot, type Vec3 } from '../../shape/vec.ts'
import type { Share } from './convexSight.ts'
import { touching } from './convexSight.ts'
import { type Frame, frameOf, type Seen, type AnyView } from './view.ts'

/** A mesh as a picture meets it: its corners seen, and its triangles in a grid of cells. */
export interface MeshSight {
  /** u, v, w of each corner. */
  readonly corners: Float64Array
  /** Corner numbers of each triangle that is not seen edge-on, counter-clockwise in the picture. */
  readonly triangles: Uint32Array
  /** The triangle lies that way round in the mesh, so it turns to the eye. */
  readonly facing: Uint8Array
  readonly frame: Frame
  readonly nearest: number
  readonly grid: Grid
}

interface Grid {
  readonly cell: number
  readonly columns: number
  readonly rows: number
  /** Triangles of cell c: `items[starts[c]] … items[starts[c + 1] − 1]`. */
  readonly starts: Uint32Array
  readonly items: Uint32Array
}

export function meshSight({ mesh, pose }: MeshForm, view: AnyView): MeshSight {
  const corners = cornersSeen(mesh.positions, pose.turn, pose.at, view)
  const { triangles, facing } = turnedToTheEye(mesh.triangles, corners)
  const points = function* () {
    for (let i = 0; i < corners.length; i += 3) yield [corners[i], corners[i + 1]]
  }
  const frame = frameOf(points())
  let nearest = -Infinity
  for (let i = 2; i < corners.length; i += 3) nearest = Math.max(nearest, corners[i])
  return { corners, triangles, facing, frame, nearest, grid: gridOf(corners, triangles, frame) }
}

function cornersSeen(
  positions: Float64Array,
  turn: readonly number[],
  at: Vec3,
  { right, up, eye }: AnyView,
): Float64Array {
  // One matrix from the mesh's own frame to the picture.
  const rows = [right, up, eye].map((axis) => {
    const column = (k: number) => axis[0] * turn[k] + axis[1] * turn[3 + k] + axis[2] * turn[6 + k]
    return [column(0), column(1), column(2), dot(axis, at)]
  })
  const corners = new Float64Array(positions.length)
  for (let i = 0; i < positions.length; i += 3)
    for (let r = 0; r < 3; r++) {
      const [a, b, c, d] = rows[r]
      corners[i + r] = a * positions[i] + b * positions[i + 1] + c * positions[i + 2] + d
    }
  return corners
}

function turnedToTheEye(triangles: Uint32Array, corners: Float64Array) {
  const kept = new Uint32Array(triangles.length)
  const facing = new Uint8Array(triangles.length / 3)
  let count = 0
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]]
    const area = twiceArea(corners, a, b, c)
    if (area === 0) continue
    kept.set(area > 0 ? [a, b, c] : [a, c, b], 3 * count)
    facing[count++] = area > 0 ? 1 : 0
  }
  return { triangles: kept.slice(0, 3 * count), facing: facing.slice(0, count) }
}

export const twiceArea = (p: Float64Array, a: number, b: number, c: number): number =>
  (p[3 * b] - p[3 * a]) * (p[3 * c + 1] - p[3 * a + 1]) - (p[3 * c] - p[3 * a]) * (p[3 * b + 1] - p[3 * a + 1])

/** About two triangles a cell, and no more than a thousand cells a side. */
function gridOf(corners: Float64Array, triangles: Uint32Array, frame: Frame): Grid {
  const [wide, high] = [frame.max[0] - frame.min[0], frame.max[1] - frame.min[1]]
  const count = triangles.length / 3
  const cell = Math.max(Math.sqrt((2 * wide * high) / Math.max(1, count)), wide / 1000, high / 1000, 1e-6)
  const [columns, rows] = [Math.floor(wide / cell) + 1, Math.floor(high / cell) + 1]
  const empty = { cell, columns, rows, starts: new Uint32Array(columns * rows + 1), items: new Uint32Array(0) }
  if (count === 0) return empty
  const { starts } = empty
  const each = (visit: (cellAt: number, triangle: number) => void) => {
    for (let t = 0; t < count; t++) {
      const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]]
      const us = [corners[a], corners[b], corners[c]]
      const vs = [corners[a + 1], corners[b + 1], corners[c + 1]]
      const [u0, u1] = cellsOf(Math.min(...us), Math.max(...us), frame.min[0], cell, columns)
      const [v0, v1] = cellsOf(Math.min(...vs), Math.max(...vs), frame.min[1], cell, rows)
      for (let v = v0; v <= v1; v++) for (let u = u0; u <= u1; u++) visit(v * columns + u, t)
    }
  }
  each((at) => starts[at + 1]++)
  for (let i = 1; i < starts.length; i++) starts[i] += starts[i - 1]
  const items = new Uint32Array(starts[starts.length - 1])
  const filled = starts.slice()
  each((at, t) => {
    items[filled[at]++] = t
  })
  return { ...empty, items }
}

function cellsOf(low: number, high: number, start: number, cell: number, count: number): [number, number] {
  const at = (x: number) => Math.min(count - 1, Math.max(0, Math.floor((x - start) / cell)))
  return [at(low), at(high)]
}

/** Triangles whose cells a line of the picture passes, each once, in no order of meaning. */
export function trianglesAlong({ grid, frame }: MeshSight, from: Seen, to: Seen): Set<number> {
  const met = new Set<number>()
  const { cell, columns, rows, starts, items } = grid
  const [u0, u1] = cellsOf(Math.min(from[0], to[0]), Math.max(from[0], to[0]), frame.min[0], cell, columns)
  const slope = (to[1] - from[1]) / (to[0] - from[0])
  for (let u = u0; u <= u1; u++) {
    // Between the two sides of this column of cells, with a little over for rounding.
    const sides = [frame.min[0] + u * cell, frame.min[0] + (u + 1) * cell]
    const vs = sides.map((x) => (Number.isFinite(slope) ? from[1] + slope * (x - from[0]) : Number.NaN))
    const steep = vs.some(Number.isNaN)
    const [low, high] = [Math.min(from[1], to[1]), Math.max(from[1], to[1])]
    const [first, last] = steep
      ? [low, high]
      : [Math.max(low, Math.min(...vs) - 1e-6 * cell), Math.min(high, Math.max(...vs) + 1e-6 * cell)]
    const [v0, v1] = cellsOf(first, last, frame.min[1], cell, rows)
    for (let v = v0; v <= v1; v++)
      for (let i = starts[v * columns + u]; i < starts[v * columns + u + 1]; i++) met.add(items[i])
  }
  return met
}

/** The parts of a straight line that the triangles of a mesh hide, one for each that does. */
export function hiddenByMesh(sight: MeshSight, from: Seen, to: Seen): Share[] {
  if (sight.nearest - Math.min(from[2], to[2]) <= touching) return []
  const shares: Share[] = []
  for (const t of trianglesAlong(sight, from, to)) {
    const share = hiddenByTriangle(sight, t, from, to)
    if (share) shares.push(share)
  }
  return shares
}

/** Within the triangle, and more than a touch behind its plane: four straight conditions on the share. */
function hiddenByTriangle({ corners, triangles }: MeshSight, t: number, from: Seen, to: Seen): Share | null {
  const ends: [number, number] = [0, 1]
  const number = [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]]
  const [a, b, c] = number.map((i) => [corners[3 * i], corners[3 * i + 1], corners[3 * i + 2]] as const)
  for (const [p, q] of [
    [a, b],
    [b, c],
    [c, a],
  ] as const) {
    const side = ([u, v]: readonly number[]) => (q[0] - p[0]) * (v - p[1]) - (q[1] - p[1]) * (u - p[0])
    if (!narrowed(ends, side(from), side(to))) return null
  }
  const area = twiceArea(corners, number[0], number[1], number[2])
  const depth = ([u, v, w]: Seen): number => {
    const beta = ((u - a[0]) * (c[1] - a[1]) - (v - a[1]) * (c[0] - a[0])) / area
    const gamma = ((b[0] - a[0]) * (v - a[1]) - (b[1] - a[1]) * (u - a[0])) / area
    return a[2] + beta * (b[2] - a[2]) + gamma * (c[2] - a[2]) - w
  }
  return narrowed(ends, depth(from) - touching, depth(to) - touching) && ends[1] > ends[0] ? [ends[0], ends[1]] : null
}

/** Keeps of a share what lies where a straight function, given at 0 and 1, is not below 0. */
function narrowed(ends: [number, number], atFrom: number, atTo: number): boolean {
  if (atFrom < 0 && atTo < 0) return false
  if (atFrom < 0) ends[0] = Math.max(ends[0], atFrom / (atFrom - atTo))
  else if (atTo < 0) ends[1] = Math.min(ends[1], atFrom / (atFrom - atTo))
  return ends[0] <= ends[1]
}
