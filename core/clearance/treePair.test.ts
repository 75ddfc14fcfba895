import { describe, expect, test } from 'vitest'
import { closedMeshKit } from '../../test/kit/meshForms.ts'
import { bumpyMesh } from '../../test/kit/meshes.ts'
import { seeded } from '../../test/kit/random.ts'
import type { Mesh } from '../shape/mesh.ts'
import { distance, mirrorY, type Pose, placed, product, type Vec3 } from '../shape/vec.ts'
import { OrientedBound, StraightBound } from './boxPairBound.ts'
import { convexDistance } from './gjk.ts'
import { triangleAt } from './meshSearch.ts'
import { type MeshTree, meshTree } from './meshTree.ts'
import { emptyNearest } from './nearest.ts'
import { orientedBoxes, orientedStride } from './orientedBoxes.ts'
import { emptySet, setTriangle } from './support.ts'
import { nearestOfTrees } from './treePair.ts'

const ways = [
  { oriented: false, bestFirst: 1e9 },
  { oriented: false, bestFirst: 0 },
  { oriented: true, bestFirst: 1e9 },
  { oriented: true, bestFirst: 0 },
  { oriented: true, bestFirst: 20 },
]

const cornersOf = (tree: MeshTree, t: number): Vec3[] => {
  const c = triangleAt(tree, t, new Float64Array(9))
  return [0, 3, 6].map((i) => [c[i], c[i + 1], c[i + 2]])
}

/** Every triangle against every triangle. */
function overAll(a: MeshTree, b: MeshTree, pose: Pose): number {
  const [p, q, near] = [emptySet(), emptySet(), emptyNearest()]
  const moved = Array.from({ length: b.corners.length / 3 }, (_, t) => cornersOf(b, t).flatMap((v) => placed(pose, v)))
  let least = Infinity
  for (let i = 0; i < a.corners.length / 3; i++) {
    setTriangle(p, triangleAt(a, i, new Float64Array(9)))
    for (const corners of moved) {
      // Stopping beyond the least so far changes nothing.
      convexDistance(p, setTriangle(q, corners), least, near)
      if (near.atMost < least) least = near.atMost
    }
  }
  return least
}

const anyPose = (random: ReturnType<typeof seeded>, at: Vec3): Pose => ({
  turn: random.chance(0.3) ? product(random.turn(), mirrorY) : random.turn(),
  at,
})

test('200 pairs of bumpy balls and sheets: every way gives the gap of trying all pairs of triangles (seed 71)', () => {
  const random = seeded(71)
  let [apart, stopped] = [0, 0]
  for (let i = 0; i < 200; i++) {
    const ball = () => closedMeshKit.make(random, 60).mesh
    const [a, b] = [ball(), random.chance(0.5) ? ball() : bumpyMesh(5, 5, i)].map((mesh) => meshTree(mesh))
    const pose = anyPose(random, random.point(170))
    const plain = overAll(a, b, pose)
    for (const way of ways) {
      const found = nearestOfTrees(a, b, pose, Infinity, undefined, way)
      expect(Math.abs(found.atMost - plain)).toBeLessThan(3e-9)
      expect(found.atLeast).toBeLessThanOrEqual(plain)
      expect(found.atMost - found.atLeast).toBeLessThan(1e-8)
      if (plain === 0) continue
      expect(Math.abs(distance([found.ax, found.ay, found.az], [found.bx, found.by, found.bz]) - plain)).toBeLessThan(
        3e-9,
      )
      const upTo = random.real(0, 2 * plain)
      const early = nearestOfTrees(a, b, pose, upTo, undefined, way)
      if (plain < upTo - 1e-8) expect(Math.abs(early.atMost - plain)).toBeLessThan(3e-9)
      else {
        expect(early.atLeast).toBeGreaterThanOrEqual(upTo - 1e-9)
        expect(early.atLeast).toBeLessThanOrEqual(plain)
        if (early.stopped === 'upTo') stopped++
      }
    }
    if (plain > 0) apart++
  }
  expect(apart).toBeGreaterThan(80)
  expect(apart).toBeLessThan(170)
  expect(stopped).toBeGreaterThan(100)
})

test('surfaces that follow each other at 3 mm, 8,192 triangles each: all ways agree, and a start changes nothing (seed 72)', () => {
  const random = seeded(72)
  const sheet = bumpyMesh(64, 64, 5)
  const [a, b] = [
    meshTree(sheet),
    meshTree({ ...sheet, positions: sheet.positions.map((x, i) => (i % 3 === 2 ? x + 3 : x)) }),
  ]
  for (let i = 0; i < 6; i++) {
    // Nearly in each other's frame: 1e-3 rad about Z, so that surfaces stay alongside.
    const [c, s] = [Math.cos(1e-3 * i), Math.sin(1e-3 * i)]
    const shift = (k: number) => b.centre[k] - a.centre[k]
    const pose: Pose = { turn: [c, -s, 0, s, c, 0, 0, 0, 1], at: [shift(0) + random.real(-1, 1), shift(1), shift(2)] }
    const [first, ...others] = ways.map((way) => nearestOfTrees(a, b, pose, Infinity, undefined, way))
    expect(first.contact).toBe('none')
    for (const other of others) expect(Math.abs(other.atMost - first.atMost)).toBeLessThan(3e-9)
    const start = { ...first }
    const again = nearestOfTrees(a, b, pose, Infinity, start)
    expect(Math.abs(again.atMost - first.atMost)).toBeLessThan(3e-9)
    expect(first.atMost - again.atLeast).toBeLessThan(1e-8)
  }
})

describe('boxes of nodes', () => {
  test('every triangle lies in the oriented boxes above it, whose axes are square to each other', () => {
    const tree = meshTree(bumpyMesh(60, 50, 9))
    const boxes = orientedBoxes(tree)
    const n = boxes.numbers
    let [turned, worst] = [0, -Infinity]
    const holds = (node: number, v: Vec3) => {
      const at = boxes.at(node)
      for (let k = 0; k < 3; k++) {
        const along = [0, 1, 2].reduce((sum, x) => sum + n[at + 6 + 3 * k + x] * (v[x] - n[at + x]), 0)
        worst = Math.max(worst, Math.abs(along) - n[at + 3 + k])
      }
    }
    const below = (node: number): number[] => {
      if (tree.right[node] < 0) {
        const own = Array.from({ length: tree.count[node] }, (_, i) => tree.first[node] + i)
        for (const t of own) for (const v of cornersOf(tree, t)) holds(node, v)
        return own
      }
      const all = [...below(node + 1), ...below(tree.right[node])]
      for (const t of all) for (const v of cornersOf(tree, t)) holds(node, v)
      return all
    }
    expect(below(0)).toHaveLength(6000)
    expect(worst).toBeLessThanOrEqual(0)
    for (let node = 0; node < tree.right.length; node++) {
      const at = orientedStride * node + 6
      for (let i = 0; i < 9; i += 3)
        for (let j = 0; j < 9; j += 3) {
          const cosine = [0, 1, 2].reduce((sum, k) => sum + n[at + i + k] * n[at + j + k], 0)
          expect(Math.abs(cosine - (i === j ? 1 : 0))).toBeLessThan(1e-14)
        }
      if (Math.abs(n[at]) < 0.99 && Math.abs(n[at + 4]) < 0.99) turned++
    }
    expect(turned).toBeGreaterThan(tree.right.length / 3)
  })

  test.each([
    ['axis-aligned', StraightBound],
    ['oriented', OrientedBound],
  ])(
    '%s: no bound of 4,000 pairs of nodes is more than the distance of any two triangles below (seed 73)',
    (_, Bound) => {
      const random = seeded(73)
      const meshes: Mesh[] = [bumpyMesh(12, 12, 1), closedMeshKit.make(random, 80).mesh]
      const [a, b] = meshes.map((mesh) => meshTree(mesh))
      const near = emptyNearest()
      let [positive, tight] = [0, 0]
      for (let i = 0; i < 4000; i++) {
        const pose = anyPose(random, random.point(200))
        const [p, q] = [random.int(a.right.length), random.int(b.right.length)]
        const bound = new Bound(a, b, pose).between(p, q, Infinity)
        let least = Infinity
        for (const t of leavesBelow(a, p, random))
          for (const u of leavesBelow(b, q, random)) {
            const moved = cornersOf(b, u).flatMap((v) => placed(pose, v))
            convexDistance(
              setTriangle(emptySet(), cornersOf(a, t).flat()),
              setTriangle(emptySet(), moved),
              Infinity,
              near,
            )
            least = Math.min(least, near.atMost)
          }
        expect(bound).toBeLessThanOrEqual(least + 1e-9)
        if (bound > 0) positive++
        if (bound > 0.9 * least) tight++
        expect(new Bound(a, b, pose).between(p, q, bound / 2)).toBeGreaterThanOrEqual(bound / 2)
      }
      expect(positive).toBeGreaterThan(2500)
      expect(tight).toBeGreaterThan(700)
    },
  )
})

/** Up to six triangles below a node. */
function leavesBelow(tree: MeshTree, node: number, random: ReturnType<typeof seeded>): number[] {
  let [low, high] = [node, node]
  while (tree.right[low] >= 0) low++
  while (tree.right[high] >= 0) high = tree.right[high]
  const from = tree.first[low]
  const count = tree.first[high] + tree.count[high] - from
  return Array.from({ length: Math.min(6, count) }, (_, i) => from + (count <= 6 ? i : random.int(count)))
}
