import { describe, expect, test } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import { seeded } from '../../test/kit/random.ts'
import type { Random } from '../../test/kit/random.ts'
import { checkBay } from '../bay/read.ts'
import { jointAt } from '../bay/joints.ts'
import { pipeEnd, pipePoints, stubsOf } from '../bay/pipeEnds.ts'
import type { Bay, KeepOut, Pipe, Port, TankPort } from '../bay/schema.ts'
import type { Bead, Clamp, Coupler, CouplerJoint, Joint } from '../bay/workshopSchema.ts'
import { add, identity, scale } from '../shape/vec.ts'
import { bendTable } from './bendTable.ts'
import { clampObstacles } from './clampObstacles.ts'
import { judgeJoints } from './jointJudged.ts'
import type { JointsJudged } from './jointJudged.ts'

const bead: Bead = { height: 2, width: 3, fromEnd: 2 }
const common = {
  insideDiameters: [20, 20],
  wall: 3,
  insertion: 25,
  largestAngle: 4,
  largestOffset: 3,
  largestGap: 6,
} as const
/** Over each tube by 30 with tubes 4 apart. */
const hose: Coupler = { form: 'straight', id: 'a', name: 'Hose A', ...common, insideDiameters: [20, 20], length: 64 }
/** Needs 6 + 10 + 6, and 5 for the bead: 27. */
const clamp: Clamp = {
  id: 'band',
  name: 'Band',
  least: 22,
  most: 32,
  band: 10,
  height: 8,
  tool: { diameter: 4, length: 40 },
}
const coupled = (change: Partial<CouplerJoint> = {}): Joint => ({
  kind: 'coupler',
  coupler: 'a',
  gap: 4,
  bead,
  clamps: { port: { clamp: 'band' }, pipe: { clamp: 'band' } },
  ...change,
})

interface Knobs {
  readonly hose?: Partial<Coupler>
  readonly clamp?: Partial<Clamp>
  readonly port?: Partial<Port>
  readonly stub?: Partial<TankPort>
  readonly pipe?: Partial<Pipe>
  readonly from?: Joint | null
  readonly to?: Joint | null
  readonly keepOuts?: KeepOut[]
}

/** A pipe of 192 straight from a port at (0, 400, 0) to a stub that ends at (0, 200, 0), hose A at its from, B at its to. */
function bayOf({ hose: hoseChange, clamp: clampChange, port, stub, pipe, from, to, keepOuts = [] }: Knobs): Bay {
  const ofStub = { id: 'p', face: 'end', u: 0, v: 0, outsideDiameter: 20, length: 30, bead } as const
  return {
    ...tinyBay(
      keepOuts,
      bareCandidate({
        tanks: { right: { length: 70, front: 0, rear: 0, below: 0, above: 0, ports: [{ ...ofStub, ...stub }] } },
        pipes: [
          {
            id: 'hot',
            name: 'Hot',
            from: 'turbo',
            to: 'tank-right:p',
            outsideDiameter: 20,
            wall: 1.5,
            bendRadius: 30,
            path: [],
            joints: {
              from: from === undefined ? coupled() : (from ?? undefined),
              to: to === undefined ? coupled({ coupler: 'b' }) : (to ?? undefined),
            },
            ...pipe,
          },
        ],
      }),
      [
        {
          id: 'turbo',
          name: 'Turbo',
          at: [0, 400, 0],
          direction: [0, -1, 0],
          outsideDiameter: 20,
          spigot: 40,
          bead,
          ...port,
        },
      ],
    ),
    stock: {
      couplers: [{ ...hose, ...hoseChange } as Coupler, { ...hose, id: 'b', name: 'Hose B' }],
      clamps: [{ ...clamp, ...clampChange }],
    },
  }
}

function judged(bay: Bay, pipeId = 'hot'): JointsJudged {
  const checked = checkBay(JSON.parse(JSON.stringify(bay)))
  expect(checked.ok ? [] : checked.faults).toEqual([])
  const [candidate] = bay.candidates
  const pipe = candidate.pipes?.find(({ id }) => id === pipeId) as Pipe
  const stubs = stubsOf(candidate, { turn: identity, at: candidate.at })
  const [from, to] = [pipeEnd(pipe, 'from', bay, stubs), pipeEnd(pipe, 'to', bay, stubs)]
  const points = from && to && pipePoints(pipe, from, to)
  if (!from || !to || !points) throw new Error('the pipe of the test is not routed')
  const run = bendTable(points, pipe.bendRadius)
  const obstacles = clampObstacles(bay, candidate, new Map())
  if (!obstacles.ok) throw new Error(JSON.stringify(obstacles.faults))
  const straights = run.ok ? run.value.straights : null
  return judgeJoints({ bay, candidate, pipe, from, to, points, straights }, obstacles.value)
}

/** `code end on`. */
const said = (list: JointsJudged['reasons']) =>
  list.map(({ code, end, on }) => [code, end, on].filter(Boolean).join(' '))
const reasons = (knobs: Knobs) => said(judged(bayOf(knobs)).reasons)
const notes = (knobs: Knobs) => said(judged(bayOf(knobs)).notes)

test('a joint as it should be: figures, no reasons, nothing to note', () => {
  const { joints, reasons: why, notes: noted } = judged(bayOf({}))
  expect(why).toEqual([])
  expect(noted).toEqual([])
  const clamps = (['port', 'pipe'] as const).map((on) => ({ on, clamp: 'band', closesOn: 26, reach: [[0, 360]] }))
  const figures = {
    kind: 'coupler',
    gap: 4,
    offset: 0,
    angle: 0,
    movement: 0,
    insertion: { port: 30, pipe: 30, neededPort: 27, neededPipe: 27 },
    clamps,
  }
  expect(joints).toEqual([
    { end: 'from', port: 'turbo', coupler: 'a', ...figures },
    { end: 'to', port: 'tank-right:p', coupler: 'b', ...figures },
  ])
})

const wide = { largestGap: 20, largestOffset: 20, largestAngle: 20 }
/** A 90° elbow from a port below that looks up; its outlet is where the straight hose's is. */
const elbowKnobs = (movement: number): Knobs => ({
  hose: {
    form: 'elbow',
    angle: 90,
    radius: 30,
    legs: [40, 40],
    ...wide,
    insertion: 30,
    length: undefined,
  } as Partial<Coupler>,
  from: coupled({ gap: undefined, roll: 270 }),
  port: { at: [0, 436, -40], direction: [0, 0, 1], movement },
})
/** The first leg leaves by an angle, degrees, over 96 from the hose and 100 from the port. */
const askew = (degrees: number, over: number): Partial<Pipe> => ({
  path: [
    [over * Math.tan((degrees * Math.PI) / 180), 300, 0],
    [0, 250, 0],
  ],
})
const beside = (off: number): Knobs => ({
  from: coupled({ end: [off, 396, 0], gap: 4 }),
  pipe: {
    path: [
      [off, 300, 0],
      [0, 250, 0],
    ],
  },
})
const roof = (z: number) => keepOut('roof', { kind: 'box', at: [0, 374, z + 50], size: [200, 40, 100] })
const onTop = coupled({ clamps: { port: { clamp: 'band' }, pipe: { clamp: 'band', roll: 0 } } })

describe.each<[string, Knobs, Knobs, string[]]>([
  [
    'diameter of the port',
    { port: { outsideDiameter: 20.6 } },
    { port: { outsideDiameter: 20.5 } },
    ['coupler-diameter from port'],
  ],
  [
    'diameter of the pipe',
    { pipe: { outsideDiameter: 19.4 } },
    { pipe: { outsideDiameter: 19.5 } },
    ['coupler-diameter from pipe', 'coupler-diameter to pipe'],
  ],
  [
    'what the coupler must hold',
    { hose: { insertion: 30.1 } },
    { hose: { insertion: 30 } },
    ['insertion-short from port', 'insertion-short from pipe'],
  ],
  [
    'room for bead and clamp: bead + band + 2 × 6 (checks D3.6, D3.7)',
    { port: { bead: { ...bead, width: 6.1 } } },
    { port: { bead: { ...bead, width: 6 } } },
    ['insertion-no-room from port'],
  ],
  ['length of the port', { port: { spigot: 29.9 } }, { port: { spigot: 30 } }, ['insertion-beyond-spigot from port']],
  ['length of the stub', { stub: { length: 29.9 } }, { stub: { length: 30 } }, ['insertion-beyond-spigot to port']],
  [
    'straight of a pipe that both hoses go over',
    { port: { at: [0, 267.9, 0] } },
    { port: { at: [0, 268, 0] } },
    ['end-straight-short from pipe', 'end-straight-short to pipe'],
  ],
  [
    'straight before a bend',
    {
      pipe: {
        path: [
          [0, 360, 0],
          [20, 340, 0],
          [20, 270, 0],
          [0, 250, 0],
        ],
      },
    },
    {
      pipe: {
        path: [
          [0, 353, 0],
          [20, 333, 0],
          [20, 270, 0],
          [0, 250, 0],
        ],
      },
    },
    ['end-straight-short from pipe'],
  ],
  ['gap and movement', { port: { movement: 2.01 } }, { port: { movement: 2 } }, ['gap-large from']],
  [
    'gap less movement',
    { hose: wide, port: { movement: 4.01 } },
    { hose: wide, port: { movement: 4 } },
    ['tubes-touch from'],
  ],
  [
    'offset and movement',
    { hose: { largestOffset: 1.5 }, port: { movement: 1.51 } },
    { hose: { largestOffset: 1.5 }, port: { movement: 1.5 } },
    ['offset-large from'],
  ],
  ['offset of an end placed by hand', beside(3.01), beside(2.99), ['offset-large from']],
  ['angle', { pipe: askew(4.01, 96) }, { pipe: askew(3.99, 96) }, ['angle-large from']],
  [
    'angle, when a port moves and the pipe leans: atan(2/192) = 0.597°',
    { pipe: askew(3.41, 96), port: { movement: 2 } },
    { pipe: askew(3.4, 96), port: { movement: 2 } },
    ['angle-large from'],
  ],
  ['depth in an elbow, when a port moves', elbowKnobs(10.1), elbowKnobs(10), ['insertion-into-bend from pipe']],
  [
    'clamp that must open further',
    { clamp: { most: 25.9 } },
    { clamp: { most: 26 } },
    ['from port', 'from pipe', 'to port', 'to pipe'].map((place) => `clamp-too-small ${place}`),
  ],
  [
    'clamp that must close further',
    { clamp: { least: 26.1 } },
    { clamp: { least: 26 } },
    ['from port', 'from pipe', 'to port', 'to pipe'].map((place) => `clamp-too-large ${place}`),
  ],
  [
    'band beside a hump',
    { hose: { form: 'hump', hump: { diameter: 34, length: 32.2 } } as Partial<Coupler> },
    { hose: { form: 'hump', hump: { diameter: 34, length: 32 } } as Partial<Coupler> },
    ['clamp-band-wide from port', 'clamp-band-wide from pipe'],
  ],
  [
    'room for a tool at a roll that is asked for: screw at 17, tool to 19',
    { keepOuts: [roof(18.9)], from: onTop },
    { keepOuts: [roof(19.1)], from: onTop },
    ['no-screwdriver-room from pipe'],
  ],
  [
    'a weld askew',
    { from: { kind: 'weld' }, pipe: askew(0.11, 100) },
    { from: { kind: 'weld' }, pipe: askew(0.09, 100) },
    ['leaves-askew from'],
  ],
  [
    'a weld of two diameters',
    { from: { kind: 'weld' }, port: { outsideDiameter: 20.6 } },
    { from: { kind: 'weld' }, port: { outsideDiameter: 20.4 } },
    ['diameters-differ from'],
  ],
  [
    'a weld that moves',
    { from: { kind: 'weld' }, port: { movement: 1 } },
    { from: { kind: 'weld' } },
    ['weld-moves from'],
  ],
])('%s', (_, wrong, right, expected) => {
  test('wrong', () => expect(reasons(wrong)).toEqual(expected))
  test('just right', () => expect(reasons(right)).toEqual([]))
})

test('reasons say where, and both figures', () => {
  const [touch] = judged(bayOf({ hose: wide, port: { movement: 4.01 } })).reasons
  expect(touch).toEqual({ code: 'tubes-touch', end: 'from', at: [0, 396, 0], of: 'Hose A', expected: 4.01, got: 4 })
  const [short] = judged(bayOf({ port: { spigot: 29.9 } })).reasons
  expect(short).toMatchObject({ at: [0, 400, 0], of: 'Hose A', expected: 29.9, got: 30 })
  const room = judged(bayOf({ keepOuts: [roof(18.9)], from: onTop })).reasons[0]
  expect(room).toMatchObject({ at: [0, 377, 0], of: 'Band', expected: 0, got: 'roof' })
})

test('a screw that stands where no tool reaches it: where it could stand is told', () => {
  const { joints, notes: noted } = judged(bayOf({ keepOuts: [roof(18.9)], from: onTop }))
  expect(joints[0].clamps[1].reach).toEqual([])
  expect(said(noted)).toEqual(['tool-elsewhere from pipe'])
  const [open] = String(noted[0].got).split(', ')
  const [from, to] = open.split('° to ').map(Number.parseFloat)
  expect(from).toBeGreaterThan(0)
  expect(to).toBeGreaterThan(180)
  expect(to).toBeLessThan(360)
})

test('a pipe held fast at one end does not lean: its other coupler takes the movement', () => {
  const knobs: Knobs = { pipe: askew(3.41, 96), port: { movement: 2 }, to: { kind: 'weld' } }
  expect(reasons(knobs)).toEqual([])
})

describe('what is not known', () => {
  test.each<[string, Knobs, string[]]>([
    ['no joint', { from: null }, ['no-joint from']],
    ['no bead on the port', { port: { bead: undefined } }, ['no-bead from port']],
    ['no bead on the pipe', { to: coupled({ coupler: 'b', bead: undefined }) }, ['no-bead to pipe']],
    ['length of the port', { port: { spigot: undefined } }, ['no-spigot from port']],
    ['no clamp', { from: coupled({ clamps: { port: { clamp: 'band' } } }) }, ['no-clamp from pipe']],
    [
      'no tool',
      { clamp: { tool: undefined } },
      ['from port', 'from pipe', 'to port', 'to pipe'].map((place) => `clamp-no-tool ${place}`),
    ],
    ['movement that a stiffer coupler passes on', { port: { movement: 2.5 }, hose: wide }, ['movement-passed-on to']],
    [
      'what comes off',
      { keepOuts: [{ ...roof(18.9), fitting: 'comes-off' }], from: onTop },
      ['tool-needs-off from pipe'],
    ],
    [
      'what is left out for a look',
      { keepOuts: [{ ...roof(18.9), enabled: false }] },
      ['tool-left-out from', 'tool-left-out to'],
    ],
    [
      'a block around the clamp that the port sits on',
      {
        keepOuts: [keepOut('block', { kind: 'box', at: [0, 460, 0], size: [60, 120, 60] })],
        port: { sitsOn: 'block' },
      },
      ['tool-not-against from port'],
    ],
  ])('%s', (_, knobs, expected) => {
    const { reasons: why, notes: noted } = judged(bayOf(knobs))
    expect(said(why)).toEqual([])
    expect(said(noted)).toEqual(expected)
  })

  test('pipes that have no shape yet are named beside the tools', () => {
    const bay = bayOf({})
    const [candidate] = bay.candidates
    const [hot] = candidate.pipes as Pipe[]
    const other: Pipe = { ...hot, id: 'cold', name: 'Cold', from: 'side', joints: {} }
    const side: Port = { id: 'side', name: 'Side', at: [300, 0, 0], direction: [1, 0, 0], outsideDiameter: 20 }
    const both = { ...bay, ports: [...(bay.ports ?? []), side], candidates: [{ ...candidate, pipes: [hot, other] }] }
    expect(said(judged(both).notes)).toEqual(['tool-without from', 'tool-without to'])
    const tight: Pipe = {
      ...other,
      path: [
        [310, 0, 0],
        [310, 5, 0],
      ],
    }
    const shapeless = { ...both, candidates: [{ ...candidate, pipes: [hot, tight] }] }
    expect(judged(shapeless).notes.map(({ code, got }) => [code, got])).toEqual([
      ['tool-without', 'cold'],
      ['tool-without', 'cold'],
    ])
  })

  test('with nothing missing nothing is noted', () => expect(notes({})).toEqual([]))
})

describe('published sizes', () => {
  const at = (least: number, most: number) => {
    const sized = { least, most, band: 10, tool: undefined }
    const tube = { outsideDiameter: 63.5 }
    const bay = bayOf({
      hose: { insideDiameters: [63.5, 63.5], wall: 5 },
      clamp: sized,
      port: tube,
      pipe: { ...tube, wall: 1.6, bendRadius: 95.25 },
      to: null,
      stub: tube,
    })
    return said(judged(bay).reasons)
  }
  // Tube of 63.5 with a hose of 5 is 73.5 across (D3.11, derived). DIN 3017-1 form A ranges from memory (D3.8); SAE J1508
  // type F: largest n/16 + ½ in, from memory (D3.10), least of size 40 as in D3.10.
  test.each<[string, number, number, string[]]>([
    ['DIN 60–80', 60, 80, []],
    ['DIN 50–70', 50, 70, ['clamp-too-small from port', 'clamp-too-small from pipe']],
    ['DIN 80–100', 80, 100, ['clamp-too-large from port', 'clamp-too-large from pipe']],
    ['SAE 40', 52, (40 / 16 + 0.5) * 25.4, []],
    ['SAE 24', 27, (24 / 16 + 0.5) * 25.4, ['clamp-too-small from port', 'clamp-too-small from pipe']],
  ])('%s on tube of 63.5 with hose of 5', (_, least, most, expected) => expect(at(least, most)).toEqual(expected))

  test('a usual bead and band ask for 30 to 40 mm of tube (D3.5, D3.7; common practice, no source)', () => {
    const usual: Bead = { height: 2, width: 4, fromEnd: 6 }
    const { joints } = judged(bayOf({ hose: { length: 84 }, clamp: { band: 12 }, port: { bead: usual, spigot: 60 } }))
    expect(joints[0].insertion?.neededPort).toBe(34)
  })
})

/** Hoses, tubes, beads and clamps of sizes that go together, anywhere and any way round. */
function anyJoined(random: Random): Bay {
  const [outer, portSize] = [random.real(15, 80), random.real(15, 80)]
  const wall = random.real(2, 6)
  const insertion = random.real(40, 60)
  const gap = random.real(0, 6)
  const form = random.pick(['straight', 'hump', 'elbow'] as const)
  const size = { id: 'a', name: 'Hose', wall, insertion, largestAngle: 1, largestOffset: 0.01, largestGap: 6 }
  const inside: [number, number] = random.chance(0.5) ? [portSize, outer] : [outer, portSize]
  const long = 2 * insertion + gap
  const shapes = {
    straight: { length: long },
    hump: { length: long, hump: { diameter: 2 * wall + Math.max(outer, portSize) + 10, length: random.real(3, 20) } },
    elbow: { angle: random.real(10, 120), radius: 100, legs: [insertion + 2, insertion + 5] },
  }
  const coupler = { ...size, form, insideDiameters: inside, ...shapes[form] } as Coupler
  const band = random.real(8, 14)
  const clamps = [outer, portSize].map((tube, k): Clamp => {
    const on = tube + 2 * wall
    return { id: `clamp-${k}`, name: 'Clamp', least: on - 3, most: on + 4, band, height: 10 }
  })
  const ring: Bead = { height: 2, width: 4, fromEnd: 5 }
  const joint: CouplerJoint = {
    kind: 'coupler',
    coupler: 'a',
    ...(form !== 'elbow' && { gap }),
    roll: random.real(-360, 360),
    bead: ring,
    clamps: { port: { clamp: 'clamp-1' }, pipe: { clamp: 'clamp-0' } },
  }
  const stock = { couplers: [coupler], clamps }
  const port = { at: random.point(500), direction: random.unit(), outsideDiameter: portSize }
  const outlet = jointAt(port, joint, outer, stock)?.outlet
  if (!outlet) throw new Error('the coupler of the test is not in stock')
  const far = add(outlet.at, scale(outlet.direction, random.real(80, 400)))
  const bay = tinyBay([], undefined, [
    {
      id: 'one',
      name: 'One',
      ...port,
      at: [...port.at],
      direction: [...scale(port.direction, random.real(0.5, 3))],
      spigot: 60,
      bead: ring,
    },
    { id: 'two', name: 'Two', at: [...far], direction: [...scale(outlet.direction, -1)], outsideDiameter: outer },
  ])
  const pipe: Pipe = {
    id: 'hot',
    name: 'Hot',
    from: 'one',
    to: 'two',
    outsideDiameter: outer,
    wall: 1.5,
    bendRadius: 100,
    path: [],
    joints: { from: joint, to: { kind: 'weld' } },
  }
  return { ...bay, stock, candidates: [{ ...bay.candidates[0], pipes: [pipe] }] }
}

test('sizes that go together give no reasons, wherever and however they stand (seed 44)', () => {
  const random = seeded(44)
  const forms = new Map<string, number>()
  for (let round = 0; round < 300; round++) {
    const bay = anyJoined(random)
    const form = bay.stock?.couplers?.[0].form ?? ''
    forms.set(form, (forms.get(form) ?? 0) + 1)
    const { reasons: why, joints } = judged(bay)
    expect(why).toEqual([])
    expect(joints[0].angle).toBeLessThan(1e-6)
    expect(joints[0].offset).toBeLessThan(1e-9)
  }
  expect([...forms.values()].every((count) => count > 60)).toBe(true)
})

test('what moves beyond what the hose takes is told, whichever way it stands (seed 45)', () => {
  const random = seeded(45)
  for (let round = 0; round < 100; round++) {
    const bay = anyJoined(random)
    const [one, two] = bay.ports ?? []
    expect(said(judged({ ...bay, ports: [{ ...one, movement: 0.02 }, two] }).reasons)).toContain('offset-large from')
  }
})
