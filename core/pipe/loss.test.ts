import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { FaultError } from '../fault.ts'
import { airAt } from './fluid.ts'
import { chainLoss, pipeLoss } from './loss.ts'
import type { LossInput } from './loss.ts'

const straight = (change: Partial<LossInput>): LossInput => ({
  outsideDiameter: 63.5,
  wall: 1.6,
  developed: 800,
  bends: [],
  fluid: airAt(330, 2e5),
  massFlow: 0.2,
  ...change,
})

const foot = 304.8
const pound = 0.45359237

describe('worked examples of straight pipes', () => {
  test('Çengel & Cimbala, example 8-3 (E4.8): 11.8 psi', () => {
    const density = (62.36 * pound) / 0.3048 ** 3
    const loss = pipeLoss({
      outsideDiameter: 52.8,
      wall: 1,
      developed: 200 * foot,
      bends: [],
      roughness: 7e-6 * foot,
      fluid: { density, viscosity: (7.536e-4 * pound) / 0.3048 },
      massFlow: density * 0.2 * 0.3048 ** 3,
    })
    expect(loss.speed / 0.3048).toBeCloseTo(9.17, 2)
    expect(Math.abs(loss.reynolds / 126_400 - 1)).toBeLessThan(0.005)
    const psi = [loss.atLeast / 6894.757, loss.atMost / 6894.757]
    for (const end of psi) expect(Math.abs(end / 11.798 - 1)).toBeLessThan(0.005)
  })

  test('the same in SI (E4.9): 96.20 kPa', () => {
    const loss = pipeLoss({
      outsideDiameter: 54,
      wall: 2,
      developed: 60_000,
      bends: [],
      roughness: 0.002,
      fluid: { density: 999, viscosity: 1.138e-3 },
      massFlow: 0.006 * 999,
    })
    expect(loss.speed).toBeCloseTo(3.056, 3)
    expect(Math.abs(loss.reynolds / 134_126 - 1)).toBeLessThan(0.005)
    for (const end of [loss.atLeast, loss.atMost]) expect(Math.abs(end / 96_200 - 1)).toBeLessThan(0.005)
  })

  test('White, example 6.7 (E4.10): 117 m of oil', () => {
    const loss = pipeLoss({
      outsideDiameter: 210,
      wall: 5,
      developed: 500_000,
      bends: [],
      roughness: 0.26,
      fluid: { density: 900, viscosity: 900 * 1e-5 },
      massFlow: 900 * 0.2,
    })
    expect(loss.speed).toBeCloseTo(6.37, 2)
    expect(Math.abs(loss.reynolds / 128_000 - 1)).toBeLessThan(0.02)
    for (const end of [loss.atLeast, loss.atMost]) expect(Math.abs(end / (900 * 9.80665) / 117 - 1)).toBeLessThan(0.02)
  })

  test('air in a bore of 60.3 mm (E7.7): speed, Reynolds and Mach number', () => {
    const loss = pipeLoss(straight({ outsideDiameter: 63.5, wall: 1.6 }))
    expect(Math.abs(loss.speed / 33.17 - 1)).toBeLessThan(1e-3)
    expect(Math.abs(loss.reynolds / 2.128e5 - 1)).toBeLessThan(1e-3)
    expect(Math.abs((loss.mach as number) / 0.0911 - 1)).toBeLessThan(1e-3)
  })
})

test('bends are items of their own; friction is that of the straights alone', () => {
  const bends = [{ radius: 95.25, angle: 90, point: 1 }]
  const arc = 95.25 * (Math.PI / 2)
  const bent = pipeLoss(straight({ developed: 800 + arc, bends }))
  const plain = pipeLoss(straight({ developed: 800 }))
  expect(bent.items.map(({ what, point }) => [what, point])).toEqual([
    ['friction', undefined],
    ['bend', 1],
  ])
  expect(bent.items[0].atLeast).toBeCloseTo(plain.atLeast, 9)
  const dynamic = 1161.5 // E7.7
  expect(bent.items[1].atLeast / dynamic).toBeGreaterThan(0.19)
  expect(bent.items[1].atMost / dynamic).toBeLessThan(0.27)
})

test('an elbow coupler is a bend, a reducing one a step that hangs on the way of the flow', () => {
  const ends = [{ end: 'from', straight: 0, portBore: 50, bend: { radius: 90, angle: 45 } }] as const
  const out = pipeLoss(straight({ ends }))
  expect(out.items.map(({ what, end }) => [what, end])).toEqual([
    ['friction', undefined],
    ['bend', 'from'],
    ['widening', 'from'],
  ])
  const back = pipeLoss(straight({ ends, forward: false }))
  expect(back.items[2].what).toBe('narrowing')
  // Of the narrower bore's speed: (60.3/50)⁴ times the pipe's.
  const areas = (50 / 60.3) ** 2
  expect(out.items[2].atMost).toBeCloseTo(((1 - areas) ** 2 * 1161.5) / areas ** 2, -1)
})

describe('beyond what the methods were made for', () => {
  const codes = (change: Partial<LossInput>) => pipeLoss(straight(change)).notes.map(({ code }) => code)
  const bends = [{ radius: 95, angle: 90, point: 2 }]
  const oil = { density: 850, viscosity: 0.05 }
  test('nothing to say within', () => expect(codes({ bends })).toEqual([]))
  test('laminar in bends', () => {
    expect(codes({ fluid: oil, bends })).toEqual(['flow-laminar-bends'])
    expect(codes({ fluid: oil })).toEqual([])
  })
  test('between laminar and turbulent', () =>
    expect(codes({ fluid: { ...oil, viscosity: 0.0014 } })).toEqual(['flow-between']))
  test('slower than bends were measured', () => expect(codes({ massFlow: 0.15, bends })).toEqual(['flow-below-bends']))
  test('tighter than they were measured, with the corner', () => {
    const { notes } = pipeLoss(straight({ bends: [{ radius: 50, angle: 30, point: 3 }] }))
    expect(notes).toEqual([{ code: 'flow-bend-ratio', point: 3, got: 50 / 60.3 }])
  })
  test('fast, and much lost', () =>
    expect(codes({ massFlow: 0.8, developed: 20_000 })).toEqual(['flow-fast', 'flow-density']))
  test('rough', () => expect(codes({ roughness: 4 })).toEqual(['flow-rough']))
})

test.each<[string, Partial<LossInput>]>([
  ['too-small', { massFlow: 0 }],
  ['not-finite', { massFlow: Number.NaN }],
  ['not-finite', { developed: Infinity }],
  ['too-small', { developed: -1 }],
  ['too-small', { fluid: { density: 0, viscosity: 1 } }],
  ['too-small', { bends: [{ radius: 0, angle: 90 }] }],
  ['wall-too-thick', { wall: 31.75 }],
])('%s: %j', (code, change) => {
  let thrown: unknown
  try {
    pipeLoss(straight(change))
  } catch (error) {
    thrown = error
  }
  expect(thrown).toBeInstanceOf(FaultError)
  expect((thrown as FaultError).faults.map((fault) => fault.code)).toEqual([code])
})

test('a chain is the sum, and unknown where a pipe is', () => {
  const [a, b] = [pipeLoss(straight({})), pipeLoss(straight({ developed: 300 }))]
  expect(chainLoss([a, b])?.atLeast).toBeCloseTo(a.atLeast + b.atLeast, 9)
  expect(chainLoss([a, b])?.atMost).toBeCloseTo(a.atMost + b.atMost, 9)
  expect(chainLoss([a, null])).toBeNull()
  expect(chainLoss([])).toBeNull()
})

/** Even between two ends: generated doubles crowd at 0. */
const even = (low: number, high: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((k) => low + (k / 1_000_000) * (high - low))

const anyPipe = fc.record({
  developed: even(800, 4000),
  bends: fc.array(
    fc.record({
      radius: even(40, 200),
      angle: even(0, 90),
    }),
    { maxLength: 2 },
  ),
  massFlow: even(-4, 0).map((x) => 10 ** x),
  portBore: even(40, 80),
  gap: even(0, 40),
})

test('grows with flow and with length, and is the same both ways but for steps (seed 34)', () => {
  fc.assert(
    fc.property(anyPipe, even(1, 2), ({ portBore, gap, ...pipe }, more) => {
      const ends = [{ end: 'to', straight: gap, portBore }] as const
      const here = pipeLoss(straight({ ...pipe, ends }))
      const faster = pipeLoss(straight({ ...pipe, ends, massFlow: pipe.massFlow * more }))
      const longer = pipeLoss(straight({ ...pipe, ends, developed: pipe.developed * more }))
      for (const end of ['atLeast', 'atMost'] as const) {
        expect(faster[end]).toBeGreaterThanOrEqual(here[end] * (1 - 1e-12))
        expect(longer[end]).toBeGreaterThanOrEqual(here[end] * (1 - 1e-12))
      }
      expect(here.atLeast).toBeLessThanOrEqual(here.atMost)
      const turned = pipeLoss(straight({ ...pipe, bends: pipe.bends.toReversed(), forward: false }))
      const plain = pipeLoss(straight(pipe))
      expect(turned.atLeast).toBeCloseTo(plain.atLeast, 9)
      expect(turned.atMost).toBeCloseTo(plain.atMost, 9)
    }),
    { seed: 34, numRuns: 1000 },
  )
})
