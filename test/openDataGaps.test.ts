import { createRequire } from 'node:module'
import { beforeAll, describe, expect, test } from 'vitest'
import { convexMesh } from '../core/clearance/convexMesh.ts'
import { convexDistance } from '../core/clearance/gjk.ts'
import { meshMesh } from '../core/clearance/meshMesh.ts'
import { emptyNearest } from '../core/clearance/nearest.ts'
import { emptySet, setOf, setTriangle } from '../core/clearance/support.ts'
import type { MeshForm, Polytope } from '../core/shape/form.ts'
import type { Mesh } from '../core/shape/mesh.ts'
import { checkMesh } from '../core/shape/meshCheck.ts'
import { add, distance, dot, type Pose, placed, scale, sub, type Vec3 } from '../core/shape/vec.ts'
import { boxBody, corners, movedBody } from './kit/bodies.ts'
import { meshOf } from './kit/meshes.ts'
import { type Random, seeded } from './kit/random.ts'
import { toTriangle } from './kit/tubes.ts'

/*
 * Gaps to meshes that nobody here made (checks G1 and G2: a closed scan, an open set of patches), held to manifold-3d's
 * minGap, which holds single precision, and to every triangle asked one by one.
 */
const require = createRequire(import.meta.url)
type Cells = { positions: number[][]; cells: number[][] }

/** Brought to about 100 mm. */
function read(name: string, by: number): Mesh {
  const { positions, cells }: Cells = require(name)
  const checked = checkMesh(
    Float64Array.from(positions.flat(), (x) => by * x),
    Uint32Array.from(cells.flat()),
  )
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
  return checked.value.mesh
}
const bunny = read('bunny', 10)
const teapot = read('teapot', 4)

const verticesOf = ({ mesh, pose }: MeshForm): Vec3[] =>
  Array.from({ length: mesh.positions.length / 3 }, (_, i) =>
    placed(pose, [mesh.positions[3 * i], mesh.positions[3 * i + 1], mesh.positions[3 * i + 2]]),
  )
const trianglesOf = (form: MeshForm): Vec3[][] => {
  const vertices = verticesOf(form)
  return Array.from({ length: form.mesh.triangles.length / 3 }, (_, t) =>
    [0, 1, 2].map((k) => vertices[form.mesh.triangles[3 * t + k]]),
  )
}
const anyPose = (random: Random, far: number): Pose => ({
  turn: random.turn(),
  at: scale(random.unit(), random.real(0, far)),
})
const middle: Vec3 = [0, 48, 0]
const anyBox = (random: Random): Polytope => {
  const body = boxBody(random.size(1, 40), random.size(1, 40), random.size(1, 40))
  const { turn, at } = anyPose(random, 140)
  return movedBody(body, { turn, at: add(at, middle) })
}

/** Least distance over all triangles, by the convex kernel alone: no tree, no early end. */
function overAll(body: Polytope, form: MeshForm): number {
  const set = setOf(body)
  const triangle = emptySet()
  const near = emptyNearest()
  return Math.min(
    ...trianglesOf(form).map((t) => {
      convexDistance(set, setTriangle(triangle, t.flat()), Infinity, near)
      return near.atMost
    }),
  )
}

/** Least distance of two sets of triangles, corners against faces and edges against edges, without any kernel of ours. */
function overFeatures(ours: readonly Vec3[][], theirs: readonly Vec3[][]): number {
  let least = Infinity
  for (const s of ours)
    for (const t of theirs) {
      for (let k = 0; k < 3; k++) {
        least = Math.min(least, toTriangle(s[k], t[0], t[1], t[2]), toTriangle(t[k], s[0], s[1], s[2]))
        for (let l = 0; l < 3; l++) least = Math.min(least, ofLines(s[k], s[(k + 1) % 3], t[l], t[(l + 1) % 3]))
      }
    }
  return least
}

/** Distance of two segments where it lies within both; Infinity elsewhere (a corner is nearest then, asked above). */
function ofLines(a: Vec3, b: Vec3, c: Vec3, d: Vec3): number {
  const [u, v, w] = [sub(b, a), sub(d, c), sub(a, c)]
  const [uu, uv, vv, uw, vw] = [dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)]
  const whole = uu * vv - uv * uv
  if (!(whole > 1e-12 * uu * vv)) return Infinity
  const s = (uv * vw - vv * uw) / whole
  const t = (uu * vw - uv * uw) / whole
  if (s < 0 || s > 1 || t < 0 || t > 1) return Infinity
  return Math.hypot(...[0, 1, 2].map((i) => w[i] + s * u[i] - t * v[i]))
}

let kernel: Awaited<ReturnType<typeof import('manifold-3d')['default']>>
beforeAll(async () => {
  kernel = await (await import('manifold-3d')).default()
  kernel.setup()
})
function solidOf(form: MeshForm) {
  const vertProperties = Float32Array.from(verticesOf(form).flat())
  return new kernel.Manifold(new kernel.Mesh({ numProp: 3, vertProperties, triVerts: form.mesh.triangles.slice() }))
}
const still: Pose = { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], at: [0, 0, 0] }
const asForm = (mesh: Mesh, pose = still): MeshForm => ({ form: 'mesh', mesh, pose })
/** Coordinates below 300 mm, each rounded to 1.5e-5 mm. */
const single = 1e-4

describe('the closed scan', () => {
  test('150 boxes any way round it, in it and through it: minGap, and every triangle (seed 701)', () => {
    const random = seeded(701)
    const scan = asForm(bunny)
    const solid = solidOf(scan)
    const count = { apart: 0, inside: 0 }
    for (let i = 0; i < 150; i++) {
      const body = anyBox(random)
      const answer = convexMesh({ form: 'convex', body }, scan, {})
      const surfaces = overAll(body, scan)
      const box = solidOf(asForm(meshOf(body)))
      const oracle = box.minGap(solid, answer.atMost * 1.15 + 1)
      box.delete()
      expect(Math.abs(answer.atMost - oracle)).toBeLessThan(single)
      expect(answer.atMost - answer.atLeast).toBeLessThan(1e-6)
      if (answer.overlap) {
        if (surfaces > 1e-6) count.inside++
        continue
      }
      count.apart++
      expect(Math.abs(answer.atMost - surfaces)).toBeLessThan(1e-8)
      expect(Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)).toBeLessThan(1e-9)
    }
    solid.delete()
    expect(count.apart).toBeGreaterThan(45)
    expect(count.apart).toBeLessThan(135)
    expect(count.inside).toBeGreaterThan(3)
  })

  test('8 boxes: every feature against every feature (seed 702)', () => {
    const random = seeded(702)
    for (let done = 0; done < 8; ) {
      const body = anyBox(random)
      const answer = convexMesh({ form: 'convex', body }, asForm(bunny), {})
      if (answer.overlap) continue
      done++
      const plain = overFeatures(trianglesOf(asForm(meshOf(body))), trianglesOf(asForm(bunny)))
      expect(Math.abs(answer.atMost - plain)).toBeLessThan(1e-9)
    }
  })

  test('40 poses beside itself, turned: minGap (seed 703)', () => {
    const random = seeded(703)
    let apart = 0
    for (let i = 0; i < 40; i++) {
      const [a, b] = [asForm(bunny, anyPose(random, 60)), asForm(bunny, anyPose(random, 140))]
      const answer = meshMesh(a, b, {})
      const [p, q] = [solidOf(a), solidOf(b)]
      expect(Math.abs(answer.atMost - p.minGap(q, answer.atMost * 1.15 + 1))).toBeLessThan(single)
      p.delete()
      q.delete()
      if (answer.overlap) continue
      apart++
      const seen = Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)
      expect(seen).toBeLessThan(1e-9)
    }
    expect(apart).toBeGreaterThan(8)
    expect(apart).toBeLessThan(36)
  })
})

describe('the open patches', () => {
  test('100 boxes, in the vessel too: every triangle; nothing is inside a shell (seed 704)', () => {
    const random = seeded(704)
    const shell = asForm(teapot)
    let apart = 0
    let within = 0
    for (let i = 0; i < 100; i++) {
      const body = movedBody(boxBody(random.real(1, 15), random.real(1, 15), random.real(1, 15)), anyPose(random, 80))
      const answer = convexMesh({ form: 'convex', body }, shell, {})
      const surfaces = overAll(body, shell)
      expect(Math.abs(answer.atMost - surfaces)).toBeLessThan(1e-8)
      if (surfaces < 1e-6) expect(answer.overlap).toBeDefined()
      else {
        apart++
        expect(answer.overlap).toBeUndefined()
        // The vessel is about 80 mm wide and 60 mm high.
        if (corners(body).every((v) => Math.hypot(v[0], v[2]) < 30 && Math.abs(v[1]) < 20)) within++
      }
    }
    expect(apart).toBeGreaterThan(25)
    expect(apart).toBeLessThan(95)
    expect(within).toBeGreaterThan(5)
  })
})
