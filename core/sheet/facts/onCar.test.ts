import { describe, expect, test } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../../test/kit/tinyBay.ts'
import type { Bay, KeepOut } from '../../bay/schema.ts'
import { sheetFacts } from './facts.ts'
import { combined, gaugeFor, tapeError } from './gauges.ts'
import { chosenPairs, rangeOf } from './onCar.ts'
import type { SheetFacts } from './sheetFacts.ts'

function factsOf(
  keepOuts: KeepOut[],
  change: Parameters<typeof bareCandidate>[0] = {},
  more: Partial<Bay> = {},
): SheetFacts {
  const facts = sheetFacts({ ...tinyBay(keepOuts, bareCandidate(change)), ...more }, undefined, new Map())
  if (!facts.ok) throw new Error(JSON.stringify(facts.faults))
  return facts.value
}

/** The bare core reaches to X −50: a plate in front of it, 20 mm off, as wide and high as the core. */
const plate = (change: Partial<KeepOut> = {}, x = -75): KeepOut =>
  keepOut('plate', { kind: 'box', at: [x, 0, 0], size: [10, 200, 80] }, change)

describe('uncertainties are combined as the guide has it', () => {
  test('a clearance from two hook readings, setting and part tolerance: U 1.587451 (checks C3.9)', () => {
    // 0.7 each of two class II tapes, 0.3 (1 σ) of setting, ±0.8 of the part; u = 0.793725.
    expect(combined([0.6], [0.7, 0.7, 0.8])).toBeCloseTo(1.587451, 6)
  })

  test('a tape of class II from its hook (checks C1.2)', () => {
    expect([0, 650, 1000, 2000].map(tapeError)).toEqual([0.7, 0.7, 0.7, 0.9].map((x) => expect.closeTo(x, 9)))
  })
})

const pair = {
  part: 'core',
  keepOut: 'plate',
  role: 'body',
  error: 0.001,
  gap: 20,
  tolerance: 3,
  movement: 2,
  uncertainty: 2,
  required: 10,
  margin: 4.999,
  verdict: 'clears',
  onPart: [-50, 0, 0],
  onKeepOut: [-70, 0, 0],
} as const

describe('what agrees, and what is enough', () => {
  test('a budget by hand', () => {
    /*
     * Engine at rest: of the tolerance 3 − 2 = 1 may be off, rectangular: u = 0.57735. Keep-out U 2: u = 1. Gauge ±0.5: u = 0.288675.
     * u_c = √(1 + 0.333333 + 0.083333) = 1.190238, U = 2.380476. Low end less the numerical error.
     * At least: 10 + 2 (ports move) + 1.644854 · 0.288675 = 12.474828.
     */
    const { predicted, low, high, least } = rangeOf(pair, { error: 0.5 })
    expect(predicted).toBe(20)
    expect(low).toBeCloseTo(20 - 0.001 - 2.380476, 6)
    expect(high).toBeCloseTo(20 + 2.380476, 6)
    expect(least).toBeCloseTo(12.474828, 5)
  })

  test('the guard of ISO 14253-1: with u 0.793725 a gap of 12 proves 10, one of 11 does not (checks C4.4)', () => {
    // A rectangular error of √3 · 0.793725 has that standard uncertainty; g = 1.3057.
    const { least } = rangeOf({ ...pair, movement: 0 }, { error: Math.sqrt(3) * 0.793725 })
    expect(least).toBeCloseTo(11.3057, 3)
    expect(12).toBeGreaterThan(least)
    expect(11).toBeLessThan(least)
  })

  test('a gap cannot be below nothing', () => {
    expect(rangeOf({ ...pair, gap: 1 }, { error: 0.5 }).low).toBe(0)
  })
})

test('the gauge goes by size and by how far in the gap lies', () => {
  const chosen = (gap: number, reach: number) => gaugeFor(gap, reach).gauge
  expect([0.5, 2, 2.1, 15, 15.1, 150, 150.1].map((gap) => chosen(gap, 10))).toEqual([
    ...['feeler gauge', 'feeler gauge', 'gap gauge', 'gap gauge'],
    ...['calliper', 'calliper', 'tape'],
  ])
  // Inside jaws do not get so far.
  expect(gaugeFor(20, 80)).toEqual({ gauge: 'gap gauge', error: 0.5 })
})

describe('which pairs are measured', () => {
  const ofMargin = (margin: number, keepOutId: string, more: object = {}) =>
    ({ ...pair, margin, keepOut: keepOutId, ...more }) as never
  const names = (pairs: readonly { keepOut: string; margin: number }[]) =>
    pairs.map(({ keepOut: k, margin }) => `${k} ${margin}`)

  test('all that is not proved, the tightest of safety and lamps however far, two of each of the rest', () => {
    const pairs = [
      ofMargin(-20, 'met', { verdict: 'fouls', gap: 0, overlap: { depth: 9, kind: 'exact' } }),
      ofMargin(-3, 'a', { verdict: 'short' }),
      ofMargin(-2, 'a', { verdict: 'unproved' }),
      ofMargin(-1, 'a', { verdict: 'unproved' }),
      ofMargin(1, 'b'),
      ofMargin(2, 'b'),
      ofMargin(3, 'b'),
      ofMargin(4, 'a'),
      ofMargin(4, 'other-part', { between: 'parts', role: 'part' }),
      ofMargin(31, 'c'),
      ofMargin(90, 'beam', { role: 'safety' }),
      ofMargin(95, 'beam', { role: 'safety' }),
      ofMargin(99, 'lamp', { role: 'lamp' }),
    ]
    expect(names(chosenPairs(pairs))).toEqual(['a -3', 'a -2', 'a -1', 'b 1', 'b 2', 'beam 90', 'lamp 99'])
  })

  test('no more than sixteen, unless more are not proved', () => {
    const many = (verdict: string, n: number) =>
      Array.from({ length: n }, (_, i) => ofMargin(i, `${verdict}-${i}`, { verdict }))
    expect(chosenPairs(many('clears', 40))).toHaveLength(16)
    expect(chosenPairs([...many('unproved', 20), ...many('clears', 40)])).toHaveLength(20)
  })
})

describe('from where a gap is reached', () => {
  const check = (keepOuts: KeepOut[]) => factsOf(keepOuts).onCar.find(({ pair: { keepOut: id } }) => id === 'plate')
  /** Walls that close the gap in front of the core, 1 mm off it, on these sides. */
  const wall = (id: string, at: readonly [number, number, number], size: readonly [number, number, number]) =>
    keepOut(id, { kind: 'box', at: [...at], size: [...size] })
  const above = wall('above', [-60, 0, 46], [60, 220, 10])
  const below = wall('below', [-60, 0, -46], [60, 220, 10])
  const left = wall('left', [-60, -106, 0], [60, 10, 100])
  const right = wall('right', [-60, 106, 0], [60, 10, 100])

  test('from the nearest side where nothing is in the way, and never along the gap itself', () => {
    // The core is 80 high and 200 wide: the middle of the face is 40 from above and below. Witnesses need not be the middle.
    const open = check([plate()])
    expect(['below', 'above', 'left', 'right']).toContain(open?.from)
    expect(open?.reach).toBeLessThanOrEqual(40)
    expect(check([plate(), above, below, left])?.from).toBe('right')
    expect(check([plate(), above, left, right])?.from).toBe('below')
  })

  test('in clay where no straight way is left', () => {
    expect(check([plate(), above, below, left, right])).toMatchObject({ from: null, reach: null, gauge: 'clay' })
  })

  test('what comes off is checked when it is back on, what moves by moving it', () => {
    expect(check([plate({ fitting: 'comes-off' }), left])).toMatchObject({ with: 'refitted', gauge: 'clay' })
    expect(check([plate({ role: 'moving' })])).toMatchObject({ with: 'moved', gauge: 'clay' })
  })

  test('the list goes round the car in reach order', () => {
    const rear = keepOut('rear', { kind: 'box', at: [75, 0, 0], size: [10, 200, 80] })
    const sides = factsOf([plate(), rear, above, below]).onCar.map(({ from }) => from)
    const order = ['front', 'left', 'right', 'below', 'above', 'rear', null]
    expect(sides.length).toBeGreaterThan(2)
    expect(sides.map((side) => order.indexOf(side))).toEqual(
      [...sides.map((side) => order.indexOf(side))].sort((a, b) => a - b),
    )
  })
})

describe('datum checks', () => {
  test('the flat faces that look at the part, fixings and ports, with what the tape may be off', () => {
    const { datum } = factsOf(
      [
        plate({ uncertainty: 1 }),
        keepOut('askew', { kind: 'box', at: [-75, 0, 60], size: [10, 20, 10], turn: [0, 3, 0] }),
      ],
      {},
      {
        fixings: [
          { id: 'lug', name: 'Lug', kind: 'hole', at: [0, -300, 10], axis: [0, 0, 1], diameter: 8, uncertainty: 1 },
        ],
        ports: [{ id: 'turbo', name: 'Turbo', at: [200, 0, 0], direction: [1, 0, 0], outsideDiameter: 50 }],
      },
    )
    expect(datum.map(({ id, axis, predicted }) => `${id} ${axis} ${predicted}`)).toEqual([
      'plate x -70',
      ...['lug x 0', 'lug y -300', 'lug z 10'],
      ...['turbo x 200', 'turbo y 0', 'turbo z 0'],
    ])
    const lug = datum.find(({ id, axis }) => id === 'lug' && axis === 'y')
    // U 1 and a tape of ±0.7: 2 √(0.25 + 0.49/3) = 1.285820.
    expect(lug).toMatchObject({ assumed: false, gaugeError: 0.7 })
    expect(lug?.high).toBeCloseTo(-300 + 1.28582, 4)
    expect(lug?.low).toBeCloseTo(-300 - 1.28582, 4)
    expect(datum.find(({ id }) => id === 'turbo')).toMatchObject({ assumed: true, uncertainty: 3 })
  })
})
