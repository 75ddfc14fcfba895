import { describe, expect, test } from 'vitest'
import { boxBody } from '../../test/kit/bodies.ts'
import { closedMeshKit } from '../../test/kit/meshForms.ts'
import { meshOf } from '../../test/kit/meshes.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { cubeMesh } from '../../test/kit/tinyBay.ts'
import type { Mesh } from '../shape/mesh.ts'
import { cross, dot, length, sub, type Vec3 } from '../shape/vec.ts'
import { isInside, windingNumber } from './inside.ts'
import { type MeshTree, meshTree } from './meshTree.ts'

const vertex = ({ positions }: Mesh, i: number): Vec3 => [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]]
const corner = (mesh: Mesh, i: number): Vec3 => vertex(mesh, mesh.triangles[i])
const asked = (tree: MeshTree, p: Vec3) => {
  const [x, y, z] = sub(p, tree.centre)
  return windingNumber(tree, x, y, z)
}

/**
 * Winding number as the sum of signed solid angles, from every triangle, no ray.
 * Sources: A. Jacobson, L. Kavan, O. Sorkine-Hornung, Robust inside-outside segmentation using generalized winding
 * numbers (2013); A. van Oosterom, J. Strackee, The solid angle of a plane triangle (1983); both from memory.
 */
function bySolidAngles(mesh: Mesh, p: Vec3): number {
  let sum = 0
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => sub(corner(mesh, t + k), p))
    const [la, lb, lc] = [a, b, c].map(length)
    sum += 2 * Math.atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb)
  }
  return sum / (4 * Math.PI)
}

const insideOut = (mesh: Mesh): Mesh => ({
  ...mesh,
  triangles: Uint32Array.from(mesh.triangles, (_, i) => mesh.triangles[3 * Math.floor(i / 3) + [0, 2, 1][i % 3]]),
})

function together(...meshes: Mesh[]): Mesh {
  let before = 0
  const triangles = meshes.flatMap(({ triangles: own, positions }) => {
    const moved = Array.from(own, (v) => v + before)
    before += positions.length / 3
    return moved
  })
  const positions = Float64Array.from(meshes.flatMap((mesh) => [...mesh.positions]))
  return { positions, triangles: Uint32Array.from(triangles), closed: true }
}

const shifted = (mesh: Mesh, by: Vec3): Mesh => ({ ...mesh, positions: mesh.positions.map((x, i) => x + by[i % 3]) })
const ball = (random: Random, half = 100): Mesh => closedMeshKit.make(random, half).mesh

/** What a scan or an export may hold. */
const kinds: Record<string, (random: Random) => Mesh> = {
  'a bumpy ball': (random) => ball(random),
  'a ball with a cavity': (random) => together(ball(random), insideOut(ball(random, 40))),
  'a ball in the cavity of a ball': (random) => together(ball(random), insideOut(ball(random, 50)), ball(random, 20)),
  'two balls apart': (random) =>
    together(shifted(ball(random, 50), [-60, 0, 0]), shifted(ball(random, 50), [60, 5, 9])),
  'two balls through each other': (random) => together(ball(random), shifted(ball(random), [50, 20, 0])),
  'a ball turned inside out': (random) => insideOut(ball(random)),
  'cubes on a grid, faces in faces': (random) =>
    together(
      ...Array.from({ length: 12 }, () =>
        cubeMesh([20 * random.int(7) - 80, 20 * random.int(7) - 80, 20 * random.int(7) - 80], 60),
      ),
    ),
}

describe('how often a closed mesh winds round a point', () => {
  test.each(Object.keys(kinds))('%s: the same as by solid angles, at 40 points each of 40 meshes', (kind) => {
    const random = seeded(kind.length)
    let apart = 0
    let within = 0
    for (let i = 0; i < 40; i++) {
      const mesh = shifted(kinds[kind](random), random.point(200))
      const tree = meshTree(mesh)
      for (let j = 0; j < 40; j++) {
        const p = sub(random.point(100), [-tree.centre[0], -tree.centre[1], -tree.centre[2]])
        const plain = bySolidAngles(mesh, p)
        // Next to the surface the sum of angles is not yet whole; the sign of a side is.
        if (Math.abs(plain - Math.round(plain)) > 1e-6) continue
        apart++
        if (Math.round(plain) !== 0) within++
        expect(asked(tree, p)).toBe(Math.round(plain) + 0)
        expect(isInside(tree, sub(p, tree.centre) as [number, number, number])).toBe(Math.round(plain) !== 0)
      }
    }
    expect(apart).toBeGreaterThan(1500)
    expect(within).toBeGreaterThan(25)
    expect(within).toBeLessThan(1500)
  })

  test('points a grain off the surface are told apart (300 of each side, seed 41)', () => {
    const random = seeded(41)
    for (let i = 0; i < 300; i++) {
      const mesh = ball(random)
      const tree = meshTree(mesh)
      const t = 3 * random.int(mesh.triangles.length / 3)
      const [a, b, c] = [0, 1, 2].map((k) => corner(mesh, t + k))
      const n = cross(sub(b, a), sub(c, a))
      const grain = 1e-11 / length(n)
      const [s, r] = [random.real(0.1, 0.5), random.real(0.1, 0.4)]
      const at = (out: number) =>
        [0, 1, 2].map((k) => a[k] + s * (b[k] - a[k]) + r * (c[k] - a[k]) + out * grain * n[k]) as unknown as Vec3
      expect(asked(tree, at(1))).toBe(0)
      expect(asked(tree, at(-1))).toBe(1)
    }
  })
})

describe('on the surface', () => {
  // Whole numbers: middles of edges and faces are exactly on them.
  const meshes = {
    cube: cubeMesh([-8, -8, -8], 16),
    block: meshOf(boxBody(4, 16, 64)),
    'two cubes that share a face': together(cubeMesh([0, 0, 0], 8), cubeMesh([8, 0, 0], 8)),
  }
  test.each(Object.entries(meshes))(
    'no number for the vertices, edges and faces of a %s, and it is not inside',
    (_, mesh) => {
      const tree = meshTree(mesh)
      for (let t = 0; t < mesh.triangles.length; t += 3) {
        const [a, b, c] = [0, 1, 2].map((k) => corner(mesh, t + k))
        const mixed = (...w: number[]) =>
          [0, 1, 2].map((k) => w[0] * a[k] + w[1] * b[k] + w[2] * c[k]) as unknown as Vec3
        for (const p of [
          a,
          mixed(0.5, 0.5, 0),
          mixed(0.25, 0, 0.75),
          mixed(0.25, 0.25, 0.5),
          mixed(0.125, 0.5, 0.375),
        ]) {
          expect(asked(tree, p)).toBeUndefined()
          expect(isInside(tree, sub(p, tree.centre) as [number, number, number])).toBe(false)
        }
      }
    },
  )

  test('points in line with edges, vertices and faces, but off them, have their number', () => {
    const mesh = meshes.cube
    const tree = meshTree(mesh)
    const steps = [-12, -8, -4, 0, 4, 8, 12]
    for (const x of steps)
      for (const y of steps)
        for (const z of steps) {
          const most = Math.max(Math.abs(x), Math.abs(y), Math.abs(z))
          expect(asked(tree, [x, y, z])).toBe(most < 8 ? 1 : most > 8 ? 0 : undefined)
        }
  })

  test('an open mesh has no inside', () => {
    expect(isInside(meshTree(cubeMesh([-8, -8, -8], 16, false)), [0, 0, 0])).toBe(false)
  })
})

/** A ball of about 300,000 triangles with waves on it. */
function fineBall(): Mesh {
  const [rings, round] = [387, 388]
  const at = (ring: number, i: number) => (ring === 0 ? 0 : ring === rings ? 1 : 2 + (ring - 1) * round + (i % round))
  const positions = [0, 0, 100, 0, 0, -100]
  const triangles: number[] = []
  for (let ring = 0; ring < rings; ring++)
    for (let i = 0; i < round; i++) {
      const [t, a] = [(Math.PI * ring) / rings, (2 * Math.PI * i) / round]
      const r = 100 + 3 * Math.sin(9 * t) * Math.sin(t) ** 2 * Math.cos(7 * a)
      if (ring > 0) positions.push(r * Math.sin(t) * Math.cos(a), r * Math.sin(t) * Math.sin(a), r * Math.cos(t))
      const [p, q, s, u] = [at(ring, i), at(ring + 1, i), at(ring + 1, i + 1), at(ring, i + 1)]
      if (ring < rings - 1) triangles.push(p, q, s)
      if (ring > 0) triangles.push(p, s, u)
    }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), closed: true }
}

test('300,000 triangles: right at 2,000 points, and quick (aim 50 µs; far more is a fault)', () => {
  const random = seeded(6)
  const tree = meshTree(fineBall())
  const points = Array.from({ length: 2000 }, () => random.point(105))
  // Between the waves nobody is asked.
  const sure = points.filter((p) => Math.abs(length(p) - 100) > 3.1)
  expect(sure.length).toBeGreaterThan(1500)
  const times = sure.map((p) => {
    const start = performance.now()
    const winding = asked(tree, p)
    const time = performance.now() - start
    expect(winding).toBe(length(p) < 100 ? 1 : 0)
    return time
  })
  expect(times.sort((a, b) => a - b)[times.length >> 1]).toBeLessThan(0.5)
})
