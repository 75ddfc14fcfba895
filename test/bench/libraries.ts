import Module from 'manifold-3d'
import { BufferAttribute, BufferGeometry, Matrix4 } from 'three'
import { MeshBVH, SAH } from 'three-mesh-bvh'
import type { Mesh } from '../../core/shape/mesh.ts'
import type { Pose } from '../../core/shape/vec.ts'

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

export async function manifoldLibrary() {
  const kernel = await Module()
  kernel.setup()
  return kernel
}

export function manifoldOf(kernel: Awaited<ReturnType<typeof manifoldLibrary>>, mesh: Mesh) {
  return new kernel.Manifold(
    new kernel.Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(mesh.positions),
      triVerts: mesh.triangles.slice(),
    }),
  )
}
