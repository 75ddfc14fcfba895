import { describe, expect, test } from 'vitest'
import { jointedBay, shortHose, straightPipe, turboPort } from '../../test/kit/jointedBay.ts'
import { seeded } from '../../test/kit/random.ts'
import { keepOut } from '../../test/kit/tinyBay.ts'
import { checkBay } from '../bay/read.ts'
import type { Bay, KeepOut, Port } from '../bay/schema.ts'
import type { Coupler, CouplerJoint } from '../bay/workshopSchema.ts'
import type { Ledger, LedgerPair } from './answer.ts'
import { ledger } from './ledger.ts'
import { LedgerMemory } from './memory.ts'

/** Couplers and clamps in the ledger. Geometry by hand: see jointedBay. */

function ledgerOf(bay: Bay, memory?: LedgerMemory): Ledger {
  const checked = checkBay(bay)
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
  const made = ledger(bay, undefined, new Map(), memory)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const rows = (found: Ledger, part: string): string[] =>
  found.pairs
    .filter((pair) => pair.part === part)
    .map((pair) => pair.keepOut)
    .sort()
const pair = (found: Ledger, part: string, other: string): LedgerPair => {
  const match = found.pairs.find((each) => each.part === part && each.keepOut === other)
  if (!match)
    throw new Error(`${part} and ${other} are not in ${found.pairs.map((each) => `${each.part}·${each.keepOut}`)}`)
  return match
}
const gapIs = (found: LedgerPair, gap: number) => {
  expect(Math.abs(found.gap - gap)).toBeLessThan(1e-6)
  expect(found.gap - found.error).toBeLessThanOrEqual(gap + 1e-9)
  expect(found.error).toBeLessThanOrEqual(0.001)
}
const at = (coupler: string, more: Partial<CouplerJoint> = {}): CouplerJoint => ({ kind: 'coupler', coupler, ...more })
const clamps = { port: { clamp: 'band' }, pipe: { clamp: 'band' } }
const far = keepOut('far', { kind: 'halfSpace', point: [0, 0, 100], normal: [0, 0, -1] })
const both = { from: at('short', { gap: 4, clamps }), to: at('short', { gap: 4, clamps }) }

describe('what a coupler and its clamps are held against', () => {
  const found = ledgerOf(jointedBay([straightPipe({ joints: both })], [far]))

  test('every keep-out', () => {
    gapIs(pair(found, 'coupler-hot-from', 'far'), 100 - 13)
    gapIs(pair(found, 'clamp-hot-from-port', 'far'), 100 - 21)
    gapIs(pair(found, 'clamp-hot-to-pipe', 'far'), 100 - 21)
  })

  test('every part but their own pipe, stub, and each other at one joint; and their tank, near the port', () => {
    // To the core’s side at Y 100: the coupler at the stub begins at Y 180, its clamp's band at Y 186.
    gapIs(pair(found, 'coupler-hot-to', 'core'), 80)
    gapIs(pair(found, 'clamp-hot-to-port', 'core'), 86)
    const atTurbo = ['coupler-hot-from', 'clamp-hot-from-port', 'clamp-hot-from-pipe']
    const atTank = ['coupler-hot-to', 'clamp-hot-to-port', 'clamp-hot-to-pipe']
    for (const part of atTurbo)
      expect(rows(found, part)).toEqual([...atTank, 'core', 'far', 'stub-right-p', 'tank-right'].sort())
    for (const part of atTank) expect(rows(found, part)).toEqual(['core', 'far'])
    expect(rows(found, 'pipe-hot')).toEqual(['core', 'far', 'stub-right-p', 'tank-right'])
    // The two couplers: Y 224 to Y 376.
    gapIs(pair(found, 'coupler-hot-from', 'coupler-hot-to'), 152)
    expect(pair(found, 'coupler-hot-from', 'coupler-hot-to')).toMatchObject({ between: 'parts', role: 'part' })
    expect(found.verdict).toBe('clears')
  })

  test('what is exempt is said: couplers and clamps by length, the pipe by what the coupler left of it', () => {
    expect(found.exempt).toEqual([
      { part: 'pipe-hot', from: 'tank-right', length: 26 },
      { part: 'pipe-hot', from: 'stub-right-p', length: 26 },
      { part: 'coupler-hot-to', from: 'tank-right', length: 44 },
      { part: 'clamp-hot-to-port', from: 'tank-right', length: 10 },
      { part: 'clamp-hot-to-pipe', from: 'tank-right', length: 10 },
    ])
    // The pipe begins at Y 204; 26 of it are exempt.
    gapIs(pair(found, 'pipe-hot', 'tank-right'), 60)
  })

  test('the clearance is the pipe’s, or what is usual, and said to be assumed', () => {
    const usual = ledgerOf(jointedBay([straightPipe({ joints: both, clearance: undefined })], [far]))
    expect(pair(usual, 'coupler-hot-to', 'core')).toMatchObject({ required: 5, assumed: ['clearance'] })
    const wide = ledgerOf(jointedBay([straightPipe({ joints: both, clearance: 12 })], [far]))
    expect(pair(wide, 'clamp-hot-to-pipe', 'core').required).toBe(12)
    expect(pair(wide, 'clamp-hot-to-pipe', 'far').required).toBe(0)
  })
})

describe('near the port that a joint belongs to', () => {
  const wall: KeepOut = keepOut('wall', { kind: 'box', at: [0, 420, 0], size: [100, 40, 100] })
  const seated = (coupler: string, more: Partial<CouplerJoint> = {}) =>
    ledgerOf(
      jointedBay([straightPipe({ joints: { from: at(coupler, more) } })], [wall], [turboPort({ sitsOn: 'wall' })]),
    )

  test('a coupler is held from 1.5 outside diameters beyond it', () => {
    // 100 long, gap 4: from 48 behind the port to 52 beyond; beyond 30 it is held: from Y 370 down, the wall begins at Y 400.
    const found = seated('long', { gap: 4, clamps })
    gapIs(pair(found, 'coupler-hot-from', 'wall'), 30)
    expect(found.exempt.filter(({ part }) => part !== 'pipe-hot')).toEqual([
      { part: 'coupler-hot-from', from: 'wall', length: 78 },
      { part: 'clamp-hot-from-port', from: 'wall', length: 10 },
    ])
    // The pipe's clamp lies from 36 to 46 beyond the port, so it is held: band's far side from the port 36.
    gapIs(pair(found, 'clamp-hot-from-pipe', 'wall'), 36)
    expect(found.pairs.some((each) => each.part === 'clamp-hot-from-port' && each.keepOut === 'wall')).toBe(false)
  })

  test('an elbow likewise, and a pipe that begins beyond it wholly', () => {
    // Leg 10, arc 47.1: exempt until 20 along the arc. The pipe begins beyond 30.
    const pipe = straightPipe({
      joints: { from: at('corner', { roll: 0 }) },
      path: [
        [0, 360, 100],
        [0, 250, 100],
        [0, 250, 0],
      ],
    })
    const found = ledgerOf(jointedBay([pipe], [wall], [turboPort({ sitsOn: 'wall' })]))
    expect(found.exempt.filter(({ from }) => from === 'wall')).toEqual([
      { part: 'coupler-hot-from', from: 'wall', length: 45 },
    ])
    // 20 on the arc of 30 is 2/3 rad: the disc there stands at Y 390 − 30 sin, and its inner rim 13 sin nearer to the wall.
    gapIs(pair(found, 'coupler-hot-from', 'wall'), 10 + 17 * Math.sin(2 / 3))
    gapIs(pair(found, 'pipe-hot', 'wall'), 400 - 360 - 10)
  })

  test('whatever the hose: nothing is held nearer than 1.5 outside diameters to the port, and all of it from there (seed 7)', () => {
    const random = seeded(7)
    let reaching = 0
    for (let i = 0; i < 60; i++) {
      const [length, gap] = [random.real(32, 90), random.chance(0.2) ? random.real(30, 31.9) : random.real(0, 30)]
      const bay = jointedBay(
        [straightPipe({ joints: { from: at('cut', { gap }) } })],
        [wall],
        [turboPort({ sitsOn: 'wall' })],
      )
      const cut = { ...shortHose, id: 'cut', length } as Coupler
      const found = ledgerOf({ ...bay, stock: { couplers: [cut] } })
      const ofWall = found.exempt.filter(({ from }) => from === 'wall')
      const exempt = new Map(ofWall.map((each) => [each.part, each.length]))
      const insertion = (length - gap) / 2
      const beyond = insertion + gap
      if (beyond > 30) {
        reaching++
        gapIs(pair(found, 'coupler-hot-from', 'wall'), 30)
      } else expect(rows(found, 'coupler-hot-from')).not.toContain('wall')
      expect(exempt.get('coupler-hot-from')).toBeCloseTo(Math.min(length, insertion + 30), 9)
      gapIs(pair(found, 'pipe-hot', 'wall'), Math.max(30, gap))
      expect(exempt.get('pipe-hot') ?? 0).toBeCloseTo(Math.max(0, 30 - gap), 9)
    }
    expect(reaching).toBeGreaterThan(20)
    expect(reaching).toBeLessThan(52)
  })

  test('another keep-out in the same place is held all the same', () => {
    const other = keepOut('other', wall.shape)
    const bay = jointedBay(
      [straightPipe({ joints: { from: at('short') } })],
      [wall, other],
      [turboPort({ sitsOn: 'wall' })],
    )
    gapIs(pair(ledgerOf(bay), 'coupler-hot-from', 'other'), 0)
    expect(pair(ledgerOf(bay), 'coupler-hot-from', 'other').verdict).toBe('fouls')
  })

  test('a hose that reaches over a short stub into its tank is exempt there, as the clamp behind the port is', () => {
    const found = ledgerOf(jointedBay([straightPipe({ joints: { to: at('long', { gap: 0, clamps }) } })], [far]))
    expect(rows(found, 'clamp-hot-to-port')).toEqual(['core', 'far'])
    // Beyond 30 of the port: from Y 230, the tank ends at Y 170.
    gapIs(pair(found, 'coupler-hot-to', 'tank-right'), 60)
  })
})

describe('two pipes', () => {
  const ports: Port[] = [
    turboPort(),
    turboPort({ id: 'a', at: [50, 400, 0] }),
    turboPort({ id: 'b', at: [50, 200, 0], direction: [0, 1, 0] }),
  ]
  const second = straightPipe({
    id: 'cold',
    from: 'a',
    to: 'b',
    clearance: 8,
    joints: { from: at('hump', { clamps }) },
  })

  test('pipe and couplers of one against those of the other, each pair once, the larger clearance', () => {
    const found = ledgerOf(jointedBay([straightPipe({ joints: both }), second], [], ports))
    gapIs(pair(found, 'pipe-hot', 'pipe-cold'), 30)
    gapIs(pair(found, 'pipe-hot', 'coupler-cold-from'), 50 - 10 - 17)
    gapIs(pair(found, 'coupler-hot-from', 'pipe-cold'), 50 - 13 - 10)
    gapIs(pair(found, 'coupler-hot-from', 'coupler-cold-from'), 50 - 13 - 17)
    gapIs(pair(found, 'clamp-hot-from-port', 'coupler-cold-from'), 50 - 21 - 17)
    expect(pair(found, 'coupler-hot-from', 'coupler-cold-from').required).toBe(8)
    const keys = found.pairs.map((each) => [each.part, each.keepOut].sort().join(' '))
    expect(new Set(keys).size).toBe(keys.length)
    expect(found.pairs.some((each) => each.part === 'coupler-cold-from' && each.keepOut === 'pipe-cold')).toBe(false)
  })

  test('couplers of a pipe that is not routed are held, and the verdict stays unproved', () => {
    const aside = turboPort({ id: 'a', at: [15, 380, 0] })
    const unrouted = { ...second, joints: { from: at('short') } }
    const found = ledgerOf(jointedBay([straightPipe(), unrouted], [], [ports[0], aside, ports[2]]))
    expect(found.unrouted).toEqual(['cold'])
    expect(pair(found, 'pipe-hot', 'coupler-cold-from')).toMatchObject({ gap: 0, verdict: 'fouls' })
  })

  test('movement of either stands in the tolerance, and says its share', () => {
    const moving = [{ ...ports[0], movement: 3 }, { ...ports[1], movement: 4 }, ports[2]]
    const found = ledgerOf(jointedBay([straightPipe({ joints: both, tolerance: 1 }), second], [far], moving))
    expect(pair(found, 'pipe-hot', 'coupler-cold-from')).toMatchObject({ tolerance: 8, movement: 7 })
    expect(pair(found, 'pipe-hot', 'far')).toMatchObject({ tolerance: 4, movement: 3 })
    expect(pair(found, 'coupler-cold-from', 'far')).toMatchObject({ tolerance: 4, movement: 4 })
    expect(pair(found, 'coupler-hot-to', 'core')).toMatchObject({ tolerance: 3, movement: 3 })
    expect(pair(found, 'core', 'far').movement).toBeUndefined()
    const margin = pair(found, 'pipe-hot', 'far')
    expect(margin.margin).toBeCloseTo(90 - 4 - margin.error, 6)
  })
})

test('a memory that saw the candidate elsewhere gives the same gaps and verdicts', () => {
  const memory = new LedgerMemory()
  const joints = { from: at('hump', { clamps }), to: at('corner', { clamps, roll: 30 }) }
  let compared = 0
  for (let step = 0; step < 25; step++) {
    const bay = jointedBay([straightPipe({ joints, path: [[0, 330, 60]] })], [far])
    const moved = {
      ...bay,
      candidates: [
        { ...bay.candidates[0], at: [step, -2 * step, step / 2], turn: [step / 5, -step / 4, step / 3] },
      ] as Bay['candidates'],
    }
    const [warm, fresh] = [ledgerOf(moved, memory), ledgerOf(moved)]
    expect(warm.pairs).toHaveLength(fresh.pairs.length)
    for (const each of fresh.pairs) {
      const other = pair(warm, each.part, each.keepOut)
      expect(Math.abs(other.gap - each.gap)).toBeLessThanOrEqual(each.error + other.error + 1e-9)
      expect(other.verdict).toBe(each.verdict)
      compared++
    }
  }
  expect(compared).toBeGreaterThan(700)
})
