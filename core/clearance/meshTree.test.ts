import { describe, expect, test } from 'vitest'
import { bumpyMesh } from '../../test/kit/meshes.ts'
import type { Mesh } from '../shape/mesh.ts'
import { improveTree, meshTree, type TreeQuality } from './meshTree.ts'

describe.each<TreeQuality>(['quick', 'good'])('a %s tree over 5,000 triangles', (quality) => {
  const mesh = bumpyMesh(50, 50, 7)
  const before = mesh.triangles.slice()
  const tree = meshTree({ ...mesh }, quality)

  test('meets every triangle exactly once and leaves the mesh as it was', () => {
    const seen = new Set<string>()
    let leaves = 0
    for (let node = 0; node < tree.right.length; node++) {
      if (tree.right[node] >= 0) continue
      leaves++
      expect(tree.count[node]).toBeGreaterThan(0)
      for (let t = tree.first[node]; t < tree.first[node] + tree.count[node]; t++) {
        const key = tree.corners.slice(3 * t, 3 * t + 3).join()
        expect(seen.has(key)).toBe(false)
        seen.add(key)
      }
    }
    const wanted = new Set<string>()
    for (let i = 0; i < before.length; i += 3) wanted.add(before.slice(i, i + 3).join())
    expect(seen).toEqual(wanted)
    expect(leaves).toBeGreaterThan(200)
    expect(mesh.triangles).toEqual(before)
  })

  test('every node holds the triangles and the boxes below it', () => {
    const holds = (node: number, x: number, y: number, z: number) =>
      [x, y, z].every((c, k) => c >= tree.boxes[6 * node + k] && c <= tree.boxes[6 * node + 3 + k])
    for (let node = 0; node < tree.right.length; node++) {
      for (const child of tree.right[node] < 0 ? [] : [node + 1, tree.right[node]]) {
        const b = tree.boxes.slice(6 * child, 6 * child + 6)
        expect(holds(node, b[0], b[1], b[2]) && holds(node, b[3], b[4], b[5])).toBe(true)
      }
      for (let i = 3 * tree.first[node]; i < 3 * (tree.first[node] + tree.count[node]); i++) {
        const v = 3 * tree.corners[i]
        expect(holds(node, tree.positions[v], tree.positions[v + 1], tree.positions[v + 2])).toBe(true)
      }
    }
  })
})

test('a better tree takes the place of a quick one, and is kept', () => {
  const mesh = bumpyMesh(10, 10, 3)
  const quick = meshTree(mesh, 'quick')
  expect(meshTree(mesh)).toBe(quick)
  const good = meshTree(mesh, 'good')
  expect(good.quality).toBe('good')
  expect(meshTree(mesh, 'quick')).toBe(good)
})

/** So many triangles, no vertex shared, each from the corners that `at` gives it. */
function heap(n: number, at: (i: number) => readonly number[]): Mesh {
  const positions = new Float64Array(9 * n)
  for (let i = 0; i < n; i++) positions.set(at(i), 9 * i)
  return { positions, triangles: Uint32Array.from({ length: 3 * n }, (_, i) => i), closed: false }
}

describe.each<TreeQuality>(['quick', 'good'])('a %s tree loses no triangle', (quality) => {
  // Where no split pays the library makes one leaf, and a leaf of 70,000 is told as one of 4,464.
  const heaps: Record<string, Mesh> = {
    '70,000 that fill the same box': heap(70_000, (i) => [0, 0, 0, 100, 100, 1, 10 + i / 1000, 80 - i / 1000, 0.5]),
    '70,000 about one middle': heap(70_000, (i) =>
      [0, 1, 2].flatMap((k) => {
        const a = 2 * Math.PI * (k / 3 + i / 210_000)
        return [100 * Math.cos(a), 100 * Math.sin(a), i % 2]
      }),
    ),
    '120, each half as large as the one before': heap(120, (i) => [1, 0, 0, 1, 1, 0, 1, 0, 1].map((x) => x * 2 ** -i)),
  }
  test.each(Object.entries(heaps))('%s', (_, mesh) => {
    const tree = meshTree({ ...mesh }, quality)
    expect(tree.count.reduce((sum, count) => sum + count, 0)).toBe(mesh.triangles.length / 3)
    expect(Math.max(...tree.count)).toBeLessThanOrEqual(16)
  })
})

test('a better tree is made once, where there was a quick one', () => {
  const mesh = bumpyMesh(10, 10, 4)
  meshTree(mesh, 'quick')
  expect(improveTree(mesh)).toBe(true)
  expect(meshTree(mesh).quality).toBe('good')
  expect(improveTree(mesh)).toBe(false)
})
