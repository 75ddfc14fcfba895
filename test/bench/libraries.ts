import Module from 'manifold-3d'
import { BufferAttribute, BufferGeometry, Matrix4 } from 'three'
import { MeshBVH, SAH } from 'three-mesh-bvh'
import type { Mesh } from '../../core/shape/mesh.ts'
import { type Pose, scale, turnedBack } from '../../core/shape/vec.ts'
import type { Way } from './scene.ts'

/** A mesh as three-mesh-bvh takes it, double precision, tree built as the anchors were measured (SAH, leaf 4). */
export function libraryGeometry(mesh: Mesh): { geometry: BufferGeometry; tree: MeshBVH } {
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(mesh.positions.slice(), 3))
  geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1))
  const tree = new MeshBVH(geometry, { strategy: SAH, targetLeafSize: 4 })
  ;(geometry as unknown as { boundsTree: MeshBVH }).boundsTree = tree
  return { geometry, tree }
}

export function matrixOf({ turn: m, at }: Pose): Matrix4 {
  return new Matrix4().set(m[0], m[1], m[2], at[0], m[3], m[4], m[5], at[1], m[6], m[7], m[8], at[2], 0, 0, 0, 1)
}

export type Manifold3d = Awaited<ReturnType<typeof manifoldLibrary>>

export async function manifoldLibrary() {
  const kernel = await Module()
  kernel.setup()
  return kernel
}

function manifoldOf(kernel: Manifold3d, mesh: Mesh) {
  return new kernel.Manifold(
    new kernel.Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(mesh.positions),
      triVerts: mesh.triangles.slice(),
    }),
  )
}

export function inverseMatrixOf({ turn: m, at }: Pose): Matrix4 {
  const turn: Pose['turn'] = [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]]
  return matrixOf({ turn, at: scale(turnedBack(m, at), -1) })
}

type LibraryMesh = ReturnType<typeof libraryGeometry>
const distanceOf = (target: unknown) => (target as { distance: number }).distance

/**
 * three-mesh-bvh's closest point in both orders: which of the two is the quicker depends on the meshes.
 * @param poses of the part; the other mesh lies still
 */
export function closestPointWays(
  part: LibraryMesh,
  other: LibraryMesh,
  poses: readonly Pose[],
  { within, most }: { within: number; most: readonly [number, number] },
): Way[] {
  const matrices = poses.map(matrixOf)
  const inverses = poses.map(inverseMatrixOf)
  return [
    {
      name: 'three-mesh-bvh closestPointToGeometry, keep-out as tree',
      baseline: true,
      most: most[0],
      within,
      run: (i) => distanceOf(other.tree.closestPointToGeometry(part.geometry, matrices[i])),
    },
    {
      name: 'three-mesh-bvh closestPointToGeometry, part as tree',
      baseline: true,
      most: most[1],
      within,
      run: (i) => distanceOf(part.tree.closestPointToGeometry(other.geometry, inverses[i])),
    },
  ]
}

/** manifold-3d's gap, looked for 15 % beyond the answer: it must be given a length, and pays for every millimetre of it. */
export function minGapWay(
  kernel: Manifold3d,
  part: Mesh,
  other: Mesh,
  poses: readonly Pose[],
  gaps: readonly number[],
  most: number,
): Way {
  const [p, q] = [manifoldOf(kernel, part), manifoldOf(kernel, other)]
  const placed = poses.slice(0, most).map((pose) => p.transform(matrixOf(pose).elements as Columns))
  // It holds single precision: coordinates of a metre are 6e-5 mm apart.
  return { name: 'manifold-3d minGap, 15 % over', most, within: 1e-3, run: (i) => placed[i].minGap(q, gaps[i] * 1.15) }
}
type Columns = Parameters<ReturnType<typeof manifoldOf>['transform']>[0]
