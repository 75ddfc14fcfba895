import { convexMesh } from '../../core/clearance/convexMesh.ts'
import { convexDistance } from '../../core/clearance/gjk.ts'
import { emptyNearest } from '../../core/clearance/nearest.ts'
import { emptySet, setOf, setTriangle } from '../../core/clearance/support.ts'
import { identity } from '../../core/shape/vec.ts'
import { boxBody, movedBody } from '../kit/bodies.ts'
import { bumpyMesh } from '../kit/meshes.ts'
import { seeded } from '../kit/random.ts'
import type { Scene } from './scene.ts'

/** A box over 2,000 triangles: the tree against trying every triangle. */
export function smallScene(): Scene {
  const random = seeded(5)
  const mesh = bumpyMesh(40, 25, 9)
  const form = { form: 'mesh', mesh, pose: { turn: identity, at: [0, 0, 0] } } as const
  const bodies = Array.from({ length: 24 }, () =>
    movedBody(boxBody(60, 40, 20), {
      turn: random.turn(),
      at: [random.real(-80, 80), random.real(-60, 60), random.real(95, 130)],
    }),
  )
  const triangle = emptySet()
  const near = emptyNearest()
  const corners = new Float64Array(9)
  return {
    name: 'a box over 2,000 triangles',
    inputs: '24 random turns and places, 15 to 130 mm over the surface',
    count: bodies.length,
    ways: [
      { name: 'clearance', run: (i) => convexMesh({ form: 'convex', body: bodies[i] }, form, {}).atMost },
      {
        name: 'brute force, every triangle',
        baseline: true,
        within: 1e-8,
        run: (i) => {
          const set = setOf(bodies[i])
          let least = Infinity
          for (let t = 0; t < mesh.triangles.length; t += 3) {
            for (let k = 0; k < 9; k++) corners[k] = mesh.positions[3 * mesh.triangles[t + Math.floor(k / 3)] + (k % 3)]
            convexDistance(set, setTriangle(triangle, corners), Infinity, near)
            if (near.atMost < least) least = near.atMost
          }
          return least
        },
      },
    ],
  }
}
