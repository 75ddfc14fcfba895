import { describe, expect, test } from 'vitest'
import { jointedBay, straightPipe, turboPort } from '../../../test/kit/jointedBay.ts'
import { mountedBay, plate, stud } from '../../../test/kit/mountedBay.ts'
import { bareCandidate, tinyBay } from '../../../test/kit/tinyBay.ts'
import type { Bay } from '../../bay/schema.ts'
import { densityOf } from './density.ts'
import { sheetFacts } from './facts.ts'
import type { PartFact } from './sheetFacts.ts'

function partsOf(bay: Bay): readonly PartFact[] {
  const facts = sheetFacts(bay, undefined, new Map())
  if (!facts.ok) throw new Error(JSON.stringify(facts.faults))
  return facts.value.parts
}
const partNamed = (bay: Bay, name: string): PartFact => {
  const found = partsOf(bay).find(({ part }) => part === name)
  if (!found) throw new Error(`no ${name}`)
  return found
}

/** A 90° bend of checks A6.6 (CLR 95.25, OD 63.5, t 1.6) with 204.75 and 104.75 mm of straight beside it. */
const bentBay = (material: string, change: Partial<Bay> = {}): Bay => ({
  ...jointedBay(
    [
      straightPipe({
        outsideDiameter: 63.5,
        wall: 1.6,
        bendRadius: 95.25,
        path: [[0, 400, 0]],
        tube: 'tube',
      }),
    ],
    [],
    [turboPort({ at: [300, 400, 0], direction: [-1, 0, 0] })],
  ),
  stock: { tubes: [{ id: 'tube', name: 'Tube', outsideDiameter: 63.5, wall: 1.6, material }] },
  ...change,
})
/** Metal of that bend, mm³, and kg of it at 2700 and 7850 kg/m³: checks A6.6 (Pappus). */
const bend = { metal: 46552.7526, aluminium: 0.12569, steel: 0.36544 }
/** π(ro² − ri²) of the straights. */
const straights = (204.75 + 104.75) * Math.PI * (31.75 ** 2 - 30.15 ** 2)

describe('pipes', () => {
  test('the metal of a bent tube by Pappus, and its mass at a handbook’s density (checks A6.6)', () => {
    const pipe = partNamed(bentBay('aluminium 6060'), 'pipe-hot')
    expect(pipe.metal).toBeCloseTo(bend.metal + straights, 3)
    const share = (straights + bend.metal) / bend.metal
    expect(pipe.mass?.atLeast).toBeLessThan(bend.aluminium * share)
    expect(pipe.mass?.atMost).toBeGreaterThan(bend.aluminium * share)
    // Grade known: within 1.2 %.
    expect((pipe.mass?.atMost ?? 9) / (pipe.mass?.atLeast ?? 1)).toBeLessThan(1.012)
    const steel = partNamed(bentBay('mild steel'), 'pipe-hot')
    expect(steel.mass?.atLeast).toBeLessThan(bend.steel * share)
    expect(steel.mass?.atMost).toBeGreaterThan(bend.steel * share)
  })

  test('a material that is not known has no mass, nor has a pipe without a tube', () => {
    const odd = partNamed(bentBay('unobtainium'), 'pipe-hot')
    expect(odd).toMatchObject({ material: 'unobtainium', density: null, mass: null })
    expect(odd.metal).toBeGreaterThan(0)
    const bare = jointedBay([straightPipe()])
    expect(partNamed(bare, 'pipe-hot')).toMatchObject({ material: null, mass: null })
  })

  test('an elbow that is welded in is a line of its own, and no part of the tube', () => {
    const elbow = {
      id: 'cast',
      name: 'Cast',
      outsideDiameter: 63.5,
      wall: 1.6,
      material: 'steel',
      angle: 90,
      radius: 95.25,
    }
    const bay = bentBay('steel', {
      stock: {
        tubes: [{ id: 'tube', name: 'Tube', outsideDiameter: 63.5, wall: 1.6, material: 'steel' }],
        elbows: [{ ...elbow, legs: [10, 20] }],
      },
    })
    const [candidate] = bay.candidates
    const [pipe] = candidate.pipes ?? []
    const welded = {
      ...bay,
      candidates: [{ ...candidate, pipes: [{ ...pipe, elbows: [{ corner: 0, elbow: 'cast' }] }] }],
    }
    const area = Math.PI * (31.75 ** 2 - 30.15 ** 2)
    expect(partNamed(welded, 'cast')).toMatchObject({ kind: 'elbow', count: 1, name: 'Cast' })
    expect(partNamed(welded, 'cast').metal).toBeCloseTo(bend.metal + 30 * area, 3)
    expect(partNamed(welded, 'pipe-hot').metal).toBeCloseTo(straights - 30 * area, 3)
  })
})

test('a tank’s volume is that of the prismatoid (checks A6.1), core and stubs are as drawn, and none has a mass', () => {
  const tank = { length: 80, front: 0, rear: 0, below: 0, above: 0, taper: { depth: 60 / 76, height: 60 / 300 } }
  const port = { id: 'p', face: 'end', u: 0, v: 0, outsideDiameter: 50, length: 30 } as const
  const bay = tinyBay(
    [],
    bareCandidate({ core: { depth: 76, width: 200, height: 300 }, tanks: { left: { ...tank, ports: [port] } } }),
  )
  expect(partNamed(bay, 'tank-left').volume).toBeCloseTo(1004800, 6)
  expect(partNamed(bay, 'tank-left').size?.map((x) => Number(x.toFixed(6)))).toEqual([76, 80, 300])
  expect(partNamed(bay, 'core').volume).toBeCloseTo(76 * 200 * 300, 6)
  expect(partNamed(bay, 'stub-left-p').volume).toBeCloseTo(Math.PI * 25 ** 2 * 30, 6)
  expect(partsOf(bay).every(({ mass }) => mass === null)).toBe(true)
})

test('sizes are along the candidate’s own axes, however it is turned', () => {
  const turned = partNamed(tinyBay([], bareCandidate({ turn: [10, 20, 30] })), 'core')
  expect(turned.size?.map((x) => Number(x.toFixed(9)))).toEqual([100, 200, 80])
})

test('hoses and clamps are counted by what is in stock, fasteners by what they are and their diameter', () => {
  const clamps = { port: { clamp: 'band' }, pipe: { clamp: 'band' } }
  const joint = { kind: 'coupler', coupler: 'short', gap: 4, clamps } as const
  const piped = partsOf(jointedBay([straightPipe({ joints: { from: joint, to: joint } })]))
  expect(piped.filter(({ kind }) => kind === 'coupler')).toMatchObject([
    { part: 'short', name: 'Short hose', count: 2 },
  ])
  expect(piped.filter(({ kind }) => kind === 'clamp')).toMatchObject([
    { part: 'band', name: 'Band', count: 4, mass: null },
  ])

  const fasteners = (kind: 'stud' | 'thread' | 'hole', hole: object = {}) =>
    partsOf(mountedBay([plate({}, hole)], [stud({ kind })]))
      .filter((part) => part.kind === 'bolt' || part.kind === 'nut')
      .map(({ kind: what, count, diameter }) => `${count} ${what} ${diameter}`)
  expect(fasteners('stud')).toEqual(['1 nut 8'])
  expect(fasteners('thread')).toEqual(['1 bolt 8'])
  expect(fasteners('hole', { bolt: 6 })).toEqual(['1 bolt 6', '1 nut 6'])
})

describe('densities, kg/m³', () => {
  /*
   * Callister, Materials Science and Engineering, table B.1 (in extracts): 6061 2700, 7075 2800, 1100 2710, 1020 7850, 304 8000,
   * 405 7800, 17-7PH 7650, titanium 4510; aluminium casting alloy 360: 2640 (trade table).
   */
  test.each([
    ['aluminium 6061', 2700],
    ['Aluminum 6061-T6', 2700],
    ['aluminium 7075', 2800],
    ['aluminium 1100', 2710],
    ['EN AW-6060', 2700],
    ['aluminium casting 360', 2640],
    ['mild steel', 7850],
    ['stainless steel 1.4301', 7900],
    ['stainless steel 304', 8000],
    ['stainless 405', 7800],
    ['Stainless 17-7PH', 7650],
    ['titanium grade 2', 4510],
  ])('%s has %d within its range', (name, expected) => {
    const density = densityOf(name)
    expect(density?.atLeast).toBeLessThanOrEqual(expected)
    expect(density?.atMost).toBeGreaterThanOrEqual(expected)
    expect(density?.source).not.toBe('')
  })

  test.each(['6061', '4130', 'aluminium bronze', 'steel and silicone', 'aluminised', 'carbon fibre', '', 'steel mesh'])(
    '“%s” is not guessed at',
    (name) => expect(densityOf(name)).toBeNull(),
  )
})
