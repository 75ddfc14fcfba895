import { describe, expect, test } from 'vitest'
import { bareCandidate, cubeMesh, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import type { Meshes } from '../bay/part.ts'
import { checkBay } from '../bay/read.ts'
import type { Bay, Candidate, KeepOut, Pipe, Tank } from '../bay/schema.ts'
import type { Ledger, LedgerPair } from './answer.ts'
import { ledger } from './ledger.ts'

const noMeshes: Meshes = new Map()

function ledgerOf(bay: Bay, meshes: Meshes = noMeshes, id?: string): Ledger {
  const checked = checkBay(bay)
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
  const made = ledger(bay, id, meshes)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const pair = (found: Ledger, part: string, other: string): LedgerPair => {
  const match = found.pairs.find((each) => each.part === part && each.keepOut === other)
  if (!match)
    throw new Error(`${part} and ${other} are not in ${found.pairs.map((each) => `${each.part}·${each.keepOut}`)}`)
  return match
}

/** Gap by hand, mm; the engine's own error bound and rounding are far below 1e-6. */
const gapIs = (found: LedgerPair, gap: number) => {
  expect(Math.abs(found.gap - gap)).toBeLessThan(1e-6)
  expect(found.gap - found.error).toBeLessThanOrEqual(gap + 1e-9)
  expect(found.error).toBeLessThanOrEqual(0.001)
  const [p, q] = [found.onPart, found.onKeepOut]
  expect(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])).toBeCloseTo(found.gap, 9)
}

// The core fills X −50…50, Y −100…100, Z −40…40; each gap beside the shape was worked out by hand.
describe('a bare core against every kind of keep-out', () => {
  const square: [number, number][] = [
    [-5, -5],
    [5, -5],
    [5, 5],
    [-5, 5],
  ]
  const cases: [kind: string, shape: KeepOut['shape'], gap: number][] = [
    ['box, corner to corner 3-4-12 → 13', { kind: 'box', at: [58, 109, 57], size: [10, 10, 10] }, 13],
    [
      'box turned 45° about Z: its edge points at the core',
      { kind: 'box', at: [80, 0, 0], size: [20, 20, 20], turn: [0, 0, 45] },
      30 - 10 * Math.SQRT2,
    ],
    [
      'cylinder along Y: axis 30 away, radius 12',
      { kind: 'cylinder', from: [80, -50, 0], to: [80, 50, 0], radius: 12 },
      18,
    ],
    [
      'hull: its tip looks at the top face',
      {
        kind: 'hull',
        points: [
          [0, 0, 47],
          [10, 0, 60],
          [-10, 10, 60],
          [-10, -10, 60],
        ],
      },
      7,
    ],
    ['half-space: a floor at Z −60', { kind: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 2] }, 20],
    [
      'half-space leaning 45°: corner (50, ·, −40)',
      { kind: 'halfSpace', point: [70, 0, -60], normal: [-1, 0, 1] },
      40 / Math.SQRT2,
    ],
    [
      'sweep along Y, section 10 × 10 about X 80',
      {
        kind: 'sweep',
        section: square,
        path: [
          [80, -50, 0],
          [80, 50, 0],
        ],
        up: [0, 0, 1],
      },
      25,
    ],
    [
      'tube, straight along Z at X 80, radius 8',
      {
        kind: 'tube',
        path: [
          [80, 0, -20],
          [80, 0, 20],
        ],
        radius: 8,
        bendRadius: 10,
      },
      22,
    ],
  ]
  test.each(cases)('%s', (_, shape, gap) => {
    const found = ledgerOf(tinyBay([keepOut('it', shape)]))
    expect(found.pairs).toHaveLength(1)
    gapIs(found.pairs[0], gap)
    expect(found.pairs[0]).toMatchObject({
      part: 'core',
      keepOut: 'it',
      role: 'body',
      tolerance: 0,
      uncertainty: 0,
      required: 0,
      verdict: 'clears',
    })
    expect(found.verdict).toBe('clears')
  })

  test('closed mesh in inches, turned and placed: a cube of 1 inch from 2 inches on', () => {
    const meshes = new Map([['cube.stl', cubeMesh([2, 0, 0], 1)]])
    const shape: KeepOut['shape'] = { kind: 'mesh', file: 'cube.stl', unit: 'inch', turn: [0, 0, 180], at: [-10, 0, 0] }
    // Turned half a turn, the cube stands at X −76.2 … −50.8, then moved by −10: its near side at −60.8.
    gapIs(pair(ledgerOf(tinyBay([keepOut('it', shape)]), meshes), 'core', 'it'), 10.8)
  })

  test('an open mesh says so; inside a closed one is contact, inside an open one is a gap', () => {
    const around = (closed: boolean) => {
      const meshes = new Map([['cube.stl', cubeMesh([-120, -120, -120], 240, closed)]])
      return pair(
        ledgerOf(tinyBay([keepOut('it', { kind: 'mesh', file: 'cube.stl', unit: 'mm' })]), meshes),
        'core',
        'it',
      )
    }
    expect(around(true)).toMatchObject({ gap: 0, verdict: 'fouls' })
    expect(around(true).open).toBeUndefined()
    expect(around(false)).toMatchObject({ open: true, verdict: 'clears' })
    gapIs(around(false), 20)
  })

  test('a mirrored keep-out stands twice, at the same height on the other side', () => {
    const box: KeepOut['shape'] = { kind: 'box', at: [0, 130, 0], size: [10, 20, 10] }
    const found = ledgerOf(tinyBay([keepOut('lamp', box, { mirror: true })]))
    gapIs(pair(found, 'core', 'lamp'), 20)
    gapIs(pair(found, 'core', 'lamp-mirror'), 20)
    expect(pair(found, 'core', 'lamp').onKeepOut[1]).toBeCloseTo(120, 9)
    expect(pair(found, 'core', 'lamp-mirror').onKeepOut[1]).toBeCloseTo(-120, 9)
  })

  test('an overlap has gap 0, its depth, and the way to move the part', () => {
    const found = ledgerOf(tinyBay([keepOut('it', { kind: 'box', at: [57, 0, 0], size: [20, 20, 20] })])).pairs[0]
    expect(found).toMatchObject({ gap: 0, error: 0, verdict: 'fouls', margin: 0 })
    expect(found.overlap?.kind).toBe('exact')
    expect(found.overlap?.depth).toBeCloseTo(3, 6)
    expect(found.overlap?.direction?.[0]).toBeCloseTo(-1, 6)
  })
})

const tank = (change: Partial<Tank> = {}): Tank => ({ length: 70, front: 0, rear: 0, below: 0, above: 0, ...change })
const floor = keepOut('floor', { kind: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 1] })

describe('every kind of part', () => {
  test('a turned core: 30° about Y lowers its corner (50, ·, −40)', () => {
    // Z of the corner after R_y(30°): −x·sin 30° + z·cos 30° for x 50 and z −40: −25 − 34.641 = −59.641.
    gapIs(
      pair(ledgerOf(tinyBay([floor], bareCandidate({ turn: [0, 30, 0] }))), 'core', 'floor'),
      60 - 25 - 40 * Math.cos(Math.PI / 6),
    )
  })

  test('turn is about X first, then Y, then Z: 90, 0, 90 stands the width upright and the depth along Y', () => {
    // R_x(90°) takes Y to Z and Z to −Y; R_z(90°) then takes X to Y and −Y to X. Half sizes along X, Y, Z: 40, 50, 100.
    const wall = (normal: [number, number, number]) =>
      keepOut('wall', { kind: 'halfSpace', point: [normal[0] * -200, normal[1] * -200, normal[2] * -200], normal })
    const gap = (normal: [number, number, number]) =>
      pair(ledgerOf(tinyBay([wall(normal)], bareCandidate({ turn: [90, 0, 90] }))), 'core', 'wall')
    gapIs(gap([1, 0, 0]), 160)
    gapIs(gap([0, 1, 0]), 150)
    gapIs(gap([0, 0, 1]), 100)
  })

  test('left is −Y: a tank of 70 there reaches to −170, and turns with the core', () => {
    const wall = keepOut('wall', { kind: 'halfSpace', point: [0, -200, 0], normal: [0, 1, 0] })
    const right = keepOut('right', { kind: 'halfSpace', point: [0, 200, 0], normal: [0, -1, 0] })
    const found = ledgerOf(tinyBay([wall, right], bareCandidate({ tanks: { left: tank() } })))
    gapIs(pair(found, 'tank-left', 'wall'), 30)
    gapIs(pair(found, 'tank-left', 'right'), 300)
    const turned = ledgerOf(tinyBay([wall], bareCandidate({ turn: [0, 0, 180], tanks: { left: tank() } })))
    gapIs(pair(turned, 'tank-left', 'wall'), 300)
  })

  test('overhangs grow the foot, negative ones shrink it', () => {
    const ahead = keepOut('ahead', { kind: 'halfSpace', point: [-100, 0, 0], normal: [1, 0, 0] })
    const behind = keepOut('behind', { kind: 'halfSpace', point: [100, 0, 0], normal: [-1, 0, 0] })
    const above = keepOut('above', { kind: 'halfSpace', point: [0, 0, 100], normal: [0, 0, -1] })
    const found = ledgerOf(
      tinyBay(
        [ahead, behind, floor, above],
        bareCandidate({ tanks: { right: tank({ front: 7, rear: -11, below: 5, above: 13 }) } }),
      ),
    )
    gapIs(pair(found, 'tank-right', 'ahead'), 50 - 7)
    gapIs(pair(found, 'tank-right', 'behind'), 50 + 11)
    gapIs(pair(found, 'tank-right', 'floor'), 20 - 5)
    gapIs(pair(found, 'tank-right', 'above'), 60 - 13)
  })

  test('a tapered tank: far end scaled about its own centre, sloping sides between', () => {
    // Foot Z −40…40 at Y 100; far end Z −20…20 at Y 170. A plane leaning like the lower side touches both edges of it.
    const tapered = bareCandidate({ tanks: { right: tank({ taper: { depth: 1, height: 0.5 } }) } })
    const slope = keepOut('slope', { kind: 'halfSpace', point: [0, 100, -60], normal: [0, -20, 70] })
    // From the foot's lower edge (100, −40) straight down 20 to the plane, times the cosine of its lean.
    gapIs(pair(ledgerOf(tinyBay([slope], tapered)), 'tank-right', 'slope'), (20 * 70) / Math.hypot(20, 70))
    // A box whose edge along X lies at Y 170, Z 23: 3 above the far end's upper edge, and nearest to the slope.
    const block = keepOut('block', { kind: 'box', at: [0, 180, 33], size: [10, 20, 20] })
    gapIs(pair(ledgerOf(tinyBay([block], tapered)), 'tank-right', 'block'), (3 * 70) / Math.hypot(20, 70))
    // A taper of the depth with unequal overhangs: foot X −60…50, centre −5, far end of half the depth: −32.5…22.5.
    const skew = bareCandidate({ tanks: { right: tank({ front: 10, taper: { depth: 0.5, height: 1 } }) } })
    const beside = keepOut('beside', { kind: 'box', at: [40, 190, 0], size: [10, 40, 10] })
    gapIs(pair(ledgerOf(tinyBay([beside], skew)), 'tank-right', 'beside'), ((35 - 22.5) * 70) / Math.hypot(27.5, 70))
  })

  test('stubs stand on the actual face, along its axis, their own direction, or turned with the core', () => {
    const ports = (change: object): Candidate =>
      bareCandidate({
        tanks: {
          right: tank({
            taper: { depth: 0.5, height: 0.5 },
            ports: [{ id: 'p', face: 'end', u: 0, v: 0, outsideDiameter: 20, length: 30, ...change }],
          }),
        },
      })
    const stub = (candidate: Candidate, other: KeepOut) =>
      pair(ledgerOf(tinyBay([other], candidate)), 'stub-right-p', other.id)
    const far = keepOut('far', { kind: 'halfSpace', point: [0, 230, 0], normal: [0, -1, 0] })
    const above = keepOut('above', { kind: 'halfSpace', point: [0, 0, 100], normal: [0, 0, -1] })
    const ahead = keepOut('ahead', { kind: 'halfSpace', point: [-100, 0, 0], normal: [1, 0, 0] })
    // End face at Y 170, half the foot: X −25…25, Z −20…20. The stub reaches to Y 200; at v 0.5 its axis lies at Z 10.
    gapIs(stub(ports({}), far), 30)
    gapIs(stub(ports({ v: 0.5 }), above), 100 - 10 - 10)
    gapIs(stub(ports({ u: -1 }), ahead), 100 - 25 - 10)
    // Front face: u 0 is half way out (Y 135), there half the depth is 37.5; 30 of stub reach to X −67.5.
    gapIs(stub(ports({ face: 'front' }), ahead), 100 - 67.5)
    gapIs(stub(ports({ face: 'front' }), far), 230 - 135 - 10)
    // On it, v 1 lies at half the height there: Z 30.
    gapIs(stub(ports({ face: 'front', v: 1 }), above), 100 - 30 - 10)
    // Upper face: u −1 at the foot (Y 100, Z 40), v along X: v −1 at X −50.
    gapIs(stub(ports({ face: 'above', u: -1, v: -1 }), above), 100 - 70)
    gapIs(stub(ports({ face: 'above', u: -1, v: -1 }), ahead), 100 - 50 - 10)
    // Lower and rear faces.
    gapIs(stub(ports({ face: 'below', u: 0 }), floor), 60 - 30 - 30)
    gapIs(
      stub(
        ports({ face: 'rear', u: 1, v: 0 }),
        keepOut('behind', { kind: 'halfSpace', point: [100, 0, 0], normal: [-1, 0, 0] }),
      ),
      100 - 25 - 30,
    )
    // Its own direction, 45° up from the end face: the rim of its flat end is the highest.
    gapIs(stub(ports({ direction: [0, 3, 3] }), above), 100 - 40 / Math.SQRT2)
    // Half a turn about Z brings it to the other side.
    gapIs(stub({ ...ports({}), turn: [0, 0, 180] }, far), 230 + 170)
  })
})

describe('pipes', () => {
  const pipe = (change: Partial<Pipe> = {}): Pipe => ({
    id: 'hot',
    name: 'Hot',
    from: 'turbo',
    to: 'tank-right:p',
    outsideDiameter: 20,
    wall: 1.5,
    bendRadius: 30,
    path: [],
    clearance: 0,
    ...change,
  })
  const withPort = (pipes: Pipe[], change: Partial<Candidate> = {}) =>
    bareCandidate({
      tanks: { right: tank({ ports: [{ id: 'p', face: 'end', u: 0, v: 0, outsideDiameter: 20, length: 30 }] }) },
      pipes,
      ...change,
    })
  // The stub ends at (0, 200, 0), looking along +Y.
  const turbo = {
    id: 'turbo',
    name: 'Turbo',
    at: [0, 400, 0] as [number, number, number],
    direction: [0, -2, 0] as [number, number, number],
    outsideDiameter: 20,
  }

  test('between ports that face each other in line: straight from stub end to port', () => {
    const block = keepOut('block', { kind: 'box', at: [0, 300, 60], size: [20, 20, 20] })
    const beyond = keepOut('beyond', { kind: 'halfSpace', point: [0, 420, 0], normal: [0, -1, 0] })
    const found = ledgerOf(tinyBay([block, beyond], withPort([pipe()]), [turbo]))
    expect(found.unrouted).toEqual([])
    gapIs(pair(found, 'pipe-hot', 'block'), 50 - 10)
    gapIs(pair(found, 'pipe-hot', 'beyond'), 20)
    gapIs(pair(found, 'pipe-hot', 'core'), 100)
  })

  test('without a path and out of line it is not routed, which caps the verdict', () => {
    const aside = { ...turbo, at: [40, 400, 0] as [number, number, number] }
    const found = ledgerOf(tinyBay([floor], withPort([pipe()]), [aside]))
    expect(found).toMatchObject({ unrouted: ['hot'], verdict: 'unproved', exempt: [] })
    expect(found.pairs.every((each) => each.verdict === 'clears')).toBe(true)
    const away = { ...turbo, direction: [0, 1, 0] as [number, number, number] }
    expect(ledgerOf(tinyBay([floor], withPort([pipe()]), [away])).unrouted).toEqual(['hot'])
  })

  test('a corner is rounded exactly: beyond its outside, distance + R(√2 − 1) − r', () => {
    // Corner at (0, 300, 0), from +Y up to +Z. A plane square to the diagonal, 25 outside of the corner.
    const up = {
      ...turbo,
      at: [0, 300, 150] as [number, number, number],
      direction: [0, 0, -1] as [number, number, number],
    }
    const share = 25 / Math.SQRT2
    const plane = keepOut('plane', { kind: 'halfSpace', point: [0, 300 + share, -share], normal: [0, -1, 1] })
    const found = ledgerOf(tinyBay([plane], withPort([pipe({ path: [[0, 300, 0]] })]), [up]))
    gapIs(pair(found, 'pipe-hot', 'plane'), 25 + 30 * (Math.SQRT2 - 1) - 10)
  })

  test('it is exempt over 1.5 outside diameters from its tank, its stub and what the port sits on, and nothing else', () => {
    const block = keepOut('block', { kind: 'box', at: [0, 410, 0], size: [40, 20, 40] })
    const other = keepOut('other', { kind: 'box', at: [0, 410, 0], size: [40, 20, 40] })
    const found = ledgerOf(tinyBay([block, other], withPort([pipe()]), [{ ...turbo, sitsOn: 'block' }]))
    // Without its ends the pipe reaches from Y 230 to Y 370.
    gapIs(pair(found, 'pipe-hot', 'block'), 30)
    gapIs(pair(found, 'pipe-hot', 'other'), 0)
    gapIs(pair(found, 'pipe-hot', 'tank-right'), 60)
    gapIs(pair(found, 'pipe-hot', 'stub-right-p'), 30)
    expect(pair(found, 'pipe-hot', 'tank-right')).toMatchObject({ between: 'parts', role: 'part' })
    expect(found.exempt).toEqual([
      { part: 'pipe-hot', from: 'block', length: 30 },
      { part: 'pipe-hot', from: 'tank-right', length: 30 },
      { part: 'pipe-hot', from: 'stub-right-p', length: 30 },
    ])
  })

  test('a pipe shorter than the exempt length is not held against what it is joined to', () => {
    const near = { ...turbo, at: [0, 225, 0] as [number, number, number] }
    const found = ledgerOf(tinyBay([floor], withPort([pipe()]), [near]))
    expect(found.pairs.map((each) => `${each.part} ${each.keepOut}`).sort()).toEqual([
      'core floor',
      'pipe-hot core',
      'pipe-hot floor',
      'stub-right-p floor',
      'tank-right floor',
    ])
    expect(found.exempt).toEqual([
      { part: 'pipe-hot', from: 'tank-right', length: 25 },
      { part: 'pipe-hot', from: 'stub-right-p', length: 25 },
    ])
  })

  test('two pipes: the larger clearance, both tolerances, no uncertainty; the default is said to be assumed', () => {
    const ports = [
      turbo,
      {
        ...turbo,
        id: 'a',
        at: [0, 300, 100] as [number, number, number],
        direction: [1, 0, 0] as [number, number, number],
      },
      {
        ...turbo,
        id: 'b',
        at: [100, 300, 100] as [number, number, number],
        direction: [-1, 0, 0] as [number, number, number],
      },
    ]
    const second = pipe({ id: 'second', from: 'a', to: 'b', tolerance: 0.5, clearance: 8 })
    const found = ledgerOf(tinyBay([], withPort([pipe({ tolerance: 2, clearance: undefined }), second]), ports))
    const both = pair(found, 'pipe-hot', 'pipe-second')
    gapIs(both, 80)
    expect(both).toMatchObject({
      required: 8,
      tolerance: 2.5,
      uncertainty: 0,
      between: 'parts',
      margin: 80 - both.error - 2.5 - 8,
    })
    expect(both.assumed).toBeUndefined()
    expect(pair(found, 'pipe-hot', 'core')).toMatchObject({ required: 5, assumed: ['clearance'] })
    expect(found.pairs.filter((each) => each.keepOut === 'pipe-hot')).toEqual([])
    // Core, tank and stub are one welded body.
    expect(found.pairs.filter((each) => !each.part.startsWith('pipe-'))).toEqual([])
  })

  test('a pipe whose corners cannot be rounded has no solid: the bay is read, the ledger refuses it', () => {
    const bay = tinyBay(
      [floor],
      withPort([
        pipe({
          bendRadius: 80,
          path: [
            [50, 300, 0],
            [50, 350, 0],
          ],
        }),
      ]),
      [turbo],
    )
    expect(checkBay(bay).ok).toBe(true)
    const refused = ledger(bay, undefined, noMeshes)
    expect(refused.ok).toBe(false)
    if (!refused.ok) {
      expect(refused.faults[0]).toMatchObject({ code: 'straight-too-short', item: 'hot' })
      expect(refused.faults[0].field).toMatch(/^candidates\[0\]\.pipes\[0\]\.path\[\d\]$/)
    }
  })
})

describe('what is asked and what is said', () => {
  const box: KeepOut['shape'] = { kind: 'box', at: [80, 0, 0], size: [20, 20, 20] }

  test('defaults by role are used and named as assumed', () => {
    const plain: KeepOut = { id: 'hot', name: 'Hot', role: 'hot', shape: box }
    const half: KeepOut = { id: 'half', name: 'Half', role: 'moving', clearance: 4, shape: box }
    const found = ledgerOf(
      tinyBay([plain, half], bareCandidate({ core: { depth: 100, width: 200, height: 80, tolerance: 1 } })),
    )
    expect(pair(found, 'core', 'hot')).toMatchObject({
      required: 25,
      uncertainty: 3,
      tolerance: 1,
      assumed: ['clearance', 'uncertainty'],
      verdict: 'short',
    })
    expect(pair(found, 'core', 'half')).toMatchObject({
      required: 4,
      uncertainty: 3,
      assumed: ['uncertainty'],
      verdict: 'clears',
    })
    expect(pair(found, 'core', 'half').margin).toBeCloseTo(20 - 1 - 3 - 4, 6)
    expect(found.verdict).toBe('short')
  })

  test('smallest margin first, then by names', () => {
    const at = (id: string, x: number, clearance: number) =>
      keepOut(id, { kind: 'box', at: [x, 0, 0], size: [20, 20, 20] }, { clearance })
    const found = ledgerOf(tinyBay([at('b', 80, 0), at('c', 90, 25), at('a', 80, 0), at('d', 70, 0)]))
    expect(found.pairs.map((each) => each.keepOut)).toEqual(['c', 'd', 'a', 'b'])
  })

  test('what is left out is named, mirror image included, and caps the verdict', () => {
    const gone = keepOut('gone', { kind: 'mesh', file: 'not-read.stl', unit: 'mm' }, { enabled: false, mirror: true })
    const found = ledgerOf(tinyBay([keepOut('it', box), gone]))
    expect(found).toMatchObject({ leftOut: ['gone', 'gone-mirror'], verdict: 'unproved' })
    expect(found.pairs.map((each) => each.keepOut)).toEqual(['it'])
    expect(ledgerOf(tinyBay([keepOut('it', box, { clearance: 50 }), gone])).verdict).toBe('short')
  })

  test('nothing to compare proves nothing', () => {
    expect(ledgerOf(tinyBay([]))).toMatchObject({ pairs: [], verdict: 'unproved' })
  })

  test('the first candidate is meant unless another is named; an unknown one is refused with the nearest', () => {
    const bay = tinyBay([keepOut('it', box)])
    bay.candidates.push(bareCandidate({ id: 'second', at: [-10, 0, 0] }))
    expect(ledgerOf(bay).candidate).toBe('only')
    gapIs(pair(ledgerOf(bay, noMeshes, 'second'), 'core', 'it'), 30)
    expect(ledger(bay, 'secnd', noMeshes)).toEqual({
      ok: false,
      faults: [
        {
          code: 'unknown-candidate',
          field: 'candidates',
          expected: 'one of only, second',
          got: 'secnd',
          nearest: 'second',
        },
      ],
    })
    expect(ledger({ ...bay, candidates: [] }, undefined, noMeshes)).toMatchObject({
      ok: false,
      faults: [{ code: 'no-candidate' }],
    })
  })

  test('a mesh that was not read, and every other solid that cannot be made, are faults with their place', () => {
    const bay = tinyBay(
      [
        keepOut('it', box),
        keepOut('scan', { kind: 'mesh', file: 'scan.stl', unit: 'mm' }),
        keepOut('flat', {
          kind: 'hull',
          points: [
            [0, 0, 0],
            [1, 0, 0],
            [0, 1, 0],
            [1, 1, 0],
          ],
        }),
      ],
      bareCandidate({ core: { depth: 1e-9, width: 200, height: 80 } }),
    )
    const made = ledger(bay, undefined, noMeshes)
    expect(made.ok ? [] : made.faults.map(({ code, item, field }) => [code, item, field])).toEqual([
      ['mesh-missing', 'scan', 'keepOuts[1].shape.file'],
      ['planar-hull', 'flat', 'keepOuts[2].shape.points'],
      ['too-small', 'only', 'candidates[0].core'],
    ])
  })
})
