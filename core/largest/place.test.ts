import { describe, expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import type { Bay, Candidate, KeepOut } from '../bay/schema.ts'
import { ledger } from '../verdict/ledger.ts'
import { type PlaceAnswer, type PlaceRequest, place } from './place.ts'

const none = new Map()
const box = (id: string, at: [number, number, number], size: [number, number, number], clearance = 0): KeepOut => ({
  id,
  name: id,
  role: 'body',
  clearance,
  uncertainty: 0,
  shape: { kind: 'box', at, size },
})
const core = (depth: number, width: number, height: number, at: [number, number, number] = [0, 0, 0]): Candidate => ({
  id: 'c',
  name: 'c',
  at,
  turn: [0, 0, 0],
  core: { depth, width, height },
})
const bayOf = (keepOuts: KeepOut[], candidate: Candidate): Bay => ({
  format: 'gapwright-bay',
  version: 1,
  name: 'test',
  frame: { origin: 'here' },
  units: 'mm',
  keepOuts,
  candidates: [candidate],
})
function placeIn(bay: Bay, request: PlaceRequest = {}): PlaceAnswer {
  const answer = place(bay, undefined, none, request)
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

/** Two walls a pair of axes, `gap` apart about the origin along `axis`. */
const walls = (axis: 0 | 1 | 2, gap: number, clearance = 0): KeepOut[] =>
  [-1, 1].map((side) => {
    const at: [number, number, number] = [0, 0, 0]
    const size: [number, number, number] = [400, 400, 400]
    at[axis] = side * (gap / 2 + 20)
    size[axis] = 40
    return box(`wall-${'xyz'[axis]}-${side < 0 ? 'low' : 'high'}`, at, size, clearance)
  })

describe('the best place', () => {
  test('between two walls: the middle, half of what is left (closed form)', () => {
    const found = placeIn(bayOf(walls(0, 100, 6), core(60, 80, 80, [9, 0, 0])))
    expect(found.answer).toBe('clears')
    expect(found.margin.atLeast).toBeLessThanOrEqual(14 + 1e-9)
    expect(found.margin.atMost).toBeGreaterThanOrEqual(14 - 1e-9)
    expect(found.margin.atMost - found.margin.atLeast).toBeLessThanOrEqual(0.1)
    expect(Math.abs(found.at[0])).toBeLessThan(0.11)
    expect(found.holds.map((h) => h.keepOut).sort()).toEqual(['wall-x-high', 'wall-x-low'])
  })

  test('unequal clearances shift it by half their difference', () => {
    const [low, high] = walls(0, 100)
    const found = placeIn(
      bayOf(
        [
          { ...low, clearance: 4 },
          { ...high, clearance: 10 },
        ],
        core(60, 80, 80),
      ),
    )
    expect(Math.abs(found.at[0] + 3)).toBeLessThan(0.11)
    expect(found.margin.atMost).toBeGreaterThanOrEqual(13 - 1e-9)
    expect(found.margin.atLeast).toBeLessThanOrEqual(13 + 1e-9)
  })

  test('too long for its place: none clears, with the walls that conflict', () => {
    const found = placeIn(bayOf([...walls(0, 100, 25), ...walls(1, 300)], core(60, 80, 80, [30, 0, 0])))
    expect(found.answer).toBe('none clears')
    expect(found.stopped).toBe('none clears')
    expect(found.margin.atMost).toBeLessThan(0)
    expect(found.margin.atMost).toBeGreaterThanOrEqual(-5 - 1e-9)
    expect(new Set(found.holds.map((h) => h.keepOut))).toEqual(new Set(['wall-x-high', 'wall-x-low']))
  })

  test('what may not move does not: along X only the wall in front decides', () => {
    const bay = bayOf([...walls(0, 100), ...walls(1, 110)], core(60, 80, 80, [0, 10, 0]))
    expect(placeIn(bay, { free: { x: true, y: false, z: false } }).at.slice(1)).toEqual([10, 0])
    expect(placeIn(bay, { free: { x: false, y: true, z: false } }).at[1]).toBeLessThan(0.2)
  })

  test('a plate in a slot tilted by 8° fits only tilted (closed form: slot 40, plate 30, margin 5 when parallel)', () => {
    const slot = walls(0, 40).map((wall) => {
      const c = Math.cos((8 * Math.PI) / 180)
      const s = Math.sin((8 * Math.PI) / 180)
      const shape = wall.shape as Extract<KeepOut['shape'], { kind: 'box' }>
      const [x] = shape.at
      return {
        ...wall,
        shape: {
          ...shape,
          at: [x * c, 0, -x * s] as [number, number, number],
          turn: [0, 8, 0] as [number, number, number],
        },
      }
    })
    const bay = bayOf(slot, core(30, 80, 160, [3, 0, 0]))
    expect(placeIn(bay, { reach: 20 }).answer).toBe('none clears')
    const tilted = placeIn(bay, { reach: 20, tilt: { min: -15, max: 15 } })
    expect(tilted.answer).toBe('clears')
    expect(tilted.margin.atLeast).toBeLessThanOrEqual(5 + 1e-9)
    expect(tilted.margin.atMost).toBeGreaterThanOrEqual(5 - 1e-9)
    expect(tilted.margin.atMost - tilted.margin.atLeast).toBeLessThanOrEqual(0.1 + 1e-9)
    expect(Math.abs(tilted.turn[1] - 8)).toBeLessThan(0.2)
  })

  test('40 random bays: no sampled place is better than the bound, and the ledger agrees with the margin (seed 19)', () => {
    const random = seeded(19)
    let cleared = 0
    for (let run = 0; run < 40; run++) {
      const keepOuts: KeepOut[] = Array.from({ length: 7 }, (_, i) => {
        const u = random.unit()
        const shape: KeepOut['shape'] = random.pick([
          {
            kind: 'box',
            at: [u[0] * 150, u[1] * 150, u[2] * 150],
            size: [60, 50, 70],
            turn: [random.real(0, 90), random.real(0, 90), 0],
          },
          {
            kind: 'cylinder',
            from: [u[0] * 120, u[1] * 120, u[2] * 120],
            to: [u[0] * 220, u[1] * 220, u[2] * 180],
            radius: 25,
          },
          { kind: 'halfSpace', point: [-u[0] * 130, -u[1] * 130, -u[2] * 130], normal: [u[0], u[1], u[2]] },
        ])
        return { ...box(`k${i}`, [0, 0, 0], [1, 1, 1], random.real(0, 8)), shape }
      })
      const candidate: Candidate = {
        ...core(50, 90, 70),
        tanks: { left: { length: 25, front: -4, rear: 2, below: 0, above: 0, taper: { depth: 0.6, height: 0.8 } } },
      }
      const bay = bayOf(keepOuts, candidate)
      const found = placeIn(bay, { reach: 40 })
      if (found.answer === 'clears') {
        cleared++
        expect(found.stopped).toBe('proved')
        expect(found.margin.atMost - found.margin.atLeast).toBeLessThanOrEqual(0.1 + 1e-9)
      }
      const margin = (at: Candidate['at']) => {
        const answer = ledger({ ...bay, candidates: [{ ...candidate, at }] }, undefined, none)
        if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
        return answer.value.pairs[0].margin
      }
      expect(margin([...found.at])).toBe(found.margin.atLeast)
      for (let i = 0; i < 60; i++)
        expect(margin(random.point(40) as Candidate['at'])).toBeLessThanOrEqual(found.margin.atMost + 1e-9)
    }
    expect(cleared).toBeGreaterThan(8)
  })

  test('moving the bay and mirroring it moves and mirrors the answer', () => {
    const by: [number, number, number] = [700, -300, 250]
    const shift = ([x, y, z]: readonly number[]): [number, number, number] => [x + by[0], y + by[1], z + by[2]]
    const keepOuts = [...walls(0, 100), ...walls(1, 140, 3), box('odd', [0, 30, 80], [40, 60, 30], 5)]
    const moved = keepOuts.map((k) => ({
      ...k,
      shape: { ...k.shape, at: shift((k.shape as { at: number[] }).at) } as KeepOut['shape'],
    }))
    const a = placeIn(bayOf(keepOuts, core(50, 60, 70)), { reach: 50 })
    const b = placeIn(bayOf(moved, core(50, 60, 70, by)), { reach: 50 })
    expect(Math.abs(a.margin.atLeast - b.margin.atLeast)).toBeLessThan(0.2)
  })

  test('stopping early keeps a valid bound', () => {
    const bay = bayOf([...walls(0, 100), ...walls(1, 140)], core(50, 60, 70, [11, 7, 0]))
    const stopped = placeIn(bay, { stop: () => 'cancelled' })
    expect(stopped.stopped).toBe('cancelled')
    expect(stopped.margin.atMost).toBeGreaterThanOrEqual(25 - 1e-9)
    expect(stopped.margin.atLeast).toBeLessThanOrEqual(25)
  })

  test.each([
    [{ tilt: { min: -50, max: 0 } }, 'tilt-range'],
    [{ tilt: { min: 3, max: -3 } }, 'tilt-range'],
  ])('refuses %j', (request, code) => {
    const answer = place(bayOf(walls(0, 100), core(10, 10, 10)), undefined, none, request)
    expect(answer.ok ? [] : answer.faults.map((f) => f.code)).toEqual([code])
  })

  test('a bay without keep-outs is refused: every place is as good', () => {
    const answer = place(bayOf([], core(10, 10, 10)), undefined, none)
    expect(answer.ok ? '' : answer.faults[0].code).toBe('no-keep-out')
  })
})
