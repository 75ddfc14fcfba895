import { expect, test } from 'vitest'
import { roomBay, roomBox } from '../../test/kit/coreRooms.ts'
import { mountedBay, plate, rail, stud } from '../../test/kit/mountedBay.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { keepOut } from '../../test/kit/tinyBay.ts'
import type { Mount } from '../bay/mountSchema.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import type { Meshes } from '../bay/part.ts'
import { turnMatrix } from '../shape/vec.ts'
import { ledger } from '../verdict/ledger.ts'
import { largest, type LargestAnswer } from './largest.ts'
import { place } from './place.ts'

function someMount(random: Random, id: string, tanks: Candidate['tanks']): Mount {
  const place = { u: random.real(-1, 1), v: random.real(-1, 1) }
  const turn = random.chance(0.6) ? random.pick([0, 90]) : random.real(0, 180)
  const size = () => random.real(10, 70)
  return {
    id,
    name: id,
    on:
      tanks?.left && random.chance(0.5)
        ? { part: 'tank-left', face: random.pick(['end', 'front', 'rear', 'below', 'above'] as const), ...place }
        : { part: 'core', face: random.pick(['front', 'rear', 'below', 'above', 'left'] as const), ...place },
    shape: random.pick<Mount['shape']>([
      { kind: 'plate', size: [size(), size()], thickness: 3, stands: random.pick(['flat', 'out']), turn },
      { kind: 'block', size: [size(), size(), size()], turn },
      { kind: 'pin', diameter: random.real(4, 12), length: size() },
    ]),
    tolerance: random.real(0, 1),
  }
}

const clears = (bay: Bay, meshes: Meshes, candidate: Candidate): boolean => {
  const checked = ledger({ ...bay, candidates: [candidate] }, undefined, meshes)
  return checked.ok && checked.value.pairs.every((pair) => pair.verdict === 'clears')
}

test('30 rooms with mounts: what is found clears, mounts and all, and nothing sampled beats the bound (seeds 201 to 230)', () => {
  const stopped: string[] = []
  let held = 0
  let sampled = 0
  for (let seed = 201; seed <= 230; seed++) {
    const random = seeded(seed)
    const { bay: bare, meshes } = roomBay(random)
    const [before] = bare.candidates
    const mounts = [0, 1, 2].map((number) => someMount(random, `m${number}`, before.tanks))
    const bay: Bay = { ...bare, candidates: [{ ...before, mounts }] }
    const request = { withinBox: roomBox, holds: false, within: 0.01, work: 1500 }
    const answer = largest(bay, undefined, meshes, request)
    const without = largest(bare, undefined, meshes, request)
    if (!answer.ok || !without.ok) throw new Error('faults')
    stopped.push(answer.value.stopped)
    expect(answer.value.upperBound).toBeLessThanOrEqual(without.value.upperBound * (1 + 0.0101))
    if (answer.value.answer !== 'found') continue
    const { candidate, value, upperBound } = answer.value
    expect(candidate.mounts).toEqual(mounts)
    expect(clears(bay, meshes, candidate)).toBe(true)
    if (without.value.answer === 'found' && value < without.value.value * 0.98) held++
    // About the core found, somewhat larger each way: none that clears with its mounts is worth more than the bound.
    for (let i = 0; i < 600; i++) {
      const grow = () => random.real(0.99, 1.06)
      const { depth, width, height } = candidate.core
      const fixed = before.limits?.depth?.stock ? 1 : grow()
      const core = { ...candidate.core, depth: depth * fixed, width: width * grow(), height }
      if (!before.limits?.height) core.height *= grow()
      if (core.depth * core.width * core.height <= upperBound) continue
      const at = candidate.at.map((x) => x + random.real(-4, 4)) as [number, number, number]
      const size = [core.depth, core.width, core.height]
      const m = turnMatrix(candidate.turn)
      const extent = [0, 1, 2].map((k) => size.reduce((sum, x, j) => sum + Math.abs(m[3 * k + j]) * x, 0))
      if (at.some((x, k) => Math.abs(x) + extent[k] / 2 > 150) || before.limits?.centre) continue
      sampled++
      expect(clears(bay, meshes, { ...candidate, core, at })).toBe(false)
    }
  }
  expect(stopped.filter((why) => why === 'proved').length).toBeGreaterThan(24)
  expect(held).toBeGreaterThan(5)
  expect(sampled).toBeGreaterThan(100)
})

const limits = {
  depth: { min: 100, max: 100 },
  width: { min: 100, max: 400 },
  height: { min: 80, max: 80 },
  centre: { min: [0, 0, 0] as [number, number, number], max: [0, 0, 0] as [number, number, number] },
}
const walls = [-1, 1].map((side) =>
  keepOut(side < 0 ? 'left' : 'right', { kind: 'box', at: [0, side * 200, 0], size: [300, 100, 300] }),
)

function found(bay: Bay): LargestAnswer {
  const answer = largest(bay, undefined, new Map(), { within: 1e-4 })
  if (!answer.ok || answer.value.answer !== 'found') throw new Error(JSON.stringify(answer))
  return answer.value
}

test('a bracket at the core’s end takes its own length of the width', () => {
  const ear = plate({
    on: { part: 'core', face: 'right', u: 0, v: 0 },
    shape: { kind: 'block', size: [20, 20, 17.5], holes: [{ diameter: 10, fixing: 'stud' }] },
  })
  // Walls at ±150, the middle fixed: without 300, with it 2 · (150 − 17.5).
  expect(found(mountedBay([], [stud()], { limits }, walls)).core.width).toBeCloseTo(300, 1)
  const { core, holds } = found(mountedBay([ear], [stud({ sitsOn: undefined })], { limits }, walls))
  expect(core.width).toBeCloseTo(265, 1)
  expect(holds.filter((hold) => 'part' in hold).map(({ part }) => part)).toEqual(['mount-foot'])
})

test('not against what it is fixed to, box or half-space', () => {
  const wall = keepOut('wall', { kind: 'halfSpace', point: [0, 150, 0], normal: [0, -1, 0] })
  for (const right of [walls[1], wall]) {
    const ear = plate({
      on: { part: 'core', face: 'right', u: 0, v: 0 },
      shape: { kind: 'block', size: [20, 20, 17.5], holes: [{ diameter: 10, fixing: 'stud' }] },
    })
    const free = found(mountedBay([ear], [stud({ sitsOn: right.id })], { limits }, [walls[0], right]))
    expect(free.core.width).toBeCloseTo(300, 1)
    const held = found(mountedBay([ear], [stud({ sitsOn: undefined })], { limits }, [walls[0], right]))
    expect(held.core.width).toBeCloseTo(265, 1)
  }
})

test('the best place keeps what mounts ask for too, save of what they are fixed to', () => {
  const foot = plate({ shape: { kind: 'plate', size: [60, 40], thickness: 3, standOff: 17 } })
  const lid = keepOut('lid', { kind: 'box', at: [0, 0, 120], size: [300, 300, 40] })
  const margin = (sitsOn: string | undefined) => {
    const mounts: Mount[] = [
      { ...foot, shape: { ...foot.shape, holes: [{ diameter: 10, fixing: 'stud' }] } as Mount['shape'] },
    ]
    const answer = place(mountedBay(mounts, [stud({ sitsOn })], {}, [rail, lid]), undefined, new Map(), {
      free: { x: false, y: false, z: true },
    })
    if (!answer.ok) throw new Error('faults')
    return answer.value.margin.atLeast
  }
  // Between rail at −60 and lid at 100 there are 160 mm for a core of 80: 40 each; with the foot of 20 mm, 30.
  expect(margin('rail')).toBeCloseTo(40, 0)
  expect(margin(undefined)).toBeCloseTo(30, 0)
})
