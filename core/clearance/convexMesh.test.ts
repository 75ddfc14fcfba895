import { describe, expect, test } from 'vitest'
import { anyBody, boxBody, corners, movedBody, tankBody } from '../../test/kit/bodies.ts'
import { bumpyMesh, meshOf } from '../../test/kit/meshes.ts'
import { plainDistance } from '../../test/kit/plainDistance.ts'
import { seeded } from '../../test/kit/random.ts'
import type { MeshForm } from '../shape/form.ts'
import type { Mesh } from '../shape/mesh.ts'
import { along, distance, identity, mirrorY, placed, product, type Pose, type Vec3 } from '../shape/vec.ts'
import { convexMesh } from './convexMesh.ts'
import { convexDistance } from './gjk.ts'
import { emptyNearest } from './nearest.ts'
import { emptySet, setOf, setTriangle } from './support.ts'

const form = (mesh: Mesh, pose: Pose = { turn: identity, at: [0, 0, 0] }): MeshForm => ({ form: 'mesh', mesh, pose })

/** Every triangle asked, in the bay's frame, no tree and no early end. */
function overAll(body: Parameters<typeof setOf>[0], { mesh, pose }: MeshForm): number {
  const set = setOf(body)
  const triangle = emptySet()
  const near = emptyNearest()
  let least = Infinity
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const c = [0, 1, 2].flatMap((k) => {
      const v = 3 * mesh.triangles[t + k]
      return [...placed(pose, [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]])]
    })
    convexDistance(set, setTriangle(triangle, c), Infinity, near)
    least = Math.min(least, near.atMost)
  }
  return least
}

describe('a convex solid and a mesh', () => {
  test('400 bodies against 800 triangles in any pose, mirrored too: the gap of trying every triangle (seed 11)', () => {
    const random = seeded(11)
    const mesh = bumpyMesh(20, 20, 4)
    let apart = 0
    for (let i = 0; i < 400; i++) {
      const turn = random.chance(0.3) ? product(random.turn(), mirrorY) : random.turn()
      const keepOut = form(mesh, { turn, at: random.point(250) })
      const body = movedBody(anyBody(random, 60), { turn: random.turn(), at: random.point(200) })
      const answer = convexMesh({ form: 'convex', body }, keepOut, {})
      const plain = overAll(body, keepOut)
      expect(answer.atMost - answer.atLeast).toBeLessThan(1e-6)
      expect(Math.abs(answer.atMost - plain)).toBeLessThan(1e-8)
      expect(Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)).toBeLessThan(1e-9)
      if (answer.atMost > 1e-6) apart++
      // A former witness, right or stale, changes nothing.
      const near = { onPart: answer.onPart, onKeepOut: along(answer.onKeepOut, random.unit(), random.real(0, 5)) }
      expect(Math.abs(convexMesh({ form: 'convex', body }, keepOut, { near }).atMost - plain)).toBeLessThan(1e-8)
      // upTo never changes an answer below it and says so above it.
      const upTo = random.real(0, 2 * plain + 1)
      const stopped = convexMesh({ form: 'convex', body }, keepOut, { upTo })
      if (plain < upTo - 1e-9) expect(Math.abs(stopped.atMost - plain)).toBeLessThan(1e-8)
      else {
        expect(stopped.atLeast).toBeGreaterThanOrEqual(upTo - 1e-9)
        expect(stopped.atMost).toBeGreaterThanOrEqual(plain - 1e-8)
      }
    }
    expect(apart).toBeGreaterThan(120)
    expect(apart).toBeLessThan(380)
  })

  test.each(['coplanar', 'parallel', 'touching', 'far from the origin'])(
    '2,000 box meshes built in one tilted frame against a box, %s: none wrong',
    (family) => {
      const random = seeded(family.length)
      let wrong = 0
      for (let i = 0; i < 2000; i++) {
        const turn = random.turn()
        const [a, b] = [random.size(1, 80), random.size(1, 80)]
        const gap = family === 'touching' ? 0 : random.real(0.5, 21)
        const rise = family === 'coplanar' ? 0 : random.real(-5, 5)
        const at: Vec3 = family === 'far from the origin' ? random.point(1e5) : random.point(50)
        const box = boxBody(a, 10, 10)
        const other = boxBody(b, 10, 10)
        const pose = (x: number): Pose => ({ turn, at: placed({ turn, at }, [x, family === 'parallel' ? rise : 0, 0]) })
        const body = movedBody(box, pose(0))
        const keepOut = form(meshOf(other), pose(a + b + gap))
        const answer = convexMesh({ form: 'convex', body }, keepOut, {})
        if (Math.abs(answer.atMost - gap) > 1e-8 || answer.atMost - answer.atLeast > 1e-6) wrong++
      }
      expect(wrong).toBe(0)
    },
  )

  test('2,000 slivers 1e-3 mm thin against random boxes: the same as the plain way (seed 5)', () => {
    const random = seeded(5)
    let wrong = 0
    for (let i = 0; i < 2000; i++) {
      const sliver = boxBody(random.real(5, 50), 5e-4, random.real(0.5, 5))
      const body = movedBody(tankBody(30, 20, 10, 0.7, 0.8), { turn: random.turn(), at: random.point(60) })
      const pose: Pose = { turn: random.turn(), at: random.point(60) }
      const plain = plainDistance(body, movedBody(sliver, pose)).gap
      const answer = convexMesh({ form: 'convex', body }, form(meshOf(sliver), pose), {})
      if (Math.abs(answer.atMost - Math.max(0, plain)) > 1e-7) wrong++
    }
    expect(wrong).toBe(0)
  })
})

describe('inside and overlap', () => {
  const cube = meshOf(boxBody(50, 50, 50))
  test('a part wholly inside a closed mesh overlaps it, by its way to the surface at least', () => {
    const answer = convexMesh({ form: 'convex', body: boxBody(5, 5, 5) }, form(cube), {})
    expect(answer.atMost).toBe(0)
    expect(answer.overlap?.kind).toBe('atLeast')
    // The corner is 45 from a face, the middle 50.
    expect(answer.overlap?.depthAtLeast).toBeCloseTo(50, 6)
  })
  test('the same mesh with a face taken off is a shell: nothing is inside it', () => {
    const open = { ...cube, triangles: cube.triangles.slice(6), closed: false }
    expect(convexMesh({ form: 'convex', body: boxBody(5, 5, 5) }, form(open), {}).atMost).toBeCloseTo(45, 9)
  })
  test('a part in the cavity of a hollow closed mesh is clear of it', () => {
    const inner = meshOf(boxBody(20, 20, 20))
    const hollow: Mesh = {
      positions: Float64Array.from([...cube.positions, ...inner.positions]),
      triangles: Uint32Array.from([
        ...cube.triangles,
        // The cavity's faces look inwards.
        ...Array.from(
          inner.triangles,
          (_, i) => inner.triangles[3 * Math.floor(i / 3) + [0, 2, 1][i % 3]] + cube.positions.length / 3,
        ),
      ]),
      closed: true,
    }
    const answer = convexMesh({ form: 'convex', body: boxBody(5, 5, 5) }, form(hollow), {})
    expect(answer.atMost).toBeCloseTo(15, 9)
    expect(answer.overlap).toBeUndefined()
  })
  test('a mesh wholly inside the part overlaps it', () => {
    const answer = convexMesh({ form: 'convex', body: boxBody(80, 80, 80) }, form(cube), {})
    expect(answer.atMost).toBe(0)
    expect(answer.overlap?.depthAtLeast).toBeGreaterThan(30 - 1e-9)
  })
  test('no shift shorter than the depth parts them: 300 overlapping pairs, shifted any way (seed 23)', () => {
    const random = seeded(23)
    let met = 0
    let deep = 0
    for (let i = 0; i < 300; i++) {
      const keepOut = form(random.chance(0.5) ? cube : bumpyMesh(8, 8, i), {
        turn: random.turn(),
        at: random.point(20),
      })
      const body = movedBody(anyBody(random, 40), { turn: random.turn(), at: random.point(70) })
      const { overlap } = convexMesh({ form: 'convex', body }, keepOut, {})
      if (!overlap) continue
      met++
      if (overlap.depthAtLeast > 1) deep++
      for (let j = 0; j < 12; j++) {
        const by = along([0, 0, 0], random.unit(), overlap.depthAtLeast * 0.999)
        const moved = movedBody(body, { turn: identity, at: by })
        expect(convexMesh({ form: 'convex', body: moved }, keepOut, { depth: false }).atMost).toBeLessThan(1e-9)
      }
    }
    expect(met).toBeGreaterThan(60)
    expect(deep).toBeGreaterThan(40)
  })
  test('flat on the mesh: touching is 0 and no overlap is claimed', () => {
    const body = movedBody(boxBody(5, 5, 5), { turn: identity, at: [0, 0, 55] })
    const answer = convexMesh({ form: 'convex', body }, form(cube), {})
    expect(answer.atLeast).toBe(0)
    expect(answer.atMost).toBeLessThan(1e-9)
    expect(answer.overlap?.depthAtLeast ?? 0).toBeLessThan(1e-9)
    expect(corners(body)).toHaveLength(8)
  })
})
