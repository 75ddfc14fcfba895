import { clearance } from '../../core/clearance/clearance.ts'
import { meshTree } from '../../core/clearance/meshTree.ts'
import type { Form, Polytope, Solid } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { identity, type Pose, product, turnedBack, scale, type Vec3 } from '../../core/shape/vec.ts'
import { boxBody, movedBody, tankBody } from '../kit/bodies.ts'
import { meshOf } from '../kit/meshes.ts'
import { libraryGeometry, type manifoldLibrary, manifoldOf, matrixOf } from './libraries.ts'
import { bumpySlab, jitter } from './roundScenes.ts'
import type { Scene } from './scene.ts'

const lyingDown: Pose['turn'] = [0, 1, 0, 0, 0, 1, 1, 0, 0]

/** Core 400 × 300 × 200 and a tapered tank at each end, standing 8 mm over the surface. */
function parts(): Polytope[] {
  const tank = (side: 1 | -1): Polytope =>
    movedBody(tankBody(150, 100, 40, 0.8, 0.75), {
      turn: side > 0 ? lyingDown : mirrored,
      at: [side * 240, 0, 0],
    }) as Polytope
  return [boxBody(200, 150, 100), tank(1), tank(-1)]
}
const mirrored: Pose['turn'] = product([-1, 0, 0, 0, 1, 0, 0, 0, 1], lyingDown)

const solidOf = (bodies: readonly Polytope[], pose: Pose): Solid => {
  const moved = bodies.map((body) => movedBody(body, pose) as Polytope)
  const all = moved.flatMap((body) => [...body.vertices])
  const side = (k: number, pick: (...x: number[]) => number) => pick(...all.filter((_, i) => i % 3 === k))
  const forms = moved.map((body): Form => ({ form: 'convex', body }))
  return {
    forms,
    bounds: {
      min: [side(0, Math.min), side(1, Math.min), side(2, Math.min)],
      max: [side(0, Math.max), side(1, Math.max), side(2, Math.max)],
    },
    open: false,
  }
}

const meshSolid = (mesh: Mesh): Solid => ({
  forms: [{ form: 'mesh', mesh, pose: { turn: identity, at: [0, 0, 0] } }],
  bounds: { min: [-1e4, -1e4, -1e4], max: [1e4, 1e4, 1e4] },
  open: !mesh.closed,
})

function joinedMesh(bodies: readonly Polytope[]): Mesh {
  const meshes = bodies.map(meshOf)
  let before = 0
  const triangles = meshes.flatMap((mesh) => {
    const moved = Array.from(mesh.triangles, (v) => v + before)
    before += mesh.positions.length / 3
    return moved
  })
  return {
    positions: Float64Array.from(meshes.flatMap((m) => [...m.positions])),
    triangles: Uint32Array.from(triangles),
    closed: true,
  }
}

function invertedMatrix({ turn: m, at }: Pose) {
  const turn: Pose['turn'] = [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]]
  return matrixOf({ turn, at: scale(turnedBack(m, at), -1) as Vec3 })
}

/** Core and tanks as primitives against a scanned-looking solid, beside two general-purpose libraries. */
export function meshScene(cells: number, kernel: Awaited<ReturnType<typeof manifoldLibrary>>): Scene {
  const mesh = bumpySlab(cells, 41)
  const bodies = parts()
  const keepOut = meshSolid(mesh)
  meshTree(mesh, 'good')
  const height = letDown((z) => clearance(solidOf(bodies, lifted(z)), keepOut).atMost)
  const poses = jitter(24, 42).map(({ turn, at }): Pose => ({ turn, at: [at[0], at[1], at[2] + height] }))
  const solids = poses.map((pose) => solidOf(bodies, pose))
  const small = libraryGeometry(joinedMesh(bodies))
  const large = libraryGeometry(mesh)
  const [p, q] = [manifoldOf(kernel, joinedMesh(bodies)), manifoldOf(kernel, mesh)]
  const asMatrix = ({ turn: m, at }: Pose) =>
    [m[0], m[3], m[6], 0, m[1], m[4], m[7], 0, m[2], m[5], m[8], 0, at[0], at[1], at[2], 1] as Parameters<
      typeof p.transform
    >[0]
  const gaps = solids.map((solid) => clearance(solid, keepOut).atMost)
  const placedParts = poses.map((pose) => p.transform(asMatrix(pose)))
  const matrices = poses.map(matrixOf)
  const inverses = poses.map(invertedMatrix)
  const distance = (target: unknown) => (target as { distance: number }).distance
  return {
    name: `core and two tanks against ${mesh.triangles.length / 3} triangles`,
    inputs: `24 poses within 1 mm and 0.1°, gap ${Math.min(...gaps).toFixed(3)} to ${Math.max(...gaps).toFixed(3)} mm`,
    count: poses.length,
    aim: 'at least 100 × closestPointToGeometry in its better order, 500 × minGap',
    ways: [
      { name: 'clearance, primitives', run: (i) => clearance(solids[i], keepOut).atMost },
      {
        name: 'clearance, warm',
        run: (i) => clearance(solids[i], keepOut, { near: warm(solids, keepOut, i) }).atMost,
        within: 1e-8,
      },
      {
        name: 'three-mesh-bvh closestPointToGeometry, large mesh as tree',
        baseline: true,
        most: 24,
        within: 1e-6,
        run: (i) => distance(large.tree.closestPointToGeometry(small.geometry, matrices[i])),
      },
      {
        name: 'three-mesh-bvh closestPointToGeometry, parts as tree',
        most: 8,
        within: 1e-6,
        run: (i) => distance(small.tree.closestPointToGeometry(large.geometry, inverses[i])),
      },
      {
        name: 'manifold-3d minGap, 15 % over',
        most: 12,
        within: 1e-3,
        run: (i) => placedParts[i].minGap(q, gaps[i] * 1.15),
      },
    ],
  }
}

const witnesses = new Map<Solid, { onPart: Vec3; onKeepOut: Vec3 }>()
/** The former frame's witnesses, as a drag has them. */
function warm(solids: readonly Solid[], keepOut: Solid, i: number) {
  const former = solids[(i + solids.length - 1) % solids.length]
  let near = witnesses.get(former)
  if (!near) {
    near = clearance(former, keepOut)
    witnesses.set(former, near)
  }
  return near
}

const lifted = (z: number): Pose => ({ turn: identity, at: [0, 0, z] })

function letDown(gapAt: (height: number) => number): number {
  let height = 250
  for (let i = 0; i < 40; i++) {
    const spare = gapAt(height) - 8
    height -= spare
    if (Math.abs(spare) < 1e-6) break
  }
  return height
}
