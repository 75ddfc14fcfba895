import type { Surface } from './protocol.ts'

/** Below this a surface is drawn as it is everywhere. */
export const heavyTriangles = 40_000
/** About so many cells along the longest side: finer than a small drawing has pixels. */
const cellsAlong = 96
/** Coarser than this a thing is not known again. */
const fewestCells = 5

/**
 * A lighter copy of a surface for small drawings and while the view turns: vertices in one cell of a grid become one,
 * triangles that fall together go. To look at only; gaps are always taken from the solid itself.
 * @param budget how many triangles it may have, about; null: only a surface of very many is made lighter
 * @returns null where the surface is light enough already
 */
export function lightSurface(surface: Surface, budget: number | null = null): Surface | null {
  if (budget === null) return surface.triangles.length / 3 <= heavyTriangles ? null : clustered(surface, cellsAlong)
  // A surface in a grid of n cells along meets a few times n² of them, and makes two triangles of each.
  let cells = Math.min(cellsAlong, Math.max(fewestCells, Math.round(Math.sqrt(budget / 5))))
  for (let tries = 0; ; tries++) {
    const light = clustered(surface, cells)
    const excess = light.triangles.length / 3 / budget
    if (excess <= 1.25 || cells <= fewestCells || tries === 3) return light
    cells = Math.max(fewestCells, Math.floor(cells / Math.sqrt(excess)))
  }
}

function clustered({ positions, normals, triangles }: Surface, cells: number): Surface {
  const { low, cell } = gridOver(positions, cells)
  const numberOf = new Map<number, number>()
  const newNumber = new Uint32Array(positions.length / 3)
  const sums: number[] = []
  for (let v = 0; v < newNumber.length; v++) {
    let key = 0
    for (let k = 0; k < 3; k++) key = key * 1024 + Math.floor((positions[3 * v + k] - low[k]) / cell)
    // Both sides of a thin sheet share cells; they stay apart by the octant of their normals.
    for (let k = 0; k < 3; k++) key = key * 2 + (normals[3 * v + k] < 0 ? 1 : 0)
    let number = numberOf.get(key)
    if (number === undefined) {
      number = numberOf.size
      numberOf.set(key, number)
      sums.push(0, 0, 0, 0, 0, 0, 0)
    }
    newNumber[v] = number
    for (let k = 0; k < 3; k++) {
      sums[7 * number + k] += positions[3 * v + k]
      sums[7 * number + 3 + k] += normals[3 * v + k]
    }
    sums[7 * number + 6]++
  }
  return { ...averaged(sums), triangles: distinctTriangles(triangles, newNumber, numberOf.size) }
}

function gridOver(positions: Float32Array, cells: number): { low: number[]; cell: number } {
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  for (let i = 0; i < positions.length; i++) {
    const k = i % 3
    if (positions[i] < low[k]) low[k] = positions[i]
    if (positions[i] > high[k]) high[k] = positions[i]
  }
  return { low, cell: Math.max(...high.map((h, k) => h - low[k])) / cells || 1 }
}

function averaged(sums: readonly number[]): Pick<Surface, 'positions' | 'normals'> {
  const count = sums.length / 7
  const positions = new Float32Array(3 * count)
  const normals = new Float32Array(3 * count)
  for (let v = 0; v < count; v++) {
    const size = Math.hypot(sums[7 * v + 3], sums[7 * v + 4], sums[7 * v + 5]) || 1
    for (let k = 0; k < 3; k++) {
      positions[3 * v + k] = sums[7 * v + k] / sums[7 * v + 6]
      normals[3 * v + k] = sums[7 * v + 3 + k] / size
    }
  }
  return { positions, normals }
}

function distinctTriangles(triangles: Uint32Array, newNumber: Uint32Array, vertices: number): Uint32Array {
  const kept: number[] = []
  const seen = new Set<number>()
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [newNumber[triangles[i]], newNumber[triangles[i + 1]], newNumber[triangles[i + 2]]]
    if (a === b || b === c || c === a) continue
    // The smallest first keeps the sense; two numbers of up to 2^17 and a third fit a double exactly.
    const [p, q, r] = a < b && a < c ? [a, b, c] : b < c ? [b, c, a] : [c, a, b]
    const key = (p * vertices + q) * vertices + r
    if (key < Number.MAX_SAFE_INTEGER && seen.has(key)) continue
    seen.add(key)
    kept.push(p, q, r)
  }
  return Uint32Array.from(kept)
}
