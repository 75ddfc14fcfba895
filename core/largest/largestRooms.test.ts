import { describe, expect, test } from 'vitest'
import { roomBay, roomBox } from '../../test/kit/coreRooms.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import type { Meshes } from '../bay/part.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { turnMatrix } from '../shape/vec.ts'
import { ledger } from '../verdict/ledger.ts'
import { type LargestRequest, largest } from './largest.ts'

const asked = (bay: Bay, meshes: Meshes, request: LargestRequest) => {
  const answer = largest(bay, undefined, meshes, { withinBox: roomBox, holds: false, ...request })
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

const clears = (bay: Bay, meshes: Meshes, candidate: Candidate): boolean => {
  const checked = ledger({ ...bay, candidates: [candidate] }, undefined, meshes)
  return checked.ok && checked.value.pairs.every((pair) => pair.verdict === 'clears')
}

/** A core of any proportions and place that the limits allow, a little larger than the bound; undefined where none came up. */
function larger(
  random: Random,
  { limits = {}, ...candidate }: Candidate,
  bound: number,
  tilt: number,
): Candidate | undefined {
  const shape = [random.real(0.3, 3), random.real(0.3, 3), random.real(0.3, 3)]
  const grown = Math.cbrt((Math.max(bound, 100) * 1.0005) / (shape[0] * shape[1] * shape[2]))
  const size = shape.map((x) => x * grown)
  if (limits.depth?.stock) size[0] = random.pick(limits.depth.stock)
  if (limits.height?.pitch) {
    const { pitch, offset = 0 } = limits.height
    size[2] = pitch * Math.max(1, Math.round((size[2] - offset) / pitch)) + offset
  }
  size[1] = Math.max(size[1], (Math.max(bound, 100) * 1.0005) / (size[0] * size[2]))
  const turn: [number, number, number] = [candidate.turn[0], tilt, candidate.turn[2]]
  const m = turnMatrix(turn)
  const extent = [0, 1, 2].map((k) => size.reduce((sum, x, j) => sum + Math.abs(m[3 * k + j]) * x, 0))
  if (extent.some((x) => x > 299.9)) return undefined
  const at = extent.map((x) => random.real(x / 2 - 150, 150 - x / 2)) as [number, number, number]
  const { centre } = limits
  if (centre && at.some((x, k) => x < centre.min[k] || x > centre.max[k])) return undefined
  const core = { ...candidate.core, depth: size[0], width: size[1], height: size[2] }
  return { ...candidate, limits, at, turn, core }
}

describe('rooms of all kinds of keep-outs, tanks, tapers, stubs, stock and rows', () => {
  test('50 rooms: proved, clear in the ledger, and nothing sampled beats the bound (seeds 1 to 50)', () => {
    let sampled = 0
    for (let seed = 1; seed <= 50; seed++) {
      const random = seeded(seed)
      const { bay, meshes } = roomBay(random)
      const answer = asked(bay, meshes, { within: 0.01 })
      expect(answer.stopped).toBe('proved')
      if (answer.answer === 'found') {
        expect(clears(bay, meshes, answer.candidate)).toBe(true)
        expect(answer.upperBound).toBeLessThanOrEqual(answer.value * 1.0100001)
        expect(answer.value).toBe(answer.core.depth * answer.core.width * answer.core.height)
      }
      for (let i = 0; i < 60; i++) {
        const core = larger(random, bay.candidates[0], answer.upperBound, 0)
        if (!core) continue
        sampled++
        expect(clears(bay, meshes, core)).toBe(false)
      }
    }
    expect(sampled).toBeGreaterThan(600)
  })

  test('12 rooms with a range of tilts: no single tilt and nothing sampled beats the bound (seeds 61 to 72)', () => {
    let sampled = 0
    let leaning = 0
    for (let seed = 61; seed <= 72; seed++) {
      const random = seeded(seed)
      const { bay, meshes } = roomBay(random)
      const tilt = { min: -random.real(0, 8), max: random.real(0, 8) }
      const answer = asked(bay, meshes, { within: 0.02, tilt, work: 60_000 })
      expect(answer.answer).toBe('found')
      if (answer.answer !== 'found') continue
      expect(answer.stopped).toBe('proved')
      expect(clears(bay, meshes, answer.candidate)).toBe(true)
      expect(answer.turn[1]).toBeGreaterThanOrEqual(tilt.min - 1e-9)
      expect(answer.turn[1]).toBeLessThanOrEqual(tilt.max + 1e-9)
      if (Math.abs(answer.turn[1]) > 0.1) leaning++
      for (let i = 0; i < 6; i++) {
        const angle = i === 0 ? tilt.min : i === 1 ? tilt.max : random.real(tilt.min, tilt.max)
        const single = asked(bay, meshes, { within: 0.02, tilt: { min: angle, max: angle } })
        if (single.answer === 'found') expect(single.value).toBeLessThanOrEqual(answer.upperBound)
      }
      for (let i = 0; i < 40; i++) {
        const core = larger(random, bay.candidates[0], answer.upperBound, random.real(tilt.min, tilt.max))
        if (!core) continue
        sampled++
        expect(clears(bay, meshes, core)).toBe(false)
      }
    }
    expect(leaning).toBeGreaterThan(5)
    expect(sampled).toBeGreaterThan(100)
  })

  test('the same bay gives the same answer, to the last digit', () => {
    for (const seed of [3, 9]) {
      const { bay, meshes } = roomBay(seeded(seed))
      const request: LargestRequest = { within: 0.005, tilt: { min: -2, max: 2 }, work: 20_000 }
      const again = { ...bay, keepOuts: bay.keepOuts.map((keepOut) => ({ ...keepOut })) }
      expect(JSON.stringify(asked(again, meshes, request))).toBe(JSON.stringify(asked(bay, meshes, request)))
    }
  })

  test('turned round in Y, left for right, the largest is as large (seeds 81 to 90)', () => {
    for (let seed = 81; seed <= 90; seed++) {
      const random = seeded(seed)
      const { bay, meshes } = roomBay(random)
      const boxes = bay.keepOuts.filter(({ shape }) => shape.kind === 'box' && !shape.turn)
      const [candidate] = bay.candidates
      const bare: Candidate = { ...candidate, turn: [0, 0, 0], tanks: undefined, limits: {} }
      const mirrored = boxes.map((keepOut) => {
        const { shape } = keepOut
        if (shape.kind !== 'box') return keepOut
        return {
          ...keepOut,
          shape: { ...shape, at: [shape.at[0], -shape.at[1], shape.at[2]] as [number, number, number] },
        }
      })
      const a = asked({ ...bay, keepOuts: boxes, candidates: [bare] }, meshes, { within: 1e-6 })
      const b = asked({ ...bay, keepOuts: mirrored, candidates: [bare] }, meshes, { within: 1e-6 })
      expect(a.answer).toBe('found')
      if (a.answer === 'found' && b.answer === 'found') expect(Math.abs(a.value / b.value - 1)).toBeLessThan(2e-6)
    }
  })

  test('easing one clearance never shrinks what is proved to fit (seeds 91 to 100)', () => {
    let grew = 0
    for (let seed = 91; seed <= 100; seed++) {
      const { bay, meshes } = roomBay(seeded(seed))
      const before = asked(bay, meshes, { within: 1e-3 })
      if (before.answer !== 'found') continue
      for (const k of bay.keepOuts.keys()) {
        const keepOuts = bay.keepOuts.map((keepOut, i) =>
          i === k ? { ...keepOut, clearance: Math.max(0, (keepOut.clearance ?? 0) - 3) } : keepOut,
        )
        const after = asked({ ...bay, keepOuts }, meshes, { within: 1e-3 })
        expect(after.upperBound).toBeGreaterThanOrEqual(before.value)
        if (after.answer === 'found' && after.value > before.value * 1.001) grew++
      }
    }
    expect(grew).toBeGreaterThan(5)
  })
})
