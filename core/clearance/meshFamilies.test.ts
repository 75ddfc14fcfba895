import { describe, expect, test } from 'vitest'
import { anyPolytope, boxBody, movedBody, tankBody } from '../../test/kit/bodies.ts'
import { meshOf } from '../../test/kit/meshes.ts'
import { plainDistance } from '../../test/kit/plainDistance.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import type { MeshForm, Polytope } from '../shape/form.ts'
import { add, identity, type Pose, placed, scale, type Vec3 } from '../shape/vec.ts'
import type { Clearance } from './answer.ts'
import { convexMesh } from './convexMesh.ts'
import { meshMesh } from './meshMesh.ts'

/** Two solids built in a hard way, and their gap where a drawing tells it; undefined: as the plain way says. */
interface Hard {
  readonly a: Polytope
  readonly b: Polytope
  readonly poseA: Pose
  readonly poseB: Pose
  readonly gap?: number
  /** One inside the other by this at the deepest. */
  readonly depth?: number
}

const inFrame = ({ turn, at }: Pose, point: Vec3): Pose => ({ turn, at: placed({ turn, at }, point) })
const anyFrame = (random: Random, far = 50): Pose => ({ turn: random.turn(), at: random.point(far) })
const boxes = (random: Random) => ({ a: boxBody(random.size(1, 80), 10, 10), b: boxBody(random.size(1, 80), 10, 10) })
const half = (body: Polytope): number => Math.max(...body.vertices.filter((_, i) => i % 3 === 0))

/** Faces of both in the planes of one tilted frame, `rise` off each other: what parts drawn in one installation frame are. */
function side(random: Random, gap: number, rise: Vec3, far = 50): Hard {
  const frame = anyFrame(random, far)
  const { a, b } = boxes(random)
  const away = half(a) + half(b) + gap
  return { a, b, poseA: frame, poseB: inFrame(frame, [away, rise[1], rise[2]]), gap }
}

const families: Record<string, (random: Random) => Hard> = {
  'coplanar faces in one tilted frame': (random) => side(random, random.real(0.5, 21), [0, 0, 0]),
  'parallel faces': (random) => side(random, random.real(1e-3, 21), [0, random.real(-15, 15), random.real(-15, 15)]),
  touching: (random) => side(random, 0, [0, random.real(-15, 15), random.real(-15, 15)]),
  'coordinates near 1e5': (random) => side(random, random.real(0.5, 21), [0, random.real(-15, 15), 0], 1e5),
  'slivers 1e-3 mm thin': (random) => ({
    a: boxBody(random.real(5, 50), 5e-4, random.real(0.5, 5)),
    b: random.chance(0.5) ? boxBody(5e-4, random.real(5, 50), 5e-4) : tankBody(30, 20, 10, 0.7, 0.8),
    poseA: anyFrame(random, 60),
    poseB: anyFrame(random, 60),
  }),
  contained: (random) => {
    const b = boxBody(50, 60, 70)
    const a = anyPolytope(random, random.real(1, 20))
    const frame = anyFrame(random)
    // Points of `a` reach 35 mm from its middle at most.
    const at = random.point(10)
    const poseA = { turn: random.turn(), at: placed(frame, at) }
    return { a, b, poseA, poseB: frame, depth: 1e-9 }
  },
}

const meshForm = (body: Polytope, pose: Pose): MeshForm => ({ form: 'mesh', mesh: meshOf(body), pose })

function isWrong({ a, b, poseA, poseB, gap, depth }: Hard, answer: Clearance): boolean {
  if (depth !== undefined) return !(answer.atMost === 0 && (answer.overlap?.depthAtLeast ?? 0) >= depth)
  const expected = gap ?? Math.max(0, plainDistance(movedBody(a, poseA), movedBody(b, poseB)).gap)
  // Coordinates near 1e5 are themselves known to 1.5e-11 mm, times the products that a pose takes.
  const allowed = 1e-8
  const isOff = Math.abs(answer.atMost - expected) > allowed || answer.atLeast > expected + allowed
  return isOff || answer.atMost - answer.atLeast > 1e-6 || (expected > allowed && answer.overlap !== undefined)
}

describe.each(Object.keys(families))('2,000 pairs, %s: none wrong', (family) => {
  test('mesh against mesh', () => {
    const random = seeded(family.length)
    let wrong = 0
    for (let i = 0; i < 2000; i++) {
      const hard = families[family](random)
      if (isWrong(hard, meshMesh(meshForm(hard.a, hard.poseA), meshForm(hard.b, hard.poseB), {}))) wrong++
    }
    expect(wrong).toBe(0)
  })

  test('convex solid against mesh', () => {
    const random = seeded(family.length)
    let wrong = 0
    for (let i = 0; i < 2000; i++) {
      const hard = families[family](random)
      const part = { form: 'convex', body: movedBody(hard.a, hard.poseA) } as const
      if (isWrong(hard, convexMesh(part, meshForm(hard.b, hard.poseB), {}))) wrong++
    }
    expect(wrong).toBe(0)
  })
})

test('a mesh in many pieces: one piece wholly inside, while others are nearer to the surface (300 poses, seed 31)', () => {
  const random = seeded(31)
  const large = meshOf(boxBody(50, 50, 50))
  for (let i = 0; i < 300; i++) {
    const frame = anyFrame(random)
    const inside = movedBody(boxBody(3, 4, 5), { turn: random.turn(), at: random.point(20) })
    const outside = movedBody(boxBody(3, 4, 5), { turn: identity, at: [54, 0, 0] })
    const pieces = joined(inside, outside)
    const a: MeshForm = { form: 'mesh', mesh: pieces, pose: frame }
    const b: MeshForm = { form: 'mesh', mesh: large, pose: frame }
    for (const answer of [
      meshMesh(a, b, {}),
      meshMesh(b, a, {}),
      meshMesh(a, b, { depth: false }),
      meshMesh(a, b, { upTo: 0.5 }),
    ])
      expect([answer.atLeast, answer.atMost, answer.overlap !== undefined]).toEqual([0, 0, true])
    expect(meshMesh(a, b, {}).overlap?.depthAtLeast).toBeGreaterThan(20)
    // A shell has no inside.
    const shell: MeshForm = { ...b, mesh: { ...large, closed: false } }
    expect(meshMesh(a, shell, {}).atMost).toBeCloseTo(1, 9)
  }
})

test('in a cavity of the other there is no overlap; the cavity’s wall is what is nearest', () => {
  const inwards = boxBody(30, 30, 30)
  const cavity = { ...meshOf(inwards), triangles: meshOf(inwards).triangles.slice().reverse() }
  const solid = meshOf(boxBody(50, 50, 50))
  const before = solid.positions.length / 3
  const hollow = {
    positions: Float64Array.from([...solid.positions, ...cavity.positions]),
    triangles: Uint32Array.from([...solid.triangles, ...Array.from(cavity.triangles, (v) => v + before)]),
    closed: true,
  }
  const b: MeshForm = { form: 'mesh', mesh: hollow, pose: { turn: identity, at: [0, 0, 0] } }
  const answer = meshMesh(meshForm(boxBody(5, 5, 5), { turn: identity, at: [7, 0, 0] }), b, {})
  expect(answer.atMost).toBeCloseTo(18, 9)
  expect(answer.overlap).toBeUndefined()
})

test('no shift shorter than the depth parts two meshes: 200 pairs, shifted any way (seed 32)', () => {
  const random = seeded(32)
  let [met, deep, exact] = [0, 0, 0]
  for (let i = 0; i < 200; i++) {
    const [a, b] = [anyPolytope(random, 50), anyPolytope(random, 50)]
    const [poseA, poseB] = [anyFrame(random, 30), anyFrame(random, 30)]
    const keepOut = meshForm(b, poseB)
    const { overlap } = meshMesh(meshForm(a, poseA), keepOut, {})
    if (!overlap) continue
    met++
    const depth = overlap.depthAtLeast
    if (depth > 1) deep++
    const plain = -plainDistance(movedBody(a, poseA), movedBody(b, poseB)).gap
    expect(depth).toBeLessThanOrEqual(plain + 1e-9)
    if (depth > 0.9 * plain) exact++
    for (let j = 0; j < 6; j++) {
      const at = add(poseA.at, scale(random.unit(), 0.999 * depth))
      expect(meshMesh(meshForm(a, { ...poseA, at }), keepOut, { depth: false }).atMost).toBeLessThan(1e-9)
    }
  }
  expect(met).toBeGreaterThan(60)
  expect(deep).toBeGreaterThan(30)
  expect(exact).toBeGreaterThan(5)
})

function joined(...bodies: Polytope[]) {
  const meshes = bodies.map(meshOf)
  let before = 0
  const triangles = meshes.flatMap((mesh) => {
    const moved = Array.from(mesh.triangles, (v) => v + before)
    before += mesh.positions.length / 3
    return moved
  })
  const positions = Float64Array.from(meshes.flatMap((mesh) => [...mesh.positions]))
  return { positions, triangles: Uint32Array.from(triangles), closed: true }
}
