import { BoundQueue } from '../../clearance/boundQueue.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { along, cross, distance, dot, mix, sub, unit } from '../../shape/vec.ts'
import type { Field } from './field.ts'
import type { RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** Where there is less room than this share of the radius, a way is made to seem longer, by up to so much. */
const roomyShare = 0.5
const tightFactor = 1.5

/**
 * The shortest way from cell to cell among those that are not blocked for certain, drawn away from narrow places.
 * Source: P. Hart, N. Nilsson, B. Raphael, A formal basis for the heuristic determination of minimum cost paths (1968),
 * from memory.
 * @param roomy margin from which on nothing seems longer, mm
 * @returns middles of the cells from `from` to `to`, which count as free; null where there is none, or it was broken off
 */
export function corridor(field: Field, from: Vec3, to: Vec3, roomy: number, work: Work): Vec3[] | null {
  const [start, goal] = [field.cellAt(...from), field.cellAt(...to)]
  if (start < 0 || goal < 0) return null
  const cost = new Float64Array(field.cells).fill(Infinity)
  const before = new Int32Array(field.cells).fill(-1)
  const settled = new Uint8Array(field.cells)
  const queue = new BoundQueue(4096)
  const middle = field.centre(goal)
  cost[start] = 0
  queue.push(0, start, 0)
  while (queue.take()) {
    const cell = queue.first
    if (settled[cell]) continue
    settled[cell] = 1
    if (cell === goal) return wayBack(field, before, goal)
    const asked = field.asked
    eachNeighbour(field, cell, (next, length) => {
      if (settled[next]) return
      const margin = field.margin(next)
      if (margin < -field.reach && next !== goal) return
      const tight = margin < roomy ? (tightFactor * (roomy - margin)) / roomy : 0
      const total = cost[cell] + length * (1 + tight)
      if (total >= cost[next]) return
      cost[next] = total
      before[next] = cell
      queue.push(total + distance(field.centre(next), middle), next, 0)
    })
    if (work.ends(3 + 5 * (field.asked - asked))) return null
  }
  return null
}

export const roomyMargin = (problem: RouteProblem): number => roomyShare * problem.radius

function eachNeighbour(field: Field, cell: number, visit: (next: number, length: number) => void): void {
  const [nx, ny, nz] = field.counts
  const i = cell % nx
  const j = Math.floor(cell / nx) % ny
  const k = Math.floor(cell / (nx * ny))
  for (let c = Math.max(0, k - 1); c <= Math.min(nz - 1, k + 1); c++)
    for (let b = Math.max(0, j - 1); b <= Math.min(ny - 1, j + 1); b++)
      for (let a = Math.max(0, i - 1); a <= Math.min(nx - 1, i + 1); a++) {
        const next = (c * ny + b) * nx + a
        if (next !== cell) visit(next, field.between(a - i, b - j, c - k))
      }
}

function wayBack(field: Field, before: Int32Array, goal: number): Vec3[] {
  const way: Vec3[] = []
  for (let cell = goal; cell >= 0; cell = before[cell]) way.push(field.centre(cell))
  return way.reverse()
}

/** So many points of a way are enough to bend a tube along it. */
const keptPoints = 30

/** Some of a way's points, evenly along it, each pushed to where there is more room. */
export function medialPoints(field: Field, way: readonly Vec3[], roomy: number, work: Work): Vec3[] {
  const count = Math.min(keptPoints, way.length)
  const points: Vec3[] = []
  for (let i = 0; i < count && !work.ended; i++) {
    const point = way[Math.floor((i * way.length) / count)]
    points.push(i === 0 ? point : pushed(field, point, roomy, work))
  }
  return points
}

/** Uphill by halves of steps: between two walls the slope turns round at the middle, and the steps close in on it. */
function pushed(field: Field, from: Vec3, roomy: number, work: Work): Vec3 {
  let [point, margin] = [from, field.marginAt(from, roomy)]
  let step = field.size / 2
  for (let i = 0; i < 14 && margin < roomy && step > 0.02; i++) {
    if (work.ends(25)) break
    const onward = along(point, uphill(field, point, margin, roomy), Math.min(step, roomy - margin + 0.01))
    const there = field.marginAt(onward, roomy)
    if (there > margin) [point, margin] = [onward, there]
    else step /= 2
  }
  return point
}

function uphill(field: Field, [x, y, z]: Vec3, margin: number, roomy: number): Vec3 {
  const h = 0.05
  const rise = (point: Vec3) => field.marginAt(point, roomy + 1) - margin
  return unit([rise([x + h, y, z]), rise([x, y + h, z]), rise([x, y, z + h])])
}

/** Straights along which a corridor's parts meet at an angle between these cosines are worth a corner. */
const leastTurn = 0.87
const mostTurn = -0.8
/** So many corners at most: beyond that the search grows and finds no more. */
const mostCorners = 100

/** A corner point outside of the turn, and between which points of the corridor it stands. */
export interface TurnCorner {
  readonly at: Vec3
  readonly order: number
}

/**
 * Where straights along two parts of a corridor would meet. The corner of a bend lies outside of the turn and never on
 * the centreline: without these a tight corridor is not found.
 */
export function turnCorners({ bendRadius, radius }: RouteProblem, points: readonly Vec3[]): TurnCorner[] {
  const corners: TurnCorner[] = []
  const tangent = (i: number) => unit(sub(points[i + 1], points[i - 1]))
  for (let i = 1; i + 1 < points.length && corners.length < mostCorners; i++)
    for (let j = i + 2; j + 1 < points.length && corners.length < mostCorners; j++) {
      const at = meeting(points[i], tangent(i), points[j], tangent(j), 3 * bendRadius, radius / 2)
      if (at) corners.push({ at, order: (i + j) / 2 })
    }
  return corners
}

/** Half-way between the nearest points of two straights, one followed onward and one back; null where they pass apart. */
function meeting(p: Vec3, u: Vec3, q: Vec3, v: Vec3, longest: number, apart: number): Vec3 | null {
  const cosine = dot(u, v)
  if (cosine > leastTurn || cosine < mostTurn) return null
  const square = dot(cross(u, v), cross(u, v))
  const way = sub(q, p)
  const onward = (dot(way, u) - dot(way, v) * cosine) / square
  const back = (dot(way, v) - dot(way, u) * cosine) / square
  if (onward < 0 || onward > longest || back < 0 || back > longest) return null
  const [a, b] = [along(p, u, onward), along(q, v, -back)]
  return distance(a, b) > apart ? null : mix(a, b, 0.5)
}
