import { describe, expect, test } from 'vitest'
import { jointedBay, shortHose, straightPipe, turboPort } from '../../test/kit/jointedBay.ts'
import { seeded } from '../../test/kit/random.ts'
import { clearance } from '../clearance/clearance.ts'
import { displayOf } from '../shape/display.ts'
import { boxPolytope } from '../shape/polytope.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, along, cross, distance, scale } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Part } from './part.ts'
import { candidateParts } from './parts.ts'
import { checkBay } from './read.ts'
import type { Bay } from './schema.ts'
import { Workshop } from './workshop.ts'
import type { Coupler, CouplerJoint } from './workshopSchema.ts'

function partsOf(bay: Bay, workshop?: Workshop): { parts: readonly Part[]; unrouted: readonly string[] } {
  const checked = checkBay(bay)
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
  const made = candidateParts(bay, bay.candidates[0], workshop)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const named = (bay: Bay, name: string): Part => {
  const { parts } = partsOf(bay)
  const found = parts.find((part) => part.name === name)
  if (!found) throw new Error(`${name} is not in ${parts.map((part) => part.name)}`)
  return found
}
const at = (coupler: string, more: Partial<CouplerJoint> = {}): CouplerJoint => ({ kind: 'coupler', coupler, ...more })
const clamps = { port: { clamp: 'band' }, pipe: { clamp: 'band', roll: 0 } }

/** Distance to a cube of 2e-6 mm. */
function gapTo(part: Part, point: Vec3): number {
  const speck = boxPolytope(point, [2e-6, 2e-6, 2e-6])
  if (!speck.ok) throw new Error('no speck')
  return clearance(part.solid, solidFrom([{ form: 'convex', body: speck.value }])).atMost
}

describe('which parts there are', () => {
  test('a coupler and its clamps at either end, behind their pipe', () => {
    const joints = { from: at('short', { clamps }), to: at('short', { gap: 4, clamps: { port: { clamp: 'band' } } }) }
    const { parts } = partsOf(jointedBay([straightPipe({ joints })]))
    expect(parts.map(({ name, kind }) => [name, kind])).toEqual([
      ['core', 'core'],
      ['tank-right', 'tank'],
      ['stub-right-p', 'stub'],
      ['pipe-hot', 'pipe'],
      ['coupler-hot-from', 'coupler'],
      ['clamp-hot-from-port', 'clamp'],
      ['clamp-hot-from-pipe', 'clamp'],
      ['coupler-hot-to', 'coupler'],
      ['clamp-hot-to-port', 'clamp'],
    ])
  })

  test('of a pipe that is not routed they stand there too', () => {
    const aside = turboPort({ at: [90, 400, 0] })
    const made = partsOf(jointedBay([straightPipe({ joints: { from: at('short'), to: at('short') } })], [], [aside]))
    expect(made.unrouted).toEqual(['hot'])
    expect(made.parts.map(({ name }) => name).slice(3)).toEqual(['coupler-hot-from', 'coupler-hot-to'])
  })

  test('a weld and an end without a joint have none', () => {
    expect(partsOf(jointedBay([straightPipe({ joints: { from: { kind: 'weld' } } })])).parts).toHaveLength(4)
  })

  test('the pipe’s tube begins where the couplers let it', () => {
    const joints = { from: at('short', { gap: 4 }), to: at('corner', { roll: 90 }) }
    // From the stub's end at Y 200: arc from Y 210, rolled by 90° about Y from Z towards X; the pipe from (40, 240, 0) on.
    const pipe = straightPipe({
      joints,
      path: [
        [0, 300, 0],
        [90, 300, 0],
        [90, 240, 0],
      ],
    })
    const centreline = named(jointedBay([pipe]), 'pipe-hot').pipe?.centreline ?? []
    expect(centreline[0]).toMatchObject({ kind: 'straight', from: [0, 396, 0] })
    const last = centreline[centreline.length - 1]
    if (last.kind !== 'straight') throw new Error('ends in an arc')
    expect(distance(last.to, [40, 240, 0])).toBeLessThan(1e-9)
  })

  test('what did not change is the very same solid again', () => {
    const workshop = new Workshop()
    const joints = { from: at('hump', { clamps }), to: at('corner', { clamps }) }
    const bay = jointedBay([straightPipe({ joints, path: [[0, 300, 0]] })])
    const [first, second] = [partsOf(bay, workshop), partsOf(JSON.parse(JSON.stringify(bay)), workshop)]
    expect(first.parts).toHaveLength(10)
    for (const [k, part] of first.parts.entries()) expect(second.parts[k].solid).toBe(part.solid)
  })
})

// On the turbo's side all hoses lie along Y from the port at Y 400 down.
describe('solids by hand', () => {
  const withCoupler = (coupler: string, more: Partial<CouplerJoint> = {}) =>
    jointedBay([straightPipe({ joints: { from: at(coupler, more) } })])

  test('a straight hose: bore and twice the wall across, over both tubes', () => {
    const hose = named(withCoupler('short', { gap: 4 }), 'coupler-hot-from')
    // From Y 420 to 376, 13 about the axis.
    expect(gapTo(hose, [0, 430, 0])).toBeCloseTo(10, 5)
    expect(gapTo(hose, [0, 370, 0])).toBeCloseTo(6, 5)
    expect(gapTo(hose, [20, 400, 0])).toBeCloseTo(7, 5)
  })

  test('one that reduces is taken as thick throughout as its wider end; one stretched over a tube, as that makes it', () => {
    const bay = withCoupler('short')
    const reducing = { ...shortHose, insideDiameters: [20, 30] } as Coupler
    const hose = named({ ...bay, stock: { couplers: [reducing] } }, 'coupler-hot-from')
    for (const y of [380, 400, 419]) expect(gapTo(hose, [0, y, 30])).toBeCloseTo(30 - 18, 5)
    const thick = jointedBay(
      [straightPipe({ joints: { from: at('short') } })],
      [],
      [turboPort({ outsideDiameter: 24 })],
    )
    expect(gapTo(named(thick, 'coupler-hot-from'), [0, 400, 30])).toBeCloseTo(30 - 15, 5)
  })

  test('a hump stands off in the middle', () => {
    // 64 long about the port: Y 368 … 432; its hump Y 390 … 410, 17 about the axis.
    const hose = named(withCoupler('hump'), 'coupler-hot-from')
    expect(gapTo(hose, [0, 400, 30])).toBeCloseTo(13, 5)
    expect(gapTo(hose, [0, 391, 30])).toBeCloseTo(13, 5)
    expect(gapTo(hose, [0, 425, 30])).toBeCloseTo(Math.min(17, Math.hypot(15, 13)), 5)
  })

  test('an elbow is round all along, on either side of its arc', () => {
    const bay = withCoupler('corner', { roll: 0 })
    const hose = named(bay, 'coupler-hot-from')
    // Arc about (0, 390, 30) of radius 30, from Y 390, Z 0 to Y 360, Z 30.
    const middle: Vec3 = [0, 390 - 30 * Math.SQRT1_2, 30 - 30 * Math.SQRT1_2]
    expect(gapTo(hose, add(middle, scale([0, -1, -1], 20 * Math.SQRT1_2)))).toBeCloseTo(20 - 13, 5)
    expect(gapTo(hose, [0, 390, 30])).toBeCloseTo(30 - 13, 5)
    expect(gapTo(hose, [0, 360, 70])).toBeCloseTo(70 - 55, 5)
    expect(gapTo(hose, [0, 360 - 25, 45])).toBeCloseTo(25 - 13, 5)
  })

  test('an elbow that a thick tube stretches beyond its own radius bulges on its straights', () => {
    const bay = jointedBay([straightPipe({ joints: { from: at('corner') } })], [], [turboPort({ outsideDiameter: 60 })])
    const hose = named(bay, 'coupler-hot-from')
    expect(gapTo(hose, [50, 405, 0])).toBeCloseTo(50 - 33, 5)
  })

  test('a clamp without a roll is a ring as high as its screw', () => {
    const clamp = named(withCoupler('short', { clamps: { port: { clamp: 'band' } } }), 'clamp-hot-from-port')
    // Hose from Y 422: band's middle at Y 411; 13 + 8 about the axis.
    expect(gapTo(clamp, [30, 411, 0])).toBeCloseTo(9, 5)
    expect(gapTo(clamp, [0, 411, -30])).toBeCloseTo(9, 5)
    expect(gapTo(clamp, [0, 420, 0])).toBeCloseTo(4, 5)
  })

  test('with a roll only its screw stands off, and never beyond that ring', () => {
    // About −Y rolls turn from Z towards −X (−Y × Z = −X).
    const clamp = named(withCoupler('short', { clamps: { port: { clamp: 'band', roll: 90 } } }), 'clamp-hot-from-port')
    expect(gapTo(clamp, [-30, 411, 0])).toBeCloseTo(9, 5)
    expect(gapTo(clamp, [30, 411, 0])).toBeCloseTo(30 - 13 - 1.5, 5)
    expect(gapTo(clamp, [0, 411, 30])).toBeGreaterThan(13)
    for (let k = 0; k < 72; k++) {
      const angle = (k * Math.PI) / 36
      const out: Vec3 = [40 * Math.cos(angle), 411, 40 * Math.sin(angle)]
      expect(gapTo(clamp, out)).toBeGreaterThanOrEqual(40 - 21 - 1e-5)
      expect(gapTo(clamp, out)).toBeLessThanOrEqual(40 - 14.5 + 1e-5)
    }
  })
})

describe('a solid holds what it stands for', () => {
  test('the screw’s prism: each face lies in its plane, and the planes look outward', () => {
    for (const roll of [0, 37, 180]) {
      const joints = { from: at('short', { clamps: { port: { clamp: 'band', roll } } }) }
      const { solid } = named(jointedBay([straightPipe({ joints })]), 'clamp-hot-from-port')
      const screw = solid.forms.find((form) => form.form === 'convex' && form.body.kind === 'polytope')
      if (screw?.form !== 'convex' || screw.body.kind !== 'polytope') throw new Error('no screw')
      const { planes, faces, vertices } = screw.body
      expect(faces).toHaveLength(9)
      for (const [f, face] of faces.entries())
        for (const i of face) {
          const [x, y, z] = vertices.subarray(3 * i, 3 * i + 3)
          const height = planes[4 * f] * x + planes[4 * f + 1] * y + planes[4 * f + 2] * z - planes[4 * f + 3]
          expect(Math.abs(height)).toBeLessThan(1e-9)
        }
    }
  })

  test('hose, hump, elbow and clamp can all be drawn', () => {
    const joints = { from: at('hump', { clamps }), to: at('corner', { clamps }) }
    const { parts } = partsOf(jointedBay([straightPipe({ joints, path: [[0, 300, 0]] })]))
    for (const { name, solid } of parts.slice(4)) {
      const { positions, triangles } = displayOf(solid, { within: solid.bounds })
      expect([name, triangles.length > 30, positions.every(Number.isFinite)]).toEqual([name, true, true])
    }
  })

  test('every point of hose and screw, for any port and joint (seed 6)', () => {
    const random = seeded(6)
    let elbows = 0
    for (let i = 0; i < 60; i++) {
      const direction = random.unit()
      const coupler = random.pick(['short', 'hump', 'corner'])
      const roll = random.real(-180, 180)
      const pipe = straightPipe({ joints: { from: at(coupler, { roll, clamps: { port: { clamp: 'band', roll } } }) } })
      const port = turboPort({ at: random.point(300) as [number, number, number], direction: [...direction] })
      const { parts } = partsOf(jointedBay([pipe], [], [port]))
      const [hose, clamp] = ['coupler-hot-from', 'clamp-hot-from-port'].map((name) =>
        parts.find((part) => part.name === name),
      )
      if (!hose || !clamp) throw new Error('not there')
      if (coupler === 'corner') elbows++
      const insertion = { short: 22, hump: 32, corner: 15 }[coupler] ?? 0
      const [u, zero] = frameOf(direction)
      for (let k = 0; k < 12; k++) {
        const angle = random.real(0, 2 * Math.PI)
        const out = add(scale(zero, Math.cos(angle)), scale(u, Math.sin(angle)))
        const over = along(port.at, direction, -random.real(0.1, insertion))
        expect(gapTo(hose, along(over, out, 12.99))).toBeLessThan(1e-5)
        expect(gapTo(hose, along(over, out, 19))).toBeGreaterThan(1)
        const middle = along(port.at, direction, 11 - insertion)
        expect(gapTo(clamp, along(middle, out, 14.4))).toBeLessThan(1e-5)
      }
      const screw = (roll * Math.PI) / 180
      const top = add(scale(zero, Math.cos(screw)), scale(u, Math.sin(screw)))
      const middle = along(port.at, direction, 11 - insertion)
      expect(gapTo(clamp, along(middle, top, 20.99))).toBeLessThan(1e-5)
      expect(gapTo(clamp, along(middle, top, -16))).toBeGreaterThan(1)
    }
    expect(elbows).toBeGreaterThan(5)
  })

  /** Sideways and zero of a roll about a direction, written apart from joints.ts. */
  function frameOf(d: Vec3): [Vec3, Vec3] {
    const across = Math.hypot(d[0], d[1])
    const zero: Vec3 = [(-d[2] * d[0]) / across, (-d[2] * d[1]) / across, across]
    return [cross(d, zero), zero]
  }
})

describe('tolerance', () => {
  const of = (bay: Bay) => Object.fromEntries(partsOf(bay).parts.map(({ name, tolerance }) => [name, tolerance]))

  test('the coupler’s own, and how far the pipe lies beside it', () => {
    const joints = { from: at('short', { end: [3, 396, 4], clamps }), to: at('short') }
    const bay = jointedBay([straightPipe({ joints, path: [[0, 300, 0]], tolerance: 2 })])
    const couplers = [{ ...shortHose, tolerance: 0.5 }]
    const found = of({ ...bay, stock: { ...bay.stock, couplers } })
    expect(found['coupler-hot-from']).toBeCloseTo(5.5, 9)
    expect(found['clamp-hot-from-pipe']).toBeCloseTo(5.5, 9)
    expect(found['coupler-hot-to']).toBeCloseTo(0.5, 9)
    expect(found['pipe-hot']).toBe(2)
  })

  test('movement of a port is carried by the whole run, once, the larger of two', () => {
    const joints = { from: at('short', { clamps }), to: at('short') }
    const bay = jointedBay([straightPipe({ joints, tolerance: 2 })], [], [turboPort({ movement: 7 })])
    expect(of(bay)).toEqual({
      core: 0,
      'tank-right': 0,
      'stub-right-p': 0,
      'pipe-hot': 9,
      'coupler-hot-from': 7,
      'clamp-hot-from-port': 7,
      'clamp-hot-from-pipe': 7,
      'coupler-hot-to': 7,
    })
    const ports = [turboPort({ movement: 7 }), turboPort({ id: 'far', at: [0, 100, 90], direction: [0, 1, 0] })]
    const between = straightPipe({ to: 'far', path: [[0, 250, 45]] })
    expect(of(jointedBay([between], [], ports))['pipe-hot']).toBe(7)
    const both = [ports[0], { ...ports[1], movement: 11 }]
    expect(of(jointedBay([between], [], both))['pipe-hot']).toBe(11)
  })
})
