import type { RoundForm } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import type { Pose, Vec3 } from '../../core/shape/vec.ts'
import { tessellated, tubeThrough } from '../kit/tubePaths.ts'
import { movedTube } from '../kit/tubes.ts'
import { jitter, letDown, lifted } from './places.ts'
import { bumpySlab } from './surfaces.ts'

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

/** Corner points of the pipe for each scene, before it is let down to 5 mm over the surface. */
export const pipeCorners: Record<RoundScene['nearest'], Vec3[]> = {
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
    const drawn = tubeThrough(pipeCorners[nearest], bendRadius, pipeRadius)
    const height = letDown((z) => gapAt(movedTube(drawn, lifted(z)), mesh), 5, 100)
    const tube = movedTube(drawn, lifted(height))
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
