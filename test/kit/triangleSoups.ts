import type { MeshForm } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { along, identity, mix, type Pose, type Vec3 } from '../../core/shape/vec.ts'
import type { Random } from './random.ts'

export type Corners = readonly [Vec3, Vec3, Vec3]

/** Loose triangles as an open mesh. */
export function soup(triangles: readonly Corners[]): Mesh {
  return {
    positions: Float64Array.from(triangles.flat(2)),
    triangles: Uint32Array.from({ length: 3 * triangles.length }, (_, i) => i),
    closed: false,
  }
}

export const placedMesh = (mesh: Mesh, pose: Pose = { turn: identity, at: [0, 0, 0] }): MeshForm => ({
  form: 'mesh',
  mesh,
  pose,
})

/** Families of triangles that have made such kernels fail. */
export const soups: Record<string, (r: Random) => Corners[]> = {
  any: (r) => Array.from({ length: 1 + r.int(12) }, () => [r.point(50), r.point(50), r.point(50)]),
  small: (r) =>
    Array.from({ length: 1 + r.int(12) }, () => {
      const p = r.point(42)
      return [p, along(p, r.unit(), 3), along(p, r.unit(), 3)]
    }),
  'slivers 1e-5 wide': (r) =>
    Array.from({ length: 1 + r.int(6) }, () => {
      const [p, q] = [r.point(50), r.point(50)]
      return [p, q, along(mix(p, q, r.real(0, 1)), r.unit(), 1e-5)]
    }),
  'one tilted plane': (r) => {
    const [o, u, v] = [r.point(40), r.unit(), r.unit()]
    const on = () => along(along(o, u, r.real(-40, 40)), v, r.real(-40, 40))
    return Array.from({ length: 1 + r.int(8) }, () => [on(), on(), on()])
  },
}
