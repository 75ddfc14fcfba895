import { clearance } from '../../core/clearance/clearance.ts'
import { meshTree } from '../../core/clearance/meshTree.ts'
import type { Form, Polytope, Solid } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { identity, type Pose, product, type Vec3 } from '../../core/shape/vec.ts'
import { boxBody, movedBody, tankBody } from '../kit/bodies.ts'
import { meshOf } from '../kit/meshes.ts'
import { closestPointWays, libraryGeometry, type Manifold3d, minGapWay } from './libraries.ts'
import { jitter, letDown, lifted } from './places.ts'
import type { Scene } from './scene.ts'
import { bumpySlab } from './surfaces.ts'

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

export function joinedMesh(bodies: readonly Polytope[]): Mesh {
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

/** Core and tanks as primitives against a scanned-looking solid, beside two general-purpose libraries. */
export function meshScene(cells: number, kernel: Manifold3d): Scene {
  const mesh = bumpySlab(cells, 41)
  const bodies = parts()
  const keepOut = meshSolid(mesh)
  meshTree(mesh, 'good')
  const height = letDown((z) => clearance(solidOf(bodies, lifted(z)), keepOut).atMost, 8, 250)
  const poses = jitter(24, 42).map(({ turn, at }): Pose => ({ turn, at: [at[0], at[1], at[2] + height] }))
  const solids = poses.map((pose) => solidOf(bodies, pose))
  const part = joinedMesh(bodies)
  const gaps = solids.map((solid) => clearance(solid, keepOut).atMost)
  return {
    name: `core and two tanks against ${mesh.triangles.length / 3} triangles`,
    inputs: `24 poses within 1 mm and 0.1°, gap ${Math.min(...gaps).toFixed(3)} to ${Math.max(...gaps).toFixed(3)} mm`,
    count: poses.length,
    aims: [
      { way: 'clearance, primitives', than: 'three-mesh-bvh', times: 100 },
      { way: 'clearance, primitives', than: 'manifold-3d', times: 500 },
    ],
    ways: [
      { name: 'clearance, primitives', run: (i) => clearance(solids[i], keepOut).atMost },
      {
        name: 'clearance, warm',
        run: (i) => clearance(solids[i], keepOut, { near: warm(solids, keepOut, i) }).atMost,
        within: 1e-8,
      },
      ...closestPointWays(libraryGeometry(part), libraryGeometry(mesh), poses, { within: 1e-6, most: [8, 24] }),
      minGapWay(kernel, part, mesh, poses, gaps, 12),
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
