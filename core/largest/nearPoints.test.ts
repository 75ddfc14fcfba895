import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import { bumpyMesh } from '../../test/kit/meshes.ts'
import { cubeMesh } from '../../test/kit/tinyBay.ts'
import { clearance } from '../clearance/clearance.ts'
import { setOf } from '../clearance/support.ts'
import type { Cylinder, Form, MeshForm, Polytope, RoundForm } from '../shape/form.ts'
import { solidFrom, solidOf } from '../shape/solid.ts'
import { add, along, distance, identity, type Vec3 } from '../shape/vec.ts'
import { clippedMiddle } from './clippedMiddle.ts'
import { convexPoint } from './convexPoint.ts'
import { meshPoint, type TooNear } from './meshPoint.ts'
import { roundPoint } from './roundPoint.ts'

const shape = (given: Parameters<typeof solidOf>[0]) => {
  const made = solidOf(given, { meshes: new Map() })
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const bodyOf = (form: Form): Polytope | Cylinder => {
  if (form.form !== 'convex') throw new Error('not convex')
  return form.body
}

function someBody(random: Random, reach: number): Polytope | Cylinder {
  const at = random.point(reach) as [number, number, number]
  const size = [random.real(5, 120), random.real(5, 120), random.real(5, 120)] as [number, number, number]
  const turn = random.chance(0.4)
    ? undefined
    : ([random.real(-90, 90), random.real(-90, 90), 0] as [number, number, number])
  if (random.chance(0.25))
    return {
      kind: 'cylinder',
      from: at,
      to: add(at, random.unit().map((x) => 60 * x) as unknown as Vec3),
      radius: random.real(2, 30),
    }
  return bodyOf(shape({ kind: 'box', at, size, ...(turn && { turn }) }).forms[0])
}

/** Found exactly where the engine says so, on the keep-out, with a ball in it, no worse than told. */
function held(
  part: Polytope | Cylinder,
  form: Form,
  found: TooNear | undefined,
  asked: number,
  ignore: number,
): boolean {
  const keepOut = solidFrom([form])
  const solid = solidFrom([{ form: 'convex', body: part }])
  const answer = clearance(solid, keepOut, { depth: false })
  const isNear = answer.overlap !== undefined || answer.atMost < asked - ignore
  // Within rounding, and where they only touch or dip by less than is ignored, either will do.
  const isOpen = Math.abs(answer.atMost - (asked - ignore)) < 1e-6 || (answer.overlap !== undefined && asked <= ignore)
  if (!isOpen) expect(found !== undefined).toBe(isNear)
  if (!found) return false
  expect(found.by).toBeGreaterThan(ignore)
  // The ball lies in the keep-out: points all over it do, and so is its middle.
  for (let i = 0; i < 6; i++) {
    const at = along(
      found.at,
      [i === 0 ? 1 : i === 1 ? -1 : 0, i === 2 ? 1 : i === 3 ? -1 : 0, i === 4 ? 1 : i === 5 ? -1 : 0],
      found.room,
    )
    const point = solidFrom([
      { form: 'convex', body: { kind: 'cylinder', from: at, to: add(at, [0, 0, 1e-6]), radius: 1e-6 } },
    ])
    expect(clearance(point, keepOut, { depth: false }).atLeast).toBeLessThan(1e-5)
  }
  // What it asks is broken for sure: the ball's middle is nearer to the part than the two radii together.
  const middle = solidFrom([
    { form: 'convex', body: { kind: 'cylinder', from: found.at, to: add(found.at, [0, 0, 1e-6]), radius: 1e-6 } },
  ])
  const gap = clearance(solid, middle, { depth: false }).atMost
  expect(gap).toBeLessThan(Math.max(0, asked + found.room - ignore) + 1e-5)
  if (found.onPart) expect(distance(found.onPart, found.at)).toBeLessThan(asked + found.room + 1e-6)
  return true
}

describe('points of a keep-out that are too near a part: found exactly where the engine says that it is', () => {
  test('600 convex pairs (seed 51)', () => {
    const random = seeded(51)
    let found = 0
    let withRoom = 0
    for (let run = 0; run < 600; run++) {
      const [part, keepOut] = [someBody(random, 40), someBody(random, 70)]
      const asked = random.chance(0.15) ? 1e-8 : random.real(0, 20)
      const ignore = random.chance(0.5) ? 0 : 0.002
      const point = convexPoint({ body: part, set: setOf(part) }, { body: keepOut, set: setOf(keepOut) }, asked, ignore)
      if (!held(part, { form: 'convex', body: keepOut }, point, asked, ignore)) continue
      found++
      if (point && point.room > 0.5) withRoom++
    }
    expect(found).toBeGreaterThan(150)
    expect(found).toBeLessThan(550)
    expect(withRoom).toBeGreaterThan(50)
  })

  test('300 parts against open and closed meshes, turned and mirrored, with parts wholly inside (seed 52)', () => {
    const random = seeded(52)
    const bumpy = bumpyMesh(60, 45, 3)
    const block = cubeMesh([-80, -80, -80], 160)
    let found = 0
    let inside = 0
    for (let run = 0; run < 300; run++) {
      const mesh = random.chance(0.5) ? bumpy : block
      const form: MeshForm = {
        form: 'mesh',
        mesh,
        pose: { turn: random.chance(0.3) ? identity : random.turn(), at: random.point(40) },
      }
      const part = random.chance(0.15)
        ? bodyOf(shape({ kind: 'box', at: [0, 0, 0], size: [4, 5, 6] }).forms[0])
        : someBody(random, 160)
      const asked = random.chance(0.15) ? 1e-8 : random.real(0, 20)
      const ignore = random.chance(0.5) ? 0 : 0.002
      const point = meshPoint(part, form, asked, ignore)
      if (!held(part, form, point, asked, ignore)) continue
      found++
      if (point && point.room > 0) inside++
    }
    expect(found).toBeGreaterThan(100)
    expect(found).toBeLessThan(290)
    expect(inside).toBeGreaterThan(5)
  })

  test('200 parts against tubes (seed 53)', () => {
    const random = seeded(53)
    let found = 0
    let withRoom = 0
    for (let run = 0; run < 200; run++) {
      const [x, y, z] = random.point(60)
      const path: [number, number, number][] = [
        [x, y, z],
        [x + 120, y + random.real(-30, 30), z],
        [x + 120, y, z + 120],
      ]
      const tube = shape({ kind: 'tube', path, radius: random.real(4, 20), bendRadius: random.real(25, 50) })
      const part = someBody(random, 70)
      const asked = random.real(0.1, 20)
      const solid = solidFrom([{ form: 'convex', body: part }])
      const point = roundPoint(solid, tube, tube.forms[0] as RoundForm, asked, 0)
      if (!held(part, tube.forms[0], point, asked, 0)) continue
      found++
      if (point && point.room > 1) withRoom++
    }
    expect(found).toBeGreaterThan(50)
    expect(found).toBeLessThan(190)
    expect(withRoom).toBeGreaterThan(20)
  })
})

test('the middle of what of a triangle lies in a box', () => {
  const out = new Float64Array(3)
  const box = bodyOf(shape({ kind: 'box', at: [0, 0, 0], size: [2, 2, 2] }).forms[0]) as Polytope
  expect(clippedMiddle(box.planes, Float64Array.of(-9, -9, 0.5, 9, -9, 0.5, 0, 9, 0.5), out)).toBe(true)
  expect(distance([out[0], out[1], out[2]], [0, 0, 0.5])).toBeLessThan(1e-12)
  expect(clippedMiddle(box.planes, Float64Array.of(-9, -9, 1.5, 9, -9, 1.5, 0, 9, 1.5), out)).toBe(false)
})
