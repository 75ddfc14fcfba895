import { describe, expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { centrelineLength, pieceLength, pointAlong } from '../shape/centreline.ts'
import { add, along, cross, distance, dot, length, sub, turned, turnMatrix, unit } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import { jointAt, rolled, rollZero, strayOf } from './joints.ts'
import type { PortPlace, ResolvedJoint } from './joints.ts'
import type { Clamp, Coupler, CouplerJoint } from './workshopSchema.ts'

type Straight = Extract<Coupler, { form: 'straight' }>
type Elbow = Extract<Coupler, { form: 'elbow' }>
const takes = { largestAngle: 4, largestOffset: 3, largestGap: 10 }
const straight = (change: Partial<Straight> = {}): Straight => ({
  form: 'straight',
  id: 'hose',
  name: 'Hose',
  insideDiameters: [57, 57],
  wall: 5,
  insertion: 25,
  length: 76,
  ...takes,
  ...change,
})
const elbow = (change: Partial<Elbow> = {}): Elbow => ({
  form: 'elbow',
  id: 'hose',
  name: 'Elbow',
  insideDiameters: [57, 57],
  wall: 5,
  insertion: 30,
  angle: 90,
  radius: 60,
  legs: [70, 100],
  ...takes,
  ...change,
})
const clamp: Clamp = { id: 'band', name: 'Band', least: 60, most: 80, band: 12, height: 9 }
const port = (change: Partial<PortPlace> = {}): PortPlace => ({
  at: [0, 0, 0],
  direction: [1, 0, 0],
  outsideDiameter: 57,
  ...change,
})

function joined(
  coupler: Coupler,
  more: Partial<CouplerJoint> = {},
  at: PortPlace = port(),
  diameter = 57,
): ResolvedJoint {
  const joint = { kind: 'coupler' as const, coupler: 'hose', ...more }
  const made = jointAt(at, joint, diameter, { couplers: [coupler], clamps: [clamp] })
  if (!made) throw new Error('not in stock')
  return made
}
const near = (found: Vec3, wanted: Vec3, within = 1e-9) => expect(distance(found, wanted)).toBeLessThan(within)
const ends = ({ axis }: ResolvedJoint): [Vec3, Vec3] => [
  pointAlong(axis[0], 0).point,
  pointAlong(axis[axis.length - 1], 1).point,
]

describe('rolls', () => {
  test('count from above, or from the rear where the direction is steep', () => {
    near(rollZero([1, 0, 0]), [0, 0, 1])
    near(rollZero([0, -1, 0]), [0, 0, 1])
    near(rollZero([0, 0, 1]), [1, 0, 0])
    near(rollZero([0, 0, -1]), [1, 0, 0])
    near(rollZero(unit([3, 0, 4])), unit([-4, 0, 3]))
  })

  test('the change-over lies 2.5° from Z', () => {
    const leaning = (degrees: number): Vec3 => [
      0,
      Math.sin((degrees * Math.PI) / 180),
      Math.cos((degrees * Math.PI) / 180),
    ]
    near(rollZero(leaning(2.49)), [1, 0, 0])
    near(rollZero(leaning(2.51)), [0, -Math.cos((2.51 * Math.PI) / 180), Math.sin((2.51 * Math.PI) / 180)])
  })

  test('turn right-handed about the direction: about X from Z towards −Y', () => {
    near(rolled([1, 0, 0], 90), [0, -1, 0])
    near(rolled([1, 0, 0], -90), [0, 1, 0])
    near(rolled([0, 1, 0], 90), [1, 0, 0])
    near(rolled([0, 0, 1], 90), [0, 1, 0])
    near(rolled([1, 0, 0], 450), [0, -1, 0])
  })

  test('square to every direction and unit (seed 1)', () => {
    const random = seeded(1)
    for (let i = 0; i < 2000; i++) {
      const d = random.unit()
      const [zero, roll] = [rollZero(d), random.real(-720, 720)]
      const r = rolled(d, roll)
      expect(Math.abs(dot(r, d))).toBeLessThan(1e-12)
      expect(Math.abs(length(r) - 1)).toBeLessThan(1e-12)
      expect(Math.abs(dot(r, zero) - Math.cos((roll * Math.PI) / 180))).toBeLessThan(1e-9)
      expect(Math.abs(dot(cross(zero, r), d) - Math.sin((roll * Math.PI) / 180))).toBeLessThan(1e-9)
    }
  })
})

// By hand: port at the origin, looking along X.
describe('straight couplers and humps', () => {
  test('76 long with the tubes 6 apart: 35 over each', () => {
    const made = joined(straight(), { gap: 6 })
    expect(made).toMatchObject({ insertion: { port: 35, pipe: 35 }, gap: 6, offset: 0, passed: 6, length: 76 })
    expect(ends(made)).toEqual([
      [-35, 0, 0],
      [41, 0, 0],
    ])
    expect(made.end).toEqual([6, 0, 0])
    expect(made.outlet).toEqual({ at: [6, 0, 0], direction: [1, 0, 0] })
    expect(joined(straight())).toMatchObject({ insertion: { port: 38, pipe: 38 }, gap: 0, passed: 0, end: [0, 0, 0] })
  })

  test('an end of the pipe of its own: the hose stands in the middle of what is open', () => {
    const made = joined(straight(), { end: [8, 3, -4] })
    expect(made).toMatchObject({ gap: 8, offset: 5, passed: 8, end: [8, 3, -4], insertion: { port: 34, pipe: 34 } })
    expect(made.outlet).toEqual({ at: [8, 0, 0], direction: [1, 0, 0] })
  })

  test('with a gap as well, the hose stays where the gap puts it', () => {
    const made = joined(straight(), { gap: 6, end: [10, 0, 2] })
    expect(made).toMatchObject({ gap: 10, offset: 2, passed: 10, insertion: { port: 35, pipe: 31 } })
    expect(made.outlet.at).toEqual([6, 0, 0])
  })

  test('tubes that would overlap or are out of reach are told, not refused', () => {
    expect(joined(straight(), { end: [-5, 0, 0] })).toMatchObject({
      gap: -5,
      passed: 0,
      insertion: { port: 38, pipe: 43 },
    })
    expect(joined(straight(), { end: [100, 0, 0] })).toMatchObject({ gap: 100, insertion: { port: 0, pipe: -24 } })
  })

  test('the end whose bore is nearer goes over the port', () => {
    const reducing = straight({ insideDiameters: [50, 57] })
    expect(joined(reducing).turned).toBe(true)
    expect(joined(reducing, {}, port({ outsideDiameter: 50 })).turned).toBe(false)
    expect(joined(reducing, {}, port({ outsideDiameter: 53.5 })).turned).toBe(false)
    expect(joined(straight()).turned).toBe(false)
  })

  test('what is not in stock is no joint', () => {
    const joint = { kind: 'coupler' as const, coupler: 'hose' }
    expect(jointAt(port(), joint, 57, undefined)).toBeNull()
    expect(jointAt(port(), { ...joint, coupler: 'other' }, 57, { couplers: [straight()] })).toBeNull()
    const clamped = { ...joint, clamps: { pipe: { clamp: 'none' } } }
    expect(jointAt(port(), clamped, 57, { couplers: [straight()], clamps: [clamp] })).toBeNull()
  })
})

describe('elbows', () => {
  // Leg 70 less 30 inserted: arc from X 40 to (100, 60) in the plane of the roll, then 100 less 30 to the pipe's end.
  test('of 90° by hand, and a roll of 90° more', () => {
    const up = joined(elbow())
    near(up.end, [100, 0, 130])
    near(up.outlet.direction, [0, 0, 1])
    expect(up).toMatchObject({ insertion: { port: 30 }, gap: 0, offset: 0 })
    expect(up.insertion.pipe).toBeCloseTo(30, 9)
    expect(up.length).toBeCloseTo(70 + 30 * Math.PI + 100, 9)
    expect(up.passed).toBeCloseTo(40 + 30 * Math.PI + 70, 9)
    near(ends(up)[0], [-30, 0, 0])
    near(ends(up)[1], [100, 0, 160])
    near(joined(elbow(), { roll: 90 }).end, [100, -130, 0])
    near(joined(elbow(), { roll: 90 }).outlet.direction, [0, -1, 0])
  })

  test('turned round, the other leg is over the port', () => {
    const made = joined(elbow({ insideDiameters: [50, 57] }), {}, port(), 50)
    expect(made.turned).toBe(true)
    near(made.end, [130, 0, 100])
  })

  test('of 180°, which has no corner', () => {
    const made = joined(elbow({ angle: 180 }))
    near(made.outlet.direction, [-1, 0, 0])
    near(made.end, [40 - 70, 0, 120])
  })

  test('an end of the pipe of its own: along the way on it is a gap, across an offset', () => {
    const made = joined(elbow(), { end: [101, 2, 134] })
    expect(made.gap).toBeCloseTo(4, 9)
    expect(made.offset).toBeCloseTo(Math.hypot(1, 2), 9)
    expect(made.insertion.pipe).toBeCloseTo(26, 9)
    expect(made.passed).toBeCloseTo(40 + 30 * Math.PI + 74, 9)
    expect(made.end).toEqual([101, 2, 134])
  })

  /** Yaw and pitch take X to the port's direction and Z to where rolls count from; Rx is the roll itself. */
  test('as corner and rotation matrices place it (seed 2)', () => {
    const random = seeded(2)
    let obtuse = 0
    for (let i = 0; i < 500; i++) {
      const [yaw, pitch, roll] = [random.real(-180, 180), random.real(-87, 87), random.real(-360, 360)]
      const [angle, radius] = [random.real(5, 175), random.real(40, 120)]
      const legs: [number, number] = [random.real(35, 120), random.real(35, 120)]
      const at = random.point(1000)
      const turn = turnMatrix([0, -pitch, yaw])
      const tangent = radius * Math.tan((angle * Math.PI) / 360)
      const inRoll = turned(turnMatrix([roll, 0, 0]), [
        Math.cos((angle * Math.PI) / 180),
        0,
        Math.sin((angle * Math.PI) / 180),
      ])
      const corner: Vec3 = [legs[0] - 30 + tangent, 0, 0]
      const end = add(at, turned(turn, along(corner, inRoll, tangent + legs[1] - 30)))
      const made = joined(elbow({ angle, radius, legs }), { roll }, port({ at, direction: turned(turn, [1, 0, 0]) }))
      near(made.end, end, 1e-8)
      near(made.outlet.direction, turned(turn, inRoll), 1e-11)
      if (angle > 90) obtuse++
    }
    expect(obtuse).toBeGreaterThan(150)
    expect(obtuse).toBeLessThan(350)
  })

  test('a mirror image has its roll’s sign turned (seed 3)', () => {
    const random = seeded(3)
    const flip = ([x, y, z]: Vec3): Vec3 => [x, -y, z]
    for (let i = 0; i < 200; i++) {
      const [at, direction, roll] = [random.point(500), random.unit(), random.real(-180, 180)]
      const clamps = { pipe: { clamp: 'band', roll: random.real(-180, 180) } }
      const mirrored = { pipe: { clamp: 'band', roll: -clamps.pipe.roll } }
      const right = joined(elbow({ angle: 45 }), { roll, clamps }, port({ at, direction }))
      const left = joined(
        elbow({ angle: 45 }),
        { roll: -roll, clamps: mirrored },
        port({ at: flip(at), direction: flip(direction) }),
      )
      near(left.end, flip(right.end))
      near(left.outlet.direction, flip(right.outlet.direction))
      near(left.clamps[0].screw ?? [0, 0, 0], flip(right.clamps[0].screw ?? [1, 1, 1]))
    }
  })

  test('the axis runs smoothly from end to end (seed 4)', () => {
    const random = seeded(4)
    for (let i = 0; i < 200; i++) {
      const made = joined(
        elbow({ angle: random.real(1, 180), radius: random.real(40, 90) }),
        { roll: random.real(0, 360) },
        port({ at: random.point(500), direction: random.unit() }),
      )
      made.axis.slice(1).forEach((piece, k) => {
        const [before, after] = [pointAlong(made.axis[k], 1), pointAlong(piece, 0)]
        near(before.point, after.point)
        near(before.direction, after.direction)
      })
      expect(centrelineLength(made.axis)).toBeCloseTo(made.length, 9)
      expect(pieceLength(made.axis[0])).toBeCloseTo(70, 9)
    }
  })
})

describe('clamps', () => {
  const clamps = { port: { clamp: 'band', roll: 90 }, pipe: { clamp: 'band' } }

  // Band 12: its middle 6 + 6 from either end of the hose (checks D3.6); it closes on tube and twice the wall (D3.11).
  test('stand 6 mm from the hose’s ends and close on the tube and the hose round it', () => {
    const made = joined(straight(), { gap: 6, clamps }, port(), 55)
    expect(made.clamps).toHaveLength(2)
    expect(made.clamps[0]).toMatchObject({ on: 'port', at: [-23, 0, 0], axis: [1, 0, 0], along: 12, closesOn: 67 })
    near(made.clamps[0].screw ?? [0, 0, 0], [0, -1, 0])
    expect(made.clamps[1]).toMatchObject({ on: 'pipe', at: [29, 0, 0], screw: null, along: 64, closesOn: 65 })
    // 63.5 + 2 × 5 = 73.5, checks D3.11.
    const wide = joined(straight({ insideDiameters: [63.5, 63.5] }), { clamps }, port({ outsideDiameter: 63.5 }), 63.5)
    expect(wide.clamps[0].closesOn).toBe(73.5)
  })

  test('on an elbow the pipe’s clamp goes by the way that the pipe leaves', () => {
    const made = joined(elbow(), { clamps: { pipe: { clamp: 'band', roll: 0 } } })
    near(made.clamps[0].at, [100, 0, 148])
    near(made.clamps[0].axis, [0, 0, 1])
    near(made.clamps[0].screw ?? [0, 0, 0], [1, 0, 0])
  })
})

describe('how far the pipe strays from the hose', () => {
  test('by its offset, or by its lean at the hose’s end, whichever is more', () => {
    expect(strayOf(joined(straight()), null)).toBe(0)
    expect(strayOf(joined(straight()), [500, 0, 0])).toBe(0)
    expect(strayOf(joined(straight(), { end: [0, 2, 0] }), null)).toBe(2)
    // 38 into the hose at 3 in 5 off the axis: 38 · 0.6.
    expect(strayOf(joined(straight()), [400, 300, 0])).toBeCloseTo(38 * 0.6, 9)
    // Leaning back over the axis it is nowhere further off than at its end.
    expect(strayOf(joined(straight(), { end: [0, 2, 0] }), [380, -18, 0])).toBeCloseTo(2, 9)
  })

  test('never less than any point of the pipe within the hose (seed 5)', () => {
    const random = seeded(5)
    for (let i = 0; i < 300; i++) {
      const end: [number, number, number] = [random.real(0, 10), random.real(-5, 5), random.real(-5, 5)]
      const next = add(end, [random.real(50, 300), random.real(-40, 40), random.real(-40, 40)])
      const made = joined(straight(), { end })
      const stray = strayOf(made, next)
      const way = unit(sub(next, end))
      for (let k = 0; k <= 10; k++) {
        const [, y, z] = along(end, way, (k / 10) * made.insertion.pipe)
        expect(Math.hypot(y, z)).toBeLessThanOrEqual(stray + 1e-9)
      }
    }
  })
})
