import type { RoundForm } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { type Pose, turnMatrix, type Vec3 } from '../../core/shape/vec.ts'
import { type Random, seeded } from '../kit/random.ts'
import { tessellated, tubeThrough } from '../kit/tubePaths.ts'
import { movedTube } from '../kit/tubes.ts'

/** A six-bend pipe over a scanned-looking surface: the exact sweep, the same tessellated, and where they are tried. */
export interface RoundScene {
  readonly name: string
  /** What is nearest: it decides how much work the arcs are. */
  readonly nearest: 'bend' | 'straight' | 'end'
  readonly mesh: Mesh
  /** In its own frame; `poses` place it over the mesh. */
  readonly tube: RoundForm
  /** The same pipe for mesh libraries: 32 sides, a ring every 2°, as the anchors were measured. */
  readonly tessellated: Mesh
  /** First as drawn, then moved by up to 1 mm and 0.1°. */
  readonly poses: readonly Pose[]
}

export const pipeRadius = 12
const bendRadius = 45
const surfaceSize = 1100

/** Closed solid under a bumpy height field: 2·cells² triangles on top, straight sides, a fan below. */
export function bumpySlab(cells: number, seed: number): Mesh {
  const random = seeded(seed)
  const waves = Array.from({ length: 14 }, (_, i) => wave(random, i))
  const positions: number[] = []
  const triangles: number[] = []
  const id = (i: number, j: number) => j * (cells + 1) + i
  for (let j = 0; j <= cells; j++)
    for (let i = 0; i <= cells; i++) {
      const x = (i / cells - 0.5) * surfaceSize
      const y = (j / cells - 0.5) * surfaceSize
      positions.push(x, y, waves.reduce((z, w) => z + w(x, y), 0) + random.real(-0.15, 0.15))
    }
  for (let j = 0; j < cells; j++)
    for (let i = 0; i < cells; i++)
      triangles.push(id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j), id(i + 1, j + 1), id(i, j + 1))
  addSkirt(positions, triangles, rimOf(cells, id))
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), closed: true }
}

/** Long low waves first, short ones after: what a scan of a pressed part looks like. */
function wave(random: Random, i: number): (x: number, y: number) => number {
  const short = 1.5 ** i
  const a = random.real(0, 2 * Math.PI)
  const phase = random.real(0, 2 * Math.PI)
  const k = (2 * Math.PI * short) / 700
  return (x, y) => (14 / short) * Math.sin(k * (x * Math.cos(a) + y * Math.sin(a)) + phase)
}

function rimOf(cells: number, id: (i: number, j: number) => number): number[] {
  const rim: number[] = []
  for (let i = 0; i < cells; i++) rim.push(id(i, 0))
  for (let j = 0; j < cells; j++) rim.push(id(cells, j))
  for (let i = cells; i > 0; i--) rim.push(id(i, cells))
  for (let j = cells; j > 0; j--) rim.push(id(0, j))
  return rim
}

function addSkirt(positions: number[], triangles: number[], rim: readonly number[]): void {
  const floor = -120
  const low = rim.map((v) => positions.push(positions[3 * v], positions[3 * v + 1], floor) / 3 - 1)
  const middle = positions.push(0, 0, floor) / 3 - 1
  rim.forEach((v, i) => {
    const k = (i + 1) % rim.length
    triangles.push(v, low[i], low[k], v, low[k], rim[k], middle, low[k], low[i])
  })
}

/** Corner points of the pipe for each scene, before it is let down to 5 mm over the surface. */
const corners: Record<RoundScene['nearest'], Vec3[]> = {
  bend: [
    [-450, -200, 60],
    [-250, -200, 50],
    [-200, 50, 60],
    [0, 80, -10],
    [40, -120, 60],
    [250, -100, 65],
    [300, 150, 80],
    [480, 180, 60],
  ],
  straight: [
    [-450, -200, 60],
    [-250, -200, 50],
    [-200, 50, 0],
    [60, 80, 0],
    [80, -140, 60],
    [250, -100, 65],
    [300, 150, 80],
    [480, 180, 60],
  ],
  end: [
    [-450, -200, -40],
    [-250, -200, 60],
    [-200, 50, 60],
    [0, 80, 70],
    [40, -120, 60],
    [250, -100, 65],
    [300, 150, 80],
    [480, 180, 60],
  ],
}

/**
 * @param gapAt distance of the pipe to the mesh, used once to let the pipe down to a gap of 5 mm (any right engine)
 * @param cells 226: about 103,000 triangles
 */
export function roundScenes(gapAt: (tube: RoundForm, mesh: Mesh) => number, cells = 226, count = 24): RoundScene[] {
  const mesh = bumpySlab(cells, 41)
  return (['bend', 'straight', 'end'] as const).map((nearest) => {
    const drawn = tubeThrough(corners[nearest], bendRadius, pipeRadius)
    const tube = letDown(drawn, mesh, gapAt)
    return {
      name: `six-bend pipe over ${mesh.triangles.length / 3} triangles, nearest at its ${nearest}`,
      nearest,
      mesh,
      tube,
      tessellated: tessellated(tube, 32, Math.PI / 90, 7.5),
      poses: jitter(count, 42),
    }
  })
}

/** The gap falls by no more than the pipe does: lowering by gap − 5 again and again ends at 5 from above. */
function letDown(tube: RoundForm, mesh: Mesh, gapAt: (tube: RoundForm, mesh: Mesh) => number): RoundForm {
  let height = 100
  for (let i = 0; i < 40; i++) {
    const spare = gapAt(movedTube(tube, lifted(height)), mesh) - 5
    height -= spare
    if (Math.abs(spare) < 1e-6) break
  }
  return movedTube(tube, lifted(height))
}

const lifted = (z: number): Pose => ({ turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], at: [0, 0, z] })

/** First pose untouched, then small moves as in a drag. */
export function jitter(count: number, seed: number): Pose[] {
  const random = seeded(seed)
  return Array.from({ length: count }, (_, i): Pose => {
    if (i === 0) return lifted(0)
    return { turn: turnMatrix(random.point(0.1)), at: random.point(1) }
  })
}
