import { roundMesh } from '../../core/clearance/roundMesh.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { identity } from '../../core/shape/vec.ts'
import { movedTube } from '../kit/tubes.ts'
import { closestPointWays, libraryGeometry } from './libraries.ts'
import { roundScenes } from './roundScenes.ts'
import type { Scene } from './scene.ts'

const fixed = (mesh: Mesh) => ({ form: 'mesh', mesh, pose: { turn: identity, at: [0, 0, 0] } }) as const

/** A pipe as an exact round sweep against a surface, beside the same pipe tessellated for a mesh library. */
export function pipeScenes(): Scene[] {
  let library: ReturnType<typeof libraryGeometry> | undefined
  return roundScenes(gapOf).map((scene): Scene => {
    library ??= libraryGeometry(scene.mesh)
    const large = library
    const small = libraryGeometry(scene.tessellated)
    const tubes = scene.poses.map((pose) => movedTube(scene.tube, pose))
    const answers = tubes.map((tube) => roundMesh(tube, fixed(scene.mesh), {}))
    const widest = Math.max(...answers.map((a) => a.atMost - a.atLeast))
    return {
      name: scene.name,
      inputs: `24 poses within 1 mm and 0.1°, gap about 5 mm, certified width at most ${widest.toExponential(1)} mm`,
      count: scene.poses.length,
      aims: [{ way: 'exact round sweep', than: 'three-mesh-bvh', times: 100 }],
      ways: [
        { name: 'exact round sweep', run: (i) => gapOf(tubes[i], scene.mesh) },
        {
          name: 'exact round sweep, warm',
          within: 1e-4,
          run: (i) => roundMesh(tubes[i], fixed(scene.mesh), { near: answers[(i + 23) % 24] }).atMost,
        },
        // A tessellation is another solid: it differs by its facets.
        ...closestPointWays(small, large, scene.poses, { within: 0.1, most: [4, 8] }),
      ],
    }
  })
}

const gapOf = (tube: Parameters<typeof roundMesh>[0], mesh: Mesh) => roundMesh(tube, fixed(mesh), {}).atMost
