import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { bar, block, subjectOf, wall } from '../../test/kit/seatBays.ts'
import { keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { ledger } from '../verdict/ledger.ts'
import { LedgerMemory } from '../verdict/memory.ts'
import type { Move } from './answer.ts'
import { decide } from './certify.ts'
import { poseOf, startOf } from './move.ts'
import { sweptBay } from './sweptBay.ts'

const none = new Map()
const shift = (x: number, y: number, z: number): Move => ({
  shift: [x, y, z],
  pivot: [0, 0, 0],
  axis: [0, 0, 1],
  angle: 0,
})
const tilt: Move = { shift: [10, 0, 25], pivot: [-20, 0, -60], axis: [0, 1, 0], angle: 24 }

/** One of each form that has an inside, about where the moves go. */
const forms: Bay['keepOuts'] = [
  block('beam', [-150, -95], [-400, 400], [-50, 20], 3),
  wall('rear', [110, 0, 0], [-1, 0, 0], 2),
  wall('right', [0, 170, 0], [0, -1, -0.1], 2),
  keepOut('post', { kind: 'cylinder', from: [120, -150, -200], to: [60, -150, 160], radius: 20 }, { clearance: 4 }),
  keepOut(
    'hose',
    {
      kind: 'tube',
      path: [
        [-60, 160, -300],
        [-60, 160, 90],
        [-60, -160, 90],
        [60, -160, 90],
      ],
      radius: 12,
      bendRadius: 50,
    },
    { clearance: 3 },
  ),
]

/** Solids are made once: there are hundreds in a swept bay. */
const least = (bay: Bay, memory: LedgerMemory): number => {
  const all = ledger(bay, undefined, none, memory)
  if (!all.ok) throw new Error(JSON.stringify(all.faults))
  return all.value.pairs.reduce((worst, { margin }) => Math.min(worst, margin), Infinity)
}

function drawn(random: ReturnType<typeof seeded>, turn: [number, number, number]): Candidate {
  const at: [number, number, number] = [random.real(-40, 60), random.real(-60, 60), random.real(-60, 30)]
  return bar(random.real(20, 120), random.real(60, 260), random.real(30, 160), { at, turn })
}

test('whatever comes in by the moves, turning ones too, stands clear in the swept bay (seed 5)', () => {
  const random = seeded(5)
  const ways: Move[][] = [[shift(0, 0, 300)], [shift(30, 0, 280), tilt, shift(0, 5, 20)], [shift(0, 40, 260), tilt]]
  let proved = 0
  let refuted = 0
  for (const moves of ways) {
    const swept = sweptBay(tinyBay(forms, bar(50, 100, 50)), bar(50, 100, 50), none, moves, 1e6)
    if (!swept) throw new Error('not swept')
    const memory = new LedgerMemory()
    for (let i = 0; i < 60; i++) {
      const candidate = drawn(random, [0, random.pick([0, 6]), 0])
      const own = tinyBay(forms, candidate)
      const start = startOf(poseOf(candidate), moves)
      if (decide(subjectOf(own), { start, moves }) === 'proved') {
        proved++
        expect(least({ ...swept.bay, candidates: [candidate] }, memory)).toBeGreaterThan(-1e-6)
      } else refuted++
    }
  }
  expect(proved).toBeGreaterThan(20)
  expect(refuted).toBeGreaterThan(20)
})

test('with flat solids and shifts alone it is the other way round as well (seed 6)', () => {
  const random = seeded(6)
  const flat = forms.slice(0, 3)
  const moves = [shift(60, 0, 240), shift(-30, 10, 60)]
  const swept = sweptBay(tinyBay(flat, bar(50, 100, 50)), bar(50, 100, 50), none, moves, 1e6)
  if (!swept) throw new Error('not swept')
  expect(swept.notCounted).toEqual([])
  let clear = 0
  const memory = new LedgerMemory()
  for (let i = 0; i < 120; i++) {
    const candidate = drawn(random, [0, 0, 0])
    if (least({ ...swept.bay, candidates: [candidate] }, memory) < 1e-6) continue
    clear++
    const start = startOf(poseOf(candidate), moves)
    expect(decide(subjectOf(tinyBay(flat, candidate)), { start, moves })).toBe('proved')
  }
  expect(clear).toBeGreaterThan(10)
})

test('mounts are left out, and meshes are told', () => {
  const moves = [shift(0, 0, 300)]
  const mesh = keepOut('cover', { kind: 'mesh', file: 'cover.stl', unit: 'mm' })
  const positions = Float64Array.of(-200, 0, 0, -200, 50, 0, -200, 0, 50)
  const meshes = new Map([['cover.stl', { positions, triangles: Uint32Array.of(0, 1, 2), closed: false }]])
  const swept = sweptBay(tinyBay([...forms, mesh], bar(50, 100, 50)), bar(50, 100, 50), meshes, moves, 3)
  expect(swept?.notCounted).toEqual(['cover'])
  expect(swept?.bay.candidates[0]?.mounts).toBeUndefined()
})
