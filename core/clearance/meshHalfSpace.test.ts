import { expect, test } from 'vitest'
import { anyPolytope } from '../../test/kit/bodies.ts'
import { bumpyMesh, meshOf } from '../../test/kit/meshes.ts'
import { seeded } from '../../test/kit/random.ts'
import type { MeshForm } from '../shape/form.ts'
import { along, dot, mirrorY, type Pose, placed, product, sub, type Vec3 } from '../shape/vec.ts'
import { meshHalfSpace } from './meshHalfSpace.ts'
import { meshTree } from './meshTree.ts'

test('400 meshes in any pose, mirrored too: the vertex that is lowest of all, with the exact depth (seed 77)', () => {
  const random = seeded(77)
  const shell = bumpyMesh(20, 20, 3)
  let met = 0
  for (let i = 0; i < 400; i++) {
    const mesh = random.chance(0.5) ? meshOf(anyPolytope(random, 50)) : shell
    const turn = random.chance(0.3) ? product(random.turn(), mirrorY) : random.turn()
    const pose: Pose = { turn, at: random.point(150) }
    const form: MeshForm = { form: 'mesh', mesh, pose }
    const normal = random.unit()
    const point = random.point(50)
    const heights = Array.from({ length: mesh.positions.length / 3 }, (_, v) => {
      const own: Vec3 = [mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]]
      return dot(normal, sub(placed(pose, own), point))
    })
    const least = Math.min(...heights)
    const answer = meshHalfSpace(form, { form: 'halfSpace', point, normal }, {})
    const onPart = dot(normal, sub(answer.onPart, point))
    expect(Math.abs(onPart - least)).toBeLessThan(1e-11)
    expect(Math.abs(dot(normal, sub(answer.onKeepOut, point)))).toBeLessThan(1e-11)
    if (least > 0) {
      expect(answer.overlap).toBeUndefined()
      expect(answer.atLeast).toBeLessThanOrEqual(least)
      expect(answer.atMost).toBeGreaterThanOrEqual(least)
      expect(answer.atMost - answer.atLeast).toBeLessThan(1e-10)
      continue
    }
    met++
    const { depthAtLeast = Number.NaN, depthAtMost = Number.NaN, direction, kind } = answer.overlap ?? {}
    expect([answer.atLeast, answer.atMost, kind]).toEqual([0, 0, 'exact'])
    expect(direction).toEqual(normal)
    expect(depthAtLeast).toBeLessThanOrEqual(-least)
    expect(depthAtMost).toBeGreaterThanOrEqual(-least)
    expect(depthAtMost - depthAtLeast).toBeLessThan(1e-10)
    const out = { ...form, pose: { turn, at: along(pose.at, normal, depthAtMost + 1e-9) } }
    expect(meshHalfSpace(out, { form: 'halfSpace', point, normal }, {}).overlap).toBeUndefined()
  }
  expect(met).toBeGreaterThan(120)
  expect(met).toBeLessThan(320)
})

test('the tree is used: a second question about 80,000 triangles takes a fraction of walking all vertices', () => {
  const mesh = bumpyMesh(200, 200, 2)
  const form: MeshForm = { form: 'mesh', mesh, pose: { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], at: [0, 0, 0] } }
  meshTree(mesh)
  const random = seeded(78)
  const normals = Array.from({ length: 400 }, () => random.unit())
  const timeOf = (ask: (n: Vec3) => number) => {
    for (const n of normals) ask(n)
    const start = performance.now()
    for (const n of normals) ask(n)
    return performance.now() - start
  }
  const walked = timeOf((n) => {
    let least = Infinity
    for (let i = 0; i < mesh.positions.length; i += 3)
      least = Math.min(least, n[0] * mesh.positions[i] + n[1] * mesh.positions[i + 1] + n[2] * mesh.positions[i + 2])
    return least
  })
  const asked = timeOf((normal) => meshHalfSpace(form, { form: 'halfSpace', point: [0, 0, -900], normal }, {}).atMost)
  // Measured 1/18 to 1/27 on a busy machine.
  expect(asked).toBeLessThan(walked / 2)
})
