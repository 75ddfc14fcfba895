import Module from 'manifold-3d'
import { beforeAll, describe, expect, test } from 'vitest'
import { anyPolytope, boxBody, movedBody } from '../../test/kit/bodies.ts'
import { bumpyMesh, meshOf } from '../../test/kit/meshes.ts'
import { plainDistance } from '../../test/kit/plainDistance.ts'
import { seeded } from '../../test/kit/random.ts'
import type { MeshForm } from '../shape/form.ts'
import type { Mesh } from '../shape/mesh.ts'
import { distance, identity, mirrorY, type Pose, placed, product, turnMatrix, type Vec3 } from '../shape/vec.ts'
import { meshMesh } from './meshMesh.ts'

const form = (mesh: Mesh, pose: Pose = { turn: identity, at: [0, 0, 0] }): MeshForm => ({ form: 'mesh', mesh, pose })

let kernel: Awaited<ReturnType<typeof Module>>
beforeAll(async () => {
  kernel = await Module()
  kernel.setup()
})

/** Distance by the general-purpose library manifold-3d, which works in single precision. */
function byLibrary(a: MeshForm, b: MeshForm, search: number): number {
  const solid = ({ mesh, pose }: MeshForm) => {
    const points = Array.from({ length: mesh.positions.length / 3 }, (_, i) =>
      placed(pose, [mesh.positions[3 * i], mesh.positions[3 * i + 1], mesh.positions[3 * i + 2]]),
    )
    const vertProperties = Float32Array.from(points.flat())
    return new kernel.Manifold(new kernel.Mesh({ numProp: 3, vertProperties, triVerts: mesh.triangles.slice() }))
  }
  const [p, q] = [solid(a), solid(b)]
  const gap = p.minGap(q, search)
  p.delete()
  q.delete()
  return gap
}

describe('two meshes', () => {
  test('600 pairs of closed polytope meshes: every feature against every feature, and manifold-3d minGap (seed 41)', () => {
    const random = seeded(41)
    let apart = 0
    for (let i = 0; i < 600; i++) {
      const [a, b] = [anyPolytope(random, 60), anyPolytope(random, 60)]
      const poses = [0, 1].map((): Pose => ({ turn: random.turn(), at: random.point(55) }))
      const plain = plainDistance(movedBody(a, poses[0]), movedBody(b, poses[1])).gap
      const [p, q] = [form(meshOf(a), poses[0]), form(meshOf(b), poses[1])]
      const answer = meshMesh(p, q, {})
      expect(Math.abs(answer.atMost - Math.max(0, plain))).toBeLessThan(1e-8)
      expect(answer.atMost - answer.atLeast).toBeLessThan(1e-6)
      if (plain <= 1e-6) continue
      apart++
      expect(Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)).toBeLessThan(1e-9)
      // Single precision at 200 mm: 200 · 2⁻²⁴ a coordinate, a few of them.
      if (i % 4 === 0) expect(Math.abs(byLibrary(p, q, plain * 1.15) - plain)).toBeLessThan(1e-4)
      expect(meshMesh(p, q, { upTo: plain / 2 }).atLeast).toBeGreaterThanOrEqual(plain / 2 - 1e-9)
    }
    expect(apart).toBeGreaterThan(180)
    expect(apart).toBeLessThan(420)
  })

  test('a bumpy shell, mirrored, against another: as near as its vertices and middles show, and never nearer than found', () => {
    const random = seeded(8)
    const a = form(bumpyMesh(30, 30, 1))
    for (let i = 0; i < 20; i++) {
      const b = form(bumpyMesh(25, 25, 2), { turn: product(random.turn(), mirrorY), at: [0, 0, random.real(180, 260)] })
      const answer = meshMesh(a, b, {})
      const swapped = meshMesh(b, a, {})
      expect(Math.abs(answer.atMost - swapped.atMost)).toBeLessThan(1e-8)
      let sampled = Infinity
      const points = (f: MeshForm): Vec3[] =>
        Array.from({ length: f.mesh.positions.length / 3 }, (_, k) =>
          placed(f.pose, [f.mesh.positions[3 * k], f.mesh.positions[3 * k + 1], f.mesh.positions[3 * k + 2]]),
        )
      const others = points(b)
      for (const p of points(a)) for (const q of others) sampled = Math.min(sampled, distance(p, q))
      expect(answer.atLeast).toBeLessThanOrEqual(sampled)
      if (answer.atMost > 0) expect(sampled - answer.atMost).toBeLessThan(15)
    }
  })

  test('one closed mesh wholly inside another overlaps it; in a shell it does not', () => {
    const small = form(meshOf(boxBody(5, 5, 5)))
    const large = meshOf(boxBody(50, 50, 50))
    expect(meshMesh(small, form(large), {}).atMost).toBe(0)
    expect(meshMesh(form(large), small, {}).overlap?.depthAtLeast).toBeCloseTo(45, 6)
    expect(meshMesh(small, form({ ...large, closed: false }), {}).atMost).toBeCloseTo(45, 9)
  })
})

test('two surfaces of 24,200 triangles each: a hint, right or wrong, changes nothing (seed 91)', () => {
  const random = seeded(91)
  const [lower, upper] = [bumpyMesh(110, 110, 6), bumpyMesh(110, 110, 7)]
  for (let i = 0; i < 12; i++) {
    const turn = turnMatrix([random.real(-9, 9), random.real(-9, 9), random.real(-180, 180)])
    const a = form(lower, { turn: identity, at: [0, 0, 0] })
    const b = form(upper, { turn, at: [random.real(-50, 50), random.real(-50, 50), random.real(70, 110)] })
    const plain = meshMesh(a, b, {})
    expect(plain.overlap).toBeUndefined()
    const { onPart, onKeepOut } = plain
    const right = meshMesh(a, b, { near: { onPart, onKeepOut } })
    const wrong = meshMesh(a, b, { near: { onPart: random.point(100), onKeepOut: random.point(100) } })
    for (const answer of [right, wrong]) {
      expect(Math.abs(answer.atMost - plain.atMost)).toBeLessThan(3e-9)
      expect(answer.atMost - answer.atLeast).toBeLessThan(1e-8)
      expect(Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)).toBeLessThan(1e-10)
    }
  }
})
