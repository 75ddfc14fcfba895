import { describe, expect, test } from 'vitest'
import { anyBody, type Body, boxBody, movedBody, outsideBy } from '../../test/kit/bodies.ts'
import { closedMeshKit, openMeshKit } from '../../test/kit/meshForms.ts'
import { bumpyMesh } from '../../test/kit/meshes.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { toTriangle } from '../../test/kit/tubes.ts'
import type { Mesh } from '../shape/mesh.ts'
import { add, identity, scale, type Vec3 } from '../shape/vec.ts'
import { hullPolytope } from '../shape/hull.ts'
import { bodyDepth } from './bodyDepth.ts'
import { deepestInside, mostSteps } from './meshDepth.ts'
import { meshTree } from './meshTree.ts'

const point = (p: Float64Array, i: number): Vec3 => [p[3 * i], p[3 * i + 1], p[3 * i + 2]]
const anyMesh = (random: Random): Mesh => (random.chance(0.5) ? closedMeshKit : openMeshKit).make(random, 100).mesh
const weighted = ([a, b, c]: readonly Vec3[], s: number, t: number): Vec3 =>
  add(scale(a, 1 - s - t), add(scale(b, s), scale(c, t)))
/** Any point of a triangle, its corners and edges among them. */
function within(triangle: readonly Vec3[], random: Random): Vec3 {
  const [s, t] = [random.real(-0.2, 1), random.real(-0.2, 1)].map((x) => Math.max(x, 0))
  return s + t > 1 ? weighted(triangle, 1 - s, Math.max(s + t - 1, 0)) : weighted(triangle, s, t)
}

describe('how deep a mesh lies in a convex body', () => {
  test('400 bodies and meshes: a point of the mesh, as deep as told, and none of 2,000 others is deeper (seed 3101)', () => {
    const random = seeded(3101)
    let deep = 0
    for (let i = 0; i < 400; i++) {
      const tree = meshTree(anyMesh(random))
      const body = movedBody(anyBody(random, 120), { turn: random.turn(), at: random.point(120) })
      const found = deepestInside(body, tree)
      const { positions, corners } = tree
      const triangles = Array.from({ length: corners.length / 3 }, (_, t) =>
        [0, 1, 2].map((k) => point(positions, corners[3 * t + k])),
      )
      const samples = Array.from({ length: 2000 }, () => within(random.pick(triangles), random))
      const deepest = -Math.min(...samples.map((p) => outsideBy(body, p)))
      expect(deepest).toBeLessThanOrEqual(Math.max(found.depth, 0) + 1e-3 + 1e-9)
      if (found.depth <= 0) continue
      deep++
      const at: Vec3 = [found.x, found.y, found.z]
      expect(Math.abs(found.depth + outsideBy(body, at))).toBeLessThan(1e-9)
      expect(Math.min(...triangles.map(([a, b, c]) => toTriangle(at, a, b, c)))).toBeLessThan(1e-9)
    }
    expect(deep).toBeGreaterThan(120)
    expect(deep).toBeLessThan(320)
  })

  test('for any box and any triangle, no point of either is deeper than the bound (2,000 of each, seed 3102)', () => {
    const random = seeded(3102)
    let tight = 0
    for (let i = 0; i < 2000; i++) {
      const body = movedBody(anyBody(random, 60), { turn: random.turn(), at: random.point(40) })
      const depth = bodyDepth(body)
      const size = random.size(1e-3, 100)
      const low = random.point(60)
      const box = Float64Array.from([...low, ...low.map((x) => x + random.real(0, size))])
      const triangle = [0, 1, 2].map(() => add(low, random.point(size)))
      const overBox = depth.overBox(box, 0, -1e9)
      const overTriangle = depth.overTriangle(Float64Array.from(triangle.flat()), 0, -1e9)
      for (let j = 0; j < 20; j++) {
        const inBox = [0, 1, 2].map((k) =>
          random.pick([box[k], box[3 + k], random.real(box[k], box[3 + k])]),
        ) as unknown as Vec3
        expect(-outsideBy(body, inBox)).toBeLessThanOrEqual(overBox + 1e-9)
        expect(-outsideBy(body, within(triangle, random))).toBeLessThanOrEqual(overTriangle + 1e-9)
      }
      // A bound that never comes near what it bounds would prove nothing.
      if (overBox + outsideBy(body, [0, 1, 2].map((k) => (box[k] + box[3 + k]) / 2) as unknown as Vec3) < size) tight++
    }
    expect(tight).toBeGreaterThan(1500)
  })

  test('stopped at a floor, it is never told deeper than it is (1,000 points, seed 3103)', () => {
    const random = seeded(3103)
    for (let i = 0; i < 1000; i++) {
      const body = anyBody(random, 60)
      const p = random.point(60)
      const floor = random.real(-50, 50)
      const told = bodyDepth(body).at(...(p as [number, number, number]), floor)
      const depth = -outsideBy(body, p)
      if (depth > floor) expect(Math.abs(told - depth)).toBeLessThan(1e-9)
      else expect(told).toBeLessThanOrEqual(Math.max(floor, depth) + 1e-9)
    }
  })
})

/** 2·columns·rows triangles over a tube of this radius about X, open at both ends. */
function tubeMesh(columns: number, rows: number, radius: number, length: number): Mesh {
  const flat = bumpyMesh(columns, rows, 1)
  const positions = flat.positions.slice()
  for (let i = 0; i < positions.length; i += 3) {
    const a = (2 * Math.PI * Math.floor(i / 3 / (columns + 1))) / rows
    positions[i] *= length / 400
    positions[i + 1] = radius * Math.cos(a)
    positions[i + 2] = radius * Math.sin(a)
  }
  return { ...flat, positions }
}

describe('the work on 300,000 triangles', () => {
  const random = seeded(3104)
  const ball = hullPolytope(Array.from({ length: 1000 }, () => scale(random.unit(), 100)))
  if (!ball.ok) throw new Error('no hull')
  const cylinder: Body = { kind: 'cylinder', from: [-150, 0, 0], to: [150, 0, 0], radius: 100 }
  const scan = bumpyMesh(500, 300, 3)
  const flat: Mesh = { ...scan, positions: scan.positions.map((x, i) => (i % 3 === 2 ? 0 : x)) }
  // As deep everywhere, but for their facets: nothing can be cut off early.
  const tube = tubeMesh(500, 300, 80, 280)
  const bodies = { box: boxBody(150, 120, 60), cylinder, ball: ball.value }
  const meshes = { scan, flat, tube }

  test.each(
    Object.entries(bodies).flatMap(([name, body]) =>
      Object.entries(meshes).map(([on, mesh]) => ({ name, on, body, mesh })),
    ),
  )('$name across the $on mesh: steps bounded, depth no less than any vertex shows', ({ body, mesh }) => {
    const tree = meshTree(mesh)
    const turn = seeded(7).turn()
    for (const moved of [
      body,
      movedBody(body, { turn: identity, at: [3, 4, 5] }),
      movedBody(body, { turn, at: [0, 0, 0] }),
    ]) {
      const found = deepestInside(moved, tree)
      // One more of its leaf's triangles may be begun when the steps run out.
      expect(found.steps).toBeLessThanOrEqual(mostSteps(moved) + 40)
      if (found.steps >= mostSteps(moved)) continue
      for (let v = 0; v < tree.positions.length; v += 3 * 97)
        expect(-outsideBy(moved, point(tree.positions, v / 3))).toBeLessThan(found.depth + 1e-3)
    }
  })
})
