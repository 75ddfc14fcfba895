import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js'
import { mergeVertices } from 'three/examples/jsm/utils/BufferGeometryUtils.js'
import { MeshBVH, SAH } from 'three-mesh-bvh'
import { loadMesh } from '../../app/files/bayMeshes.ts'
import { convexMesh } from '../../core/clearance/convexMesh.ts'
import { meshTree } from '../../core/clearance/meshTree.ts'
import { identity } from '../../core/shape/vec.ts'
import { boxBody } from '../kit/bodies.ts'
import { bumpyMesh } from '../kit/meshes.ts'
import { stlBinary } from '../kit/meshWriters.ts'
import type { Scene } from './scene.ts'

/** From a file's bytes to the first gap: read, checked, merged, tree built, one box asked. */
export function readScene(): Scene {
  const bytes = stlBinary(bumpyMesh(1000, 500, 3))
  const once = async (): Promise<number> => {
    const loaded = await loadMesh('million.stl', bytes)
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults))
    meshTree(loaded.value.mesh)
    const part = { form: 'convex', body: boxBody(50, 50, 10) } as const
    const pose = { turn: identity, at: [0, 0, -60] } as const
    return convexMesh(part, { form: 'mesh', mesh: loaded.value.mesh, pose }, {}).atMost
  }
  return {
    name: 'reading 1,000,000 triangles of binary STL',
    inputs: `${bytes.length} bytes`,
    count: 1,
    aims: [{ way: 'read, check, quick tree, first gap', ms: 1500 }],
    ways: [
      { name: 'read, check, quick tree, first gap', run: once, most: 5 },
      {
        name: 'three: STLLoader, mergeVertices, MeshBVH',
        baseline: true,
        most: 1,
        run: () => {
          const soup = new STLLoader().parse(bytes.slice().buffer as ArrayBuffer)
          soup.deleteAttribute('normal')
          const merged = mergeVertices(soup, 0)
          new MeshBVH(merged, { strategy: SAH, targetLeafSize: 4 })
          return merged.attributes.position.count
        },
      },
    ],
  }
}
