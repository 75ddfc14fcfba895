import { expect, test } from 'vitest'
import { anyBody, boxBody, movedBody } from '../../test/kit/bodies.ts'
import { closedMeshKit, openMeshKit } from '../../test/kit/meshForms.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { cubeMesh } from '../../test/kit/tinyBay.ts'
import type { ConvexForm, MeshForm } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, distance, identity, scale, type Vec3 } from '../shape/vec.ts'
import { clearance } from './clearance.ts'
import { convexesMesh, convexMesh } from './convexMesh.ts'
import { FailedPair } from './failedPair.ts'

const convex = (body: ConvexForm['body']): ConvexForm => ({ form: 'convex', body })
const anyMesh = (random: Random): MeshForm => (random.chance(0.5) ? closedMeshKit : openMeshKit).make(random, 100)
const anyParts = (random: Random, count: number): ConvexForm[] => {
  const at = scale(random.unit(), random.real(0, 300))
  return Array.from({ length: count }, () =>
    convex(movedBody(anyBody(random, 40), { turn: random.turn(), at: add(at, random.point(90)) })),
  )
}

test('one to six bodies against a mesh in one search: the least of each alone, or none where one meets it (600 parts, seed 3601)', () => {
  const random = seeded(3601)
  let [met, stopped, notFirst] = [0, 0, 0]
  for (let i = 0; i < 600; i++) {
    const parts = anyParts(random, 1 + random.int(6))
    const mesh = anyMesh(random)
    const alone = parts.map((part) => convexMesh(part, mesh, { depth: false }))
    const upTo = random.chance(0.3) ? random.real(0, 200) : Infinity
    const answer = convexesMesh(parts, mesh, { upTo })
    if (!answer) {
      expect(alone.some(({ overlap }) => overlap)).toBe(true)
      met++
      continue
    }
    const gaps = alone.map(({ atMost }) => atMost)
    const least = Math.min(...gaps)
    // Bodies that the limit kept from being looked at may meet the mesh only where the limit is 0.
    expect(alone.some(({ overlap }) => overlap)).toBe(false)
    expect(Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)).toBeLessThan(1e-9)
    if (least < upTo) {
      expect(Math.abs(answer.atMost - least)).toBeLessThan(1e-8)
      expect(answer.atMost - answer.atLeast).toBeLessThan(1e-6)
      expect(answer.stopped).toBe('converged')
      if (gaps.indexOf(least) > 0) notFirst++
    } else {
      expect(answer.stopped).toBe('upTo')
      expect(answer.atLeast).toBeGreaterThanOrEqual(upTo - 1e-9)
      expect(answer.atMost).toBeGreaterThanOrEqual(least - 1e-8)
      stopped++
    }
  }
  expect(met).toBeGreaterThan(120)
  expect(met).toBeLessThan(420)
  expect(stopped).toBeGreaterThan(20)
  expect(notFirst).toBeGreaterThan(80)
})

const cube: MeshForm = { form: 'mesh', mesh: cubeMesh([-50, -50, -50], 100), pose: { turn: identity, at: [0, 0, 0] } }
const block = (at: Vec3): ConvexForm => convex(movedBody(boxBody(5, 5, 5), { turn: identity, at }))

test('a body wholly inside the mesh is not hidden by one that is nearer to its surface, nor by upTo', () => {
  const parts = [block([0, 0, 56]), block([0, 0, 0])]
  expect(convexesMesh(parts, cube, {})).toBeUndefined()
  expect(convexesMesh(parts, cube, { upTo: 0.5 })).toBeUndefined()
  const answer = clearance(solidFrom(parts), solidFrom([cube]))
  expect(answer.atMost).toBe(0)
  expect(answer.overlap?.depthAtLeast).toBeCloseTo(50, 6)
  const shell = { ...cube, mesh: { ...cube.mesh, closed: false } }
  expect(convexesMesh(parts, shell, {})?.atMost).toBeCloseTo(1, 9)
})

test('the front door gives the same, 1 km off too, and the hint of a former answer changes nothing (200 parts, seed 3602)', () => {
  const random = seeded(3602)
  let apart = 0
  for (let i = 0; i < 200; i++) {
    const by = random.chance(0.5) ? random.point(1e6) : ([0, 0, 0] as Vec3)
    const carried = by.map(Math.round) as unknown as Vec3
    const parts = anyParts(random, 3)
    const mesh = anyMesh(random)
    const there = parts.map(({ body }) => convex(movedBody(body, { turn: identity, at: carried })))
    const part = solidFrom(there)
    const keepOut = solidFrom([{ ...mesh, pose: { ...mesh.pose, at: add(mesh.pose.at, carried) } }])
    const plain = Math.min(...parts.map((form) => convexMesh(form, mesh, { depth: false }).atMost))
    const answer = clearance(part, keepOut)
    // 2⁻⁵² of 1e6 mm a coordinate, some of them.
    expect(Math.abs(answer.atMost - plain)).toBeLessThan(1e-8)
    const { onPart, onKeepOut } = answer
    expect(clearance(part, keepOut, { near: { onPart, onKeepOut } })).toEqual(answer)
    if (!answer.overlap) apart++
  }
  expect(apart).toBeGreaterThan(60)
})

test('a coordinate that is no number fails loudly, in whichever body it is', () => {
  for (const which of [0, 1, 2]) {
    const parts = [block([0, 0, 90]), block([0, 0, 80]), block([0, 0, 70])]
    const { body } = parts[which]
    if (body.kind === 'polytope') body.vertices[4] = Number.NaN
    const part = { ...solidFrom([block([0, 0, 75])]), forms: parts }
    expect(() => clearance(part, solidFrom([cube]))).toThrow(FailedPair)
  }
})
