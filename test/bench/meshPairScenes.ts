import { meshMesh } from '../../core/clearance/meshMesh.ts'
import { meshTree } from '../../core/clearance/meshTree.ts'
import type { MeshForm } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { add, type Pose, type Vec3 } from '../../core/shape/vec.ts'
import { boxBody, frustum, movedBody } from '../kit/bodies.ts'
import { tessellated, tubeThrough } from '../kit/tubePaths.ts'
import { closestPointWays, libraryGeometry, type Manifold3d, minGapWay } from './libraries.ts'
import { joinedMesh } from './meshScenes.ts'
import { jitter, letDown, lifted } from './places.ts'
import { pipeCorners, pipeRadius } from './roundScenes.ts'
import type { Scene, Way } from './scene.ts'
import { bowedBeam, bumpyBall, bumpySlab, coverOf } from './surfaces.ts'

interface PairScene {
  readonly name: string
  readonly part: Mesh
  readonly keepOut: Mesh
  readonly gap: number
  /** Start of letting down, mm; the part comes from above. */
  readonly from: number
  /** What the first way may take: this machine's figures for what was tried before. */
  readonly ms: number
  /** Runs of closestPointToGeometry in its two orders, and of minGap; 0: it would take minutes. */
  readonly most: readonly [number, number, number]
}

/**
 * Two meshes, where neither is a primitive: a part of few triangles over a beam and over a scan, two scanned balls, a
 * tessellated pipe over a scan, and the worst there is: two surfaces that follow each other everywhere.
 */
export function* meshPairScenes(kernel: Manifold3d): Generator<Scene> {
  const slab = bumpySlab(226, 41)
  const part = partMesh()
  const pipe = tessellated(tubeThrough(pipeCorners.bend, 45, pipeRadius), 32, Math.PI / 90, 7.5)
  const most = [6, 12, 12] as const
  yield scene(kernel, { name: 'part over a beam', part, keepOut: bowedBeam(), gap: 12, from: 300, ms: 0.02, most })
  yield scene(kernel, { name: 'part over a scan', part, keepOut: slab, gap: 8, from: 300, ms: 0.05, most })
  const [one, other] = [bumpyBall(388, 388, 11), bumpyBall(388, 388, 23)]
  yield scene(kernel, { name: 'two balls', part: one, keepOut: other, gap: 3, from: 600, ms: 0.6, most: [1, 1, 3] })
  yield scene(kernel, {
    name: 'pipe over a scan',
    part: pipe,
    keepOut: slab,
    gap: 5,
    from: 100,
    ms: 0.2,
    most: [2, 2, 6],
  })
  const cover = { part: coverOf(388, 41), keepOut: bumpySlab(388, 41), gap: 3, from: 100 }
  yield scene(kernel, { name: 'two surfaces that follow each other', ...cover, ms: 60, most: [0, 0, 1] })
}

/** Core and two round tanks of 24 sides, 196 triangles. */
function partMesh(): Mesh {
  const ring = (radius: number, z: number) =>
    Array.from({ length: 24 }, (_, i): Vec3 => {
      const a = (2 * Math.PI * (i + 0.5)) / 24
      return [radius * Math.cos(a), radius * Math.sin(a), z]
    })
  const tank = frustum(ring(95, 0), ring(70, 80))
  const lyingDown = (side: 1 | -1): Pose => ({ turn: [0, 0, side, 0, 1, 0, -side, 0, 0], at: [side * 202, 0, 0] })
  return joinedMesh([boxBody(200, 150, 100), movedBody(tank, lyingDown(1)), movedBody(tank, lyingDown(-1))])
}

function scene(kernel: Manifold3d, { name, part, keepOut, gap, from, ms, most }: PairScene): Scene {
  const form = (mesh: Mesh, pose: Pose): MeshForm => ({ form: 'mesh', mesh, pose })
  const still = form(keepOut, lifted(0))
  for (const mesh of [part, keepOut]) meshTree(mesh, 'good')
  const height = letDown((z) => meshMesh(form(part, lifted(z)), still, {}).atMost, gap, from)
  const poses = jitter(24, 42).map(({ turn, at }): Pose => ({ turn, at: add(at, [0, 0, height]) }))
  const parts = poses.map((pose) => form(part, pose))
  const answers = parts.map((one) => meshMesh(one, still, {}))
  const gaps = answers.map((answer) => answer.atMost)
  const ways: Way[] = [
    { name: 'clearance of two meshes', run: (i) => meshMesh(parts[i], still, {}).atMost },
    {
      name: 'clearance of two meshes, warm',
      within: 1e-8,
      run: (i) => meshMesh(parts[i], still, { near: answers[(i + 23) % 24] }).atMost,
    },
  ]
  if (most[0] > 0)
    ways.push(
      ...closestPointWays(libraryGeometry(part), libraryGeometry(keepOut), poses, {
        within: 1e-6,
        most: [most[0], most[1]],
      }),
    )
  ways.push(minGapWay(kernel, part, keepOut, poses, gaps, most[2]))
  const count = (mesh: Mesh) => (mesh.triangles.length / 3).toLocaleString('en')
  return {
    name: `${name}: ${count(part)} and ${count(keepOut)} triangles`,
    inputs: `24 poses within 1 mm and 0.1°, gap ${Math.min(...gaps).toFixed(3)} to ${Math.max(...gaps).toFixed(3)} mm`,
    count: poses.length,
    aims: [{ way: 'clearance of two meshes', ms }],
    ways,
  }
}
