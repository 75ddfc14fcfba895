import { describe, expect, test } from 'vitest'
import { tinyBay, bareCandidate } from '../../test/kit/tinyBay.ts'
import type { Bay, Pipe, Port } from '../bay/schema.ts'
import type { Bender, BenderTool, StockElbow } from '../bay/workshopSchema.ts'
import type { PipeBends, PipeReason } from './answer.ts'
import { bends } from './bends.ts'

type Point = Pipe['path'][number]

const tool = (change: Partial<BenderTool> = {}): BenderTool => ({
  outsideDiameter: 57,
  radii: [85.5, 57],
  grip: 40,
  leastStraight: 50,
  leastEnd: 35,
  largestAngle: 120,
  ...change,
})
const bender = (...tools: BenderTool[]): Bender => ({ id: 'shop', name: 'Shop bender', tools })
const port = (id: string, at: Point, direction: Point): Port => ({ id, name: id, at, direction, outsideDiameter: 57 })
const ports = [port('a', [300, 0, 0], [1, 0, 0]), port('b', [600, 300, 0], [0, -1, 0])]
const pipe = (path: Point[], change: Partial<Pipe> = {}): Pipe => ({
  id: 'hot',
  name: 'Hot',
  from: 'a',
  to: 'b',
  outsideDiameter: 57,
  wall: 1.5,
  bendRadius: 85.5,
  path,
  joints: { from: { kind: 'weld' }, to: { kind: 'weld' } },
  ...change,
})
const bayOf = (one: Pipe, change: Partial<Bay> = {}): Bay => ({
  ...tinyBay([], bareCandidate({ pipes: [one] }), ports),
  benders: [bender(tool())],
  ...change,
})
const bent = (one: Pipe, change: Partial<Bay> = {}): PipeBends => {
  const answer = bends(bayOf(one, change), undefined, new Map())
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  const [made] = answer.value.pipes
  expect(made.makeable).toBe(made.reasons.length === 0)
  expect(answer.value.answer).toBe(made.makeable ? 'makeable' : 'not makeable')
  return made
}
const codes = (reasons: readonly PipeReason[]) => reasons.map(({ code }) => code)

/** One right-angled corner in the plane of both ports. */
const plain = () => pipe([[600, 0, 0]])
/** Two quarter turns, with a straight of `between` and ends of `end`; its far port is set to match. */
function offset(between: number, ends: number, change: Partial<Pipe> = {}): { one: Pipe; bay: Partial<Bay> } {
  const radius = change.bendRadius ?? 85.5
  const corner = 300 + ends + radius
  const up = between + 2 * radius
  const path: Point[] = [
    [corner, 0, 0],
    [corner, up, 0],
  ]
  return {
    one: pipe(path, change),
    bay: { ports: [ports[0], port('b', [corner + radius + ends, up, 0], [-1, 0, 0])] },
  }
}
const offsetBent = (between: number, ends: number, change: Partial<Pipe> = {}, more: Partial<Bay> = {}) => {
  const { one, bay } = offset(between, ends, change)
  return bent(one, { ...bay, ...more })
}

describe('a pipe that can be made', () => {
  test('has its table, lengths and bender, and nothing against it', () => {
    const made = bent(plain())
    expect(made).toMatchObject({
      id: 'hot',
      dOfBend: 1.5,
      material: null,
      bender: 'Shop bender',
      makeable: true,
      table: [{ length: 214.5, rotation: 0, angle: 90, radius: 85.5 }, { length: 214.5 }],
      straights: [214.5, 214.5],
      corners: [1],
      elbows: [],
      reasons: [],
      loss: null,
    })
    expect(made.developed).toBeCloseTo(429 + (85.5 * Math.PI) / 2, 9)
    expect(made.cut).toBe(made.developed)
    expect(made.joints.map(({ kind, port: name }) => [kind, name])).toEqual([
      ['weld', 'a'],
      ['weld', 'b'],
    ])
    expect(codes(made.notes)).toEqual(['no-spring-back', 'no-elongation'])
  })

  test('at the least straights exactly', () => {
    expect(codes(offsetBent(50, 35).reasons)).toEqual([])
    expect(codes(offsetBent(40, 35, {}, { benders: [bender(tool({ leastStraight: 10 }))] }).reasons)).toEqual([])
  })

  test('without a bender in the bay, which is a note', () => {
    const made = bent(plain(), { benders: [] })
    expect(made).toMatchObject({ makeable: true, bender: null })
    expect(codes(made.notes)).toEqual(['no-bender'])
  })

  test('straight, whatever the bender has', () => {
    const straight = pipe([], { to: 'c' })
    const made = bent(straight, {
      ports: [ports[0], port('c', [700, 0, 0], [-1, 0, 0])],
      benders: [bender(tool({ outsideDiameter: 30 }))],
    })
    expect(made).toMatchObject({ makeable: true, table: [{ length: 400 }], arcs: [], notes: [] })
  })

  test('by the bender that it names, by a radius within 0.01 mm, and by the tool that has it', () => {
    const other: Bender = { ...bender(tool({ radii: [85.508] })), id: 'other', name: 'Other' }
    expect(bent({ ...plain(), bender: 'other' }, { benders: [bender(tool()), other] }).bender).toBe('Other')
    const split = bender(tool({ radii: [100] }), tool({ radii: [85.5], springBack: 0.1 }))
    expect(bent(plain(), { benders: [split] }).tubes[0].setAngles?.[0]).toBeCloseTo(100, 9)
  })

  test('with spring-back of its tube’s material before any', () => {
    const tube = { id: 't', name: 'Tube', outsideDiameter: 57, wall: 1.5, material: 'steel' }
    const made = bent(
      { ...plain(), tube: 't' },
      {
        stock: { tubes: [tube] },
        benders: [
          bender(tool({ springBack: 0.5, springBackOf: [{ material: 'steel', share: 0.1 }], elongation: 0.03 })),
        ],
      },
    )
    expect(made.material).toBe('steel')
    expect(made.tubes[0].setAngles?.[0]).toBeCloseTo(100, 9)
    expect(made.cut).toBeCloseTo(429 + (0.97 * 85.5 * Math.PI) / 2, 9)
    expect(made.notes).toEqual([])
  })
})

describe('what the bender refuses', () => {
  test.each<[string, () => PipeBends, Partial<PipeReason>]>([
    [
      'a diameter without a tool',
      () => bent(plain(), { benders: [bender(tool({ outsideDiameter: 63.5 }), tool({ outsideDiameter: 50 }))] }),
      { code: 'no-tool', expected: '50, 63.5', got: 57, of: 'Shop bender' },
    ],
    [
      'a radius without a die',
      () => bent({ ...plain(), bendRadius: 100 }),
      { code: 'no-radius', expected: '57, 85.5', got: 100, of: 'Shop bender', point: 1, at: [600, 0, 0] },
    ],
    [
      'an angle that is too large',
      () => bent(plain(), { benders: [bender(tool({ largestAngle: 89.9 }))] }),
      { code: 'angle-too-large', expected: 89.9, point: 1, at: [600, 0, 0] },
    ],
    [
      'an angle that is too large with spring-back',
      () => bent(plain(), { benders: [bender(tool({ largestAngle: 99, springBack: 0.1 }))] }),
      { code: 'set-angle-too-large', expected: 99, point: 1 },
    ],
    [
      'a straight that is too short to grip',
      () => offsetBent(49.99, 100),
      { code: 'short-between', expected: 50, point: 1, at: [485.5, 110.495, 0] },
    ],
    [
      'one that is shorter than the clamp die',
      () => offsetBent(49.99, 100, {}, { benders: [bender(tool({ grip: 60 }))] }),
      { code: 'short-between', expected: 60, point: 1 },
    ],
    [
      'a first straight that is too short',
      () => offsetBent(100, 34.99),
      { code: 'short-end', expected: 35, point: 1, end: 'from' },
    ],
  ])('%s', (_, made, reason) => {
    const [first, ...others] = made().reasons
    expect(first).toMatchObject(reason)
    if (first.code !== 'short-end') expect(others).toEqual([])
    // Both ends of the offset are alike.
    else expect(others).toMatchObject([{ code: 'short-end', end: 'to', point: 2 }])
  })

  test('several things at once, in the order of the pipe', () => {
    const made = offsetBent(10, 20, { bendRadius: 60 })
    expect(codes(made.reasons)).toEqual(['no-radius', 'short-end', 'short-between', 'short-end'])
  })
})

describe('what cannot be bent at all', () => {
  test('overlapping bends (checks D1.8): the table is given with its negative straight, and no tube', () => {
    // Shifted from the list by 300 mm along X; the same vertices else, and CLR 90.
    const made = bent(
      pipe(
        [
          [500, 0, 0],
          [500, 150, 0],
        ],
        { bendRadius: 90 },
      ),
      { ports: [ports[0], port('b', [300, 150, 0], [1, 0, 0])], benders: [] },
    )
    const straights = [110, -30, 110].map((x) => expect.closeTo(x, 9))
    expect(made.straights).toEqual(straights)
    expect(made.table.map(({ length }) => length)).toEqual(straights)
    expect(made).toMatchObject({ tubes: [], cut: 0, makeable: false })
    expect(made.reasons).toEqual([{ code: 'negative-straight', point: 1, at: [500, 75, 0], got: straights[1] }])
  })

  test('a bend that begins before its tube does', () => {
    const made = offsetBent(100, -5, {}, { benders: [] })
    expect(made.reasons).toMatchObject([
      { code: 'negative-straight', point: 1, end: 'from', got: expect.closeTo(-5, 9) },
      { code: 'negative-straight', point: 2, end: 'to', got: expect.closeTo(-5, 9) },
    ])
  })

  test('a radius below the tube’s', () => {
    const made = bent({ ...plain(), bendRadius: 28 }, { benders: [] })
    expect(made.reasons).toEqual([{ code: 'bend-too-tight', point: 1, at: [600, 0, 0], expected: 28.5, got: 28 }])
  })

  test('a point twice', () => {
    const made = bent(
      pipe([
        [600, 0, 0],
        [600, 0, 0],
      ]),
    )
    expect(made.reasons).toEqual([{ code: 'repeated-point', point: 2, at: [600, 0, 0] }])
    expect(made).toMatchObject({ table: [], straights: [], tubes: [], developed: 0, cut: 0, loss: null })
  })

  test('a first corner on the port itself', () => {
    expect(
      codes(
        bent(
          pipe([
            [300, 0, 0],
            [600, 0, 0],
          ]),
        ).reasons,
      ),
    ).toContain('repeated-point')
  })

  test('a turn of 180°', () => {
    const made = bent(
      pipe([
        [600, 0, 0],
        [500, 0, 0],
        [600, 100, 0],
      ]),
    )
    expect(made.reasons[0]).toEqual({ code: 'turns-back', point: 1, at: [600, 0, 0], got: 180 })
  })

  test('ports that face the wrong way', () => {
    const made = bent(plain(), { ports: [{ ...ports[0], direction: [-1, 0.1, 0] }, ports[1]] })
    expect(made.reasons).toMatchObject([
      { code: 'port-behind', end: 'from', point: 1, at: [300, 0, 0], of: 'a' },
      { code: 'leaves-askew' },
    ])
    const atEnd = bent(plain(), { ports: [ports[0], { ...ports[1], direction: [0, 1, 0] }] })
    expect(atEnd.reasons[0]).toMatchObject({ code: 'port-behind', end: 'to', point: 1, got: 180, of: 'b' })
  })
})

describe('elbows', () => {
  const elbow: StockElbow = {
    id: 'e90',
    name: 'Cast elbow',
    outsideDiameter: 57,
    wall: 3,
    material: 'aluminium',
    angle: 90,
    radius: 57,
    legs: [15, 15],
  }
  const welded = (change: Partial<StockElbow>, corner = 0) => ({
    elbows: [{ corner, elbow: 'e90' }],
    stock: { elbows: [{ ...elbow, ...change }] },
  })

  test('need no bender', () => {
    const { elbows, stock } = welded({})
    const made = bent({ ...plain(), elbows }, { stock, benders: [bender(tool({ outsideDiameter: 20 }))] })
    expect(made).toMatchObject({ makeable: true, elbows: [{ point: 1, elbow: 'e90', angle: 90, cutDown: false }] })
    expect(made.table[0].radius).toBe(57)
    expect(made.tubes.map(({ table }) => table)).toEqual([[{ length: 228 }], [{ length: 228 }]])
    expect(made.notes).toEqual([])
  })

  test('cannot turn more than they do', () => {
    const { elbows, stock } = welded({ angle: 60 })
    expect(bent({ ...plain(), elbows }, { stock }).reasons).toEqual([
      { code: 'elbow-angle', point: 1, at: [600, 0, 0], expected: 60, got: 90, of: 'Cast elbow' },
    ])
  })

  test('a tube that is too short beside one is told to be at the weld', () => {
    const { elbows, stock } = welded({ radius: 85.5 }, 1)
    const made = offsetBent(49, 60, { elbows }, { stock })
    // 49 less the elbow's leg of 15.
    expect(made.reasons).toMatchObject([{ code: 'short-at-weld', point: 1, expected: 35 }])
    expect(made.reasons[0].got).toBeCloseTo(34, 9)
    expect(made.reasons[0].end).toBeUndefined()
  })
})

describe('stretching of the outside (checks D2.4, D2.5)', () => {
  // t 2.0: R/D 1 leaves 1.3333 at a strain of 0.5; at R/D 1.5 it is 0.3333, which is not told.
  test.each([
    [57, [0.5, 2 / 1.5]],
    [85.5, []],
    [114, []],
  ])('at a bend radius of %d', (bendRadius, expected) => {
    const made = bent(
      { ...plain(), wall: 2, bendRadius },
      { benders: [bender(tool({ radii: [bendRadius], springBack: 0, elongation: 0 }))] },
    )
    expect(made.makeable).toBe(true)
    expect(made.notes.map(({ got }) => got)).toEqual(expected.map((x) => expect.closeTo(x, 12)))
    expect(codes(made.notes)).toEqual(expected.length > 0 ? ['outside-stretches', 'outside-thins'] : [])
  })
})

describe('of a whole candidate', () => {
  const two = (first: Pipe, second: Pipe): Bay => ({
    ...bayOf(first),
    candidates: [bareCandidate({ pipes: [first, second] })],
  })

  test('a pipe without a path is not routed, and the whole not makeable', () => {
    const answer = bends(two(plain(), pipe([], { id: 'cold' })), 'only', new Map())
    expect(answer).toMatchObject({ ok: true, value: { answer: 'not makeable', unrouted: ['cold'], chainLoss: null } })
    expect(answer.ok && answer.value.pipes.map(({ id }) => id)).toEqual(['hot'])
  })

  test('one pipe alone', () => {
    const answer = bends(two(plain(), pipe([], { id: 'cold' })), 'only', new Map(), { pipe: 'hot' })
    expect(answer).toMatchObject({ ok: true, value: { answer: 'makeable', unrouted: [] } })
  })

  test('a candidate without pipes has nothing that cannot be made', () => {
    const answer = bends(tinyBay([]), undefined, new Map())
    expect(answer).toEqual({
      ok: true,
      value: { candidate: 'only', answer: 'makeable', pipes: [], unrouted: [], chainLoss: null },
    })
  })

  test('unknown names', () => {
    const bay = bayOf(plain())
    expect(bends(bay, 'onyl', new Map())).toMatchObject({ faults: [{ code: 'unknown-candidate', nearest: 'only' }] })
    expect(bends(bay, 'only', new Map(), { pipe: 'hit' })).toMatchObject({
      faults: [{ code: 'unknown-pipe', nearest: 'hot', got: 'hit' }],
    })
  })

  test('an end without a joint is a note', () => {
    const made = bent({ ...plain(), joints: { to: { kind: 'weld' } } })
    expect(made.makeable).toBe(true)
    expect(made.joints.map(({ kind }) => kind)).toEqual(['none', 'weld'])
    expect(made.notes).toContainEqual(expect.objectContaining({ code: 'no-joint', end: 'from' }))
  })

  test('flow is told where the bay and the pipe say it', () => {
    const state = { temperature: 400, pressure: 250_000 }
    const conditions: Bay['conditions'] = { flow: { fluid: 'air', massFlow: 0.1, toCooler: state, fromCooler: state } }
    const one = { ...plain(), flow: 'to-cooler' as const }
    const answer = bends({ ...two(one, { ...one, id: 'cold' }), conditions }, 'only', new Map())
    if (!answer.ok) throw new Error('no answer')
    const [first, second] = answer.value.pipes
    expect(first.loss?.items.map(({ what, point }) => [what, point])).toEqual([
      ['friction', undefined],
      ['bend', 1],
    ])
    expect(answer.value.chainLoss?.atLeast).toBeCloseTo((first.loss?.atLeast ?? 0) + (second.loss?.atLeast ?? 0), 9)
  })
})
