import type { Mesh } from '../../core/shape/mesh.ts'
import { type Random, seeded } from '../kit/random.ts'

const surfaceSize = 1100

/** Height over x, y, mm. */
type Relief = (x: number, y: number) => number

/** Long low waves first, short ones after: what a scan of a pressed part looks like. */
function relief(random: Random): Relief {
  const waves = Array.from({ length: 14 }, (_, i) => wave(random, i))
  return (x, y) => waves.reduce((z, w) => z + w(x, y), 0)
}

function wave(random: Random, i: number): Relief {
  const short = 1.5 ** i
  const a = random.real(0, 2 * Math.PI)
  const phase = random.real(0, 2 * Math.PI)
  const k = (2 * Math.PI * short) / 700
  return (x, y) => (14 / short) * Math.sin(k * (x * Math.cos(a) + y * Math.sin(a)) + phase)
}

/** Closed solid under a bumpy height field: 2·cells² triangles on top, straight sides, a fan below. */
export function bumpySlab(cells: number, seed: number): Mesh {
  const random = seeded(seed)
  const height = relief(random)
  return slab(cells, (x, y) => height(x, y) + random.real(-0.15, 0.15), -120)
}

/** The same relief from above, without its roughness: a cover that follows the slab as closely as it can. */
export function coverOf(cells: number, seed: number): Mesh {
  const { positions, triangles, closed } = slab(cells, relief(seeded(seed)), 200)
  // Looked at from the other side.
  const turned = triangles.map((_, i) => triangles[i - (i % 3) + [0, 2, 1][i % 3]])
  return { positions, triangles: turned, closed }
}

function slab(cells: number, height: Relief, floor: number): Mesh {
  const positions: number[] = []
  const triangles: number[] = []
  const id = (i: number, j: number) => j * (cells + 1) + i
  for (let j = 0; j <= cells; j++)
    for (let i = 0; i <= cells; i++) {
      const x = (i / cells - 0.5) * surfaceSize
      const y = (j / cells - 0.5) * surfaceSize
      positions.push(x, y, height(x, y))
    }
  for (let j = 0; j < cells; j++)
    for (let i = 0; i < cells; i++)
      triangles.push(id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j), id(i + 1, j + 1), id(i, j + 1))
  addSkirt(positions, triangles, rimOf(cells, id), floor)
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), closed: true }
}

function rimOf(cells: number, id: (i: number, j: number) => number): number[] {
  const rim: number[] = []
  for (let i = 0; i < cells; i++) rim.push(id(i, 0))
  for (let j = 0; j < cells; j++) rim.push(id(cells, j))
  for (let i = cells; i > 0; i--) rim.push(id(i, cells))
  for (let j = cells; j > 0; j--) rim.push(id(0, j))
  return rim
}

function addSkirt(positions: number[], triangles: number[], rim: readonly number[], floor: number): void {
  const low = rim.map((v) => positions.push(positions[3 * v], positions[3 * v + 1], floor) / 3 - 1)
  const middle = positions.push(0, 0, floor) / 3 - 1
  rim.forEach((v, i) => {
    const k = (i + 1) % rim.length
    triangles.push(v, low[i], low[k], v, low[k], rim[k], middle, low[k], low[i])
  })
}

/** A ball of about 2·rings·round triangles with waves of all lengths on it, radius about 200 mm. */
export function bumpyBall(rings: number, round: number, seed: number): Mesh {
  const random = seeded(seed)
  const waves = Array.from({ length: 12 }, (_, i) => ({
    way: random.unit().map((x) => (x * 1.5 ** i) / 60),
    phase: random.real(0, 2 * Math.PI),
    size: 12 / 1.5 ** i,
  }))
  const radius = (x: number, y: number, z: number) =>
    waves.reduce((sum, { way, phase, size }) => {
      return sum + size * Math.sin(200 * (way[0] * x + way[1] * y + way[2] * z) + phase)
    }, 200)
  const positions: number[] = []
  const add = (x: number, y: number, z: number) => {
    const r = radius(x, y, z)
    positions.push(r * x, r * y, r * z)
  }
  add(0, 0, 1)
  add(0, 0, -1)
  const at = (ring: number, i: number) => (ring === 0 ? 0 : ring === rings ? 1 : 2 + (ring - 1) * round + (i % round))
  const triangles: number[] = []
  for (let ring = 0; ring < rings; ring++)
    for (let i = 0; i < round; i++) {
      const [t, a] = [(Math.PI * ring) / rings, (2 * Math.PI * i) / round]
      if (ring > 0) add(Math.sin(t) * Math.cos(a), Math.sin(t) * Math.sin(a), Math.cos(t))
      if (ring < rings - 1) triangles.push(at(ring, i), at(ring + 1, i), at(ring + 1, i + 1))
      if (ring > 0) triangles.push(at(ring, i), at(ring + 1, i + 1), at(ring, i + 1))
    }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), closed: true }
}

/** A crash beam of about 5,000 triangles along X: a star of ten corners carried along a bowed line, ends closed. */
export function bowedBeam(rings = 250): Mesh {
  const corners = 10
  const positions: number[] = []
  const triangles: number[] = []
  for (let ring = 0; ring < rings; ring++) {
    const s = ring / (rings - 1) - 0.5
    for (let i = 0; i < corners; i++) {
      const [a, r] = [(2 * Math.PI * i) / corners, i % 2 === 0 ? 38 : 22]
      const [y, z] = [60 * Math.sin(5 * s) + r * Math.cos(a), -90 * s * s + 8 * Math.sin(11 * s) + r * Math.sin(a)]
      positions.push(1000 * s, y, z)
    }
  }
  const id = (ring: number, i: number) => ring * corners + (i % corners)
  for (let ring = 0; ring + 1 < rings; ring++)
    for (let i = 0; i < corners; i++)
      triangles.push(
        id(ring, i),
        id(ring, i + 1),
        id(ring + 1, i + 1),
        id(ring, i),
        id(ring + 1, i + 1),
        id(ring + 1, i),
      )
  for (const ring of [0, rings - 1]) {
    const p = [0, 1, 2].map((k) => Array.from({ length: corners }, (_, i) => positions[3 * id(ring, i) + k]))
    const middle = positions.push(...p.map((x) => x.reduce((sum, one) => sum + one) / corners)) / 3 - 1
    for (let i = 0; i < corners; i++) {
      const [one, next] = ring === 0 ? [id(ring, i + 1), id(ring, i)] : [id(ring, i), id(ring, i + 1)]
      triangles.push(middle, one, next)
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), closed: true }
}
