import { describe, expect, test } from 'vitest'
import { band, cornerHose, humpHose, jointedBay, shortHose, straightPipe } from '../../test/kit/jointedBay.ts'
import { checkBay, readBay } from './read.ts'
import type { Bay } from './schema.ts'
import { writeBay } from './write.ts'

// biome-ignore lint/suspicious/noExplicitAny: tests put anything anywhere
type Anything = any

/** A bay with every kind of stock in use, all of it right. */
function stocked(): Bay {
  const clamps = { port: { clamp: 'band' }, pipe: { clamp: 'band', roll: 30 } }
  const pipe = straightPipe({
    tube: 'drawn',
    bender: 'shop',
    path: [
      [0, 330, 60],
      [0, 270, 60],
    ],
    elbows: [{ corner: 1, elbow: 'cast' }],
    joints: { from: { kind: 'coupler', coupler: 'short', gap: 3, clamps }, to: { kind: 'coupler', coupler: 'corner' } },
  })
  const bay = jointedBay([pipe])
  const metal = { name: 'Metal', outsideDiameter: 20, wall: 1.5, material: 'steel' }
  return {
    ...bay,
    stock: {
      tubes: [{ ...metal, id: 'drawn' }],
      elbows: [{ ...metal, id: 'cast', angle: 90, radius: 30, legs: [5, 5] }],
      couplers: [shortHose, humpHose, cornerHose],
      clamps: [band],
    },
    benders: [
      {
        id: 'shop',
        name: 'Shop',
        tools: [
          {
            outsideDiameter: 20,
            radii: [30],
            grip: 20,
            leastStraight: 10,
            leastEnd: 20,
            largestAngle: 180,
            springBackOf: [
              { material: 'steel', share: 0.02 },
              { material: 'copper', share: 0.01 },
            ],
          },
        ],
      },
    ],
  }
}
const faultsOf = (change: (bay: Anything) => void) => {
  const bay: Anything = JSON.parse(JSON.stringify(stocked()))
  change(bay)
  const read = readBay(JSON.stringify(bay, null, 1), 'my.bay.json')
  return read.ok ? [] : read.faults
}

test('a bay with all of it is read, and written and read to the same', () => {
  expect(checkBay(stocked())).toEqual({ ok: true, value: stocked() })
  expect(readBay(writeBay(stocked()))).toEqual({ ok: true, value: stocked() })
})

const pipe = 'candidates[0].pipes[0]'
type Row = [
  what: string,
  change: (bay: Anything, pipe: Anything) => void,
  code: string,
  item: string,
  field: string,
  expected: string,
  got?: unknown,
  nearest?: string,
]
const rows: Row[] = [
  [
    'a tube that is not in stock',
    (_, p) => (p.tube = 'drwan'),
    'unknown-stock',
    'hot',
    `${pipe}.tube`,
    'drawn',
    'drwan',
    'drawn',
  ],
  [
    'an elbow that is not in stock',
    (_, p) => (p.elbows[0].elbow = 'cost'),
    'unknown-stock',
    'hot',
    `${pipe}.elbows[0].elbow`,
    'the id of an elbow in stock: cast',
    'cost',
    'cast',
  ],
  [
    'a coupler that is not in stock',
    (_, p) => (p.joints.from.coupler = 'shorter'),
    'unknown-stock',
    'hot',
    `${pipe}.joints.from.coupler`,
    'short, hump, corner',
    'shorter',
    'short',
  ],
  [
    'a clamp that is not in stock',
    (_, p) => (p.joints.from.clamps.pipe.clamp = 'bands'),
    'unknown-stock',
    'hot',
    `${pipe}.joints.from.clamps.pipe.clamp`,
    'the id of a clamp in stock: band',
    'bands',
    'band',
  ],
  [
    'two tubes of one id',
    (b) => b.stock.tubes.push(b.stock.tubes[0]),
    'duplicate-id',
    'drawn',
    'stock.tubes[1].id',
    'own',
    'drawn',
  ],
  [
    'two elbows of one id',
    (b) => b.stock.elbows.push(b.stock.elbows[0]),
    'duplicate-id',
    'cast',
    'stock.elbows[1].id',
    'own',
    'cast',
  ],
  [
    'two couplers of one id',
    (b) => (b.stock.couplers[1].id = 'short'),
    'duplicate-id',
    'short',
    'stock.couplers[1].id',
    'own',
    'short',
  ],
  [
    'two clamps of one id',
    (b) => b.stock.clamps.push(b.stock.clamps[0]),
    'duplicate-id',
    'band',
    'stock.clamps[1].id',
    'own',
    'band',
  ],
  [
    'a tube of another diameter',
    (b) => (b.stock.tubes[0].outsideDiameter = 22),
    'stock-differs',
    'hot',
    `${pipe}.outsideDiameter`,
    '22, as tube drawn has',
    20,
  ],
  [
    'a tube of another wall',
    (_, p) => (p.wall = 2),
    'stock-differs',
    'hot',
    `${pipe}.wall`,
    '1.5, as tube drawn has',
    2,
  ],
  [
    'an elbow of another diameter',
    (b) => (b.stock.elbows[0].outsideDiameter = 22),
    'stock-differs',
    'hot',
    `${pipe}.elbows[0].elbow`,
    'outside diameter, 20',
    22,
  ],
  [
    'an elbow beyond the path',
    (_, p) => (p.elbows[0].corner = 2),
    'no-such-corner',
    'hot',
    `${pipe}.elbows[0].corner`,
    'at most 1',
    2,
  ],
  [
    'an elbow without a path',
    (_, p) => {
      p.path = []
      p.elbows[0].corner = 0
    },
    'no-such-corner',
    'hot',
    `${pipe}.elbows[0].corner`,
    'no corners',
    0,
  ],
  [
    'two elbows in one corner',
    (_, p) => p.elbows.push(p.elbows[0]),
    'duplicate-corner',
    'hot',
    `${pipe}.elbows[1].corner`,
    'of its own',
    1,
  ],
  [
    'a gap as long as the coupler',
    (_, p) => (p.joints.from.gap = 44),
    'gap-over-length',
    'hot',
    `${pipe}.joints.from.gap`,
    '44',
    44,
  ],
  ['a gap in an elbow', (_, p) => (p.joints.to.gap = 3), 'gap-in-elbow', 'hot', `${pipe}.joints.to.gap`, 'none', 3],
  [
    'a gap of less than nothing',
    (_, p) => (p.joints.from.gap = -1),
    'too-small',
    'hot',
    `${pipe}.joints.from.gap`,
    'at least 0',
    -1,
  ],
  [
    'a wall that fills its tube',
    (b) => Object.assign(b.stock.elbows[0], { wall: 10 }),
    'wall-too-thick',
    'cast',
    'stock.elbows[0].wall',
    '10',
    10,
  ],
  [
    'an elbow tighter than it is thick',
    (b) => (b.stock.elbows[0].radius = 9),
    'bend-too-tight',
    'cast',
    'stock.elbows[0].radius',
    '10',
    9,
  ],
  [
    'a hose elbow tighter than it is thick',
    (b) => (b.stock.couplers[2].radius = 12),
    'bend-too-tight',
    'corner',
    'stock.couplers[2].radius',
    '13',
    12,
  ],
  [
    'a hose with more wall than bore',
    (b) => Object.assign(b.stock.couplers[0], { wall: 10 }),
    'wall-too-thick',
    'short',
    'stock.couplers[0].wall',
    'half the inside diameter, 10',
    10,
  ],
  [
    'an insertion that leaves no leg',
    (b) => (b.stock.couplers[2].insertion = 25),
    'insertion-too-deep',
    'corner',
    'stock.couplers[2].insertion',
    'shorter leg, 25',
    25,
  ],
  [
    'insertions that would meet',
    (b) => (b.stock.couplers[0].insertion = 22.5),
    'insertion-too-deep',
    'short',
    'stock.couplers[0].insertion',
    'half its length, 22',
    22.5,
  ],
  [
    'a hump longer than its hose',
    (b) => (b.stock.couplers[1].hump.length = 65),
    'hump-too-long',
    'hump',
    'stock.couplers[1].hump.length',
    '64',
    65,
  ],
  [
    'a hump thinner than its hose',
    (b) => (b.stock.couplers[1].hump.diameter = 25),
    'hump-too-thin',
    'hump',
    'stock.couplers[1].hump.diameter',
    '26',
    25,
  ],
  [
    'a clamp that closes the wrong way',
    (b) => (b.stock.clamps[0].least = 33),
    'min-over-max',
    'band',
    'stock.clamps[0].least',
    '32',
    33,
  ],
  [
    'spring-back of a material twice',
    (b) => (b.benders[0].tools[0].springBackOf[1].material = 'steel'),
    'duplicate-material',
    'shop',
    'benders[0].tools[0].springBackOf[1].material',
    'once',
    'steel',
  ],
]

describe('one thing wrong, one fault that names it', () => {
  test.each(rows)('%s', (_, change, code, item, field, expected, got, nearest) => {
    const faults = faultsOf((bay) => change(bay, bay.candidates[0].pipes[0]))
    expect(faults).toHaveLength(1)
    const [fault] = faults
    expect(fault).toMatchObject({ code, item, field, file: 'my.bay.json' })
    expect(fault.expected).toContain(expected)
    if (got !== undefined) expect(fault.got).toEqual(got)
    if (nearest !== undefined) expect(fault.nearest).toBe(nearest)
    expect(fault.line).toBeGreaterThan(0)
  })
})

describe('not more faults than there are', () => {
  test('a bay without stock: each name that is used is told', () => {
    const faults = faultsOf((bay) => delete bay.stock)
    expect(faults.map(({ code }) => code)).toEqual(Array(6).fill('unknown-stock'))
    expect(faults[0].expected).toMatch(/of which there is none$/)
  })

  test('stock that is no stock, a list that is none, and a broken item hide no name', () => {
    expect(faultsOf((bay) => (bay.stock = 3)).map(({ code }) => code)).toEqual(['wrong-type'])
    expect(faultsOf((bay) => (bay.stock.clamps = 'band')).map(({ code }) => code)).toEqual(['wrong-type'])
    const broken = faultsOf((bay) => (bay.stock.couplers[0].length = -1))
    expect(broken.map(({ code, field }) => [code, field])).toEqual([['too-small', 'stock.couplers[0].length']])
  })

  test('a broken item beside one that makes no sense: both are told', () => {
    const both = faultsOf((bay) => {
      bay.stock.couplers[0].length = -1
      bay.stock.clamps[0].least = 40
    })
    expect(both.map(({ code }) => code)).toEqual(['too-small', 'min-over-max'])
  })
})

describe('what is judged with the bends is no fault of the bay', () => {
  test.each<[what: string, change: (bay: Anything, pipe: Anything) => void]>([
    ['a coupler too wide for its port', (b) => (b.stock.couplers[0].insideDiameters = [30, 34])],
    ['a clamp that does not close so far', (b) => Object.assign(b.stock.clamps[0], { least: 10, most: 12 })],
    ['a gap larger than the coupler takes', (_, p) => (p.joints.from.gap = 40)],
    ['an offset larger than it takes', (_, p) => Object.assign(p.joints.from, { gap: undefined, end: [30, 390, 0] })],
    ['a corner that turns further than its elbow', (b) => (b.stock.elbows[0].angle = 10)],
    ['a radius that there is no die for', (b) => (b.benders[0].tools[0].radii = [50])],
    [
      'a hump as thick as its hose to the last digit',
      (b) =>
        Object.assign(b.stock.couplers[1], {
          insideDiameters: [57.15, 57.15],
          wall: 4.9,
          hump: { diameter: 66.95, length: 20 },
        }),
    ],
  ])('%s', (_, change) => {
    expect(faultsOf((bay) => change(bay, bay.candidates[0].pipes[0]))).toEqual([])
  })
})
