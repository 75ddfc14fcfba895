import { describe, expect, test } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import type { Candidate, KeepOut } from '../bay/schema.ts'
import { type LargestRequest, largest } from './largest.ts'

type Corner = [number, number, number]
const wall = (id: string, point: Corner, normal: Corner, clearance = 0): KeepOut =>
  keepOut(id, { kind: 'halfSpace', point, normal }, { clearance })

/** A room of 400 × 600 × 300 mm that half-spaces close on every side, 5 mm asked of each. */
const closed: KeepOut[] = [
  wall('front', [-200, 0, 0], [1, 0, 0], 5),
  wall('rear', [200, 0, 0], [-1, 0, 0], 5),
  wall('left', [0, -300, 0], [0, 1, 0], 5),
  wall('right', [0, 300, 0], [0, -1, 0], 5),
  wall('floor', [0, 0, -150], [0, 0, 1], 5),
  wall('roof', [0, 0, 150], [0, 0, -1], 5),
]

function asked(keepOuts: KeepOut[], candidate: Partial<Candidate>, request: LargestRequest = {}) {
  return largest(tinyBay(keepOuts, bareCandidate(candidate)), undefined, new Map(), {
    within: 1e-6,
    holds: false,
    ...request,
  })
}

function found(...given: Parameters<typeof asked>) {
  const answer = asked(...given)
  if (!answer.ok || answer.value.answer !== 'found') throw new Error(JSON.stringify(answer))
  expect(answer.value.stopped).toBe('proved')
  return answer.value
}

describe('what limits a core', () => {
  test('half-spaces on every side are limits enough', () => {
    const { core, at } = found(closed, {})
    expect([core.depth, core.width, core.height].map((x) => Math.round(1e6 * x) / 1e6)).toEqual([390, 590, 290])
    expect(at.every((x) => Math.abs(x) < 1e-6)).toBe(true)
  })

  test.each([
    ['front', 'limits.depth.max', '−X'],
    ['rear', 'limits.depth.max', '+X'],
    ['left', 'limits.width.max', '−Y'],
    ['right', 'limits.width.max', '+Y'],
    ['floor', 'limits.height.max', '−Z'],
    ['roof', 'limits.height.max', '+Z'],
  ])('without %s the direction is told, and the limit that is missing', (id, field, direction) => {
    const answer = asked(
      closed.filter((keepOut) => keepOut.id !== id),
      {},
    )
    expect(answer.ok ? [] : answer.faults).toMatchObject([
      { code: 'unlimited-direction', item: 'only', field, expected: expect.stringContaining(direction) },
    ])
  })

  test('a greatest size alone holds no core in its place: the region is what is missing', () => {
    const limits = { depth: { max: 90 }, width: { max: 500 }, height: { max: 200 } }
    const answer = asked([], { limits })
    expect(answer.ok ? [] : answer.faults.map(({ field }) => field)).toEqual([
      'limits.centre.min[0]',
      'limits.centre.min[1]',
      'limits.centre.min[2]',
      'limits.centre.max[0]',
      'limits.centre.max[1]',
      'limits.centre.max[2]',
    ])
    const { core } = found([], { limits: { ...limits, centre: { min: [0, 0, 0], max: [1, 1, 1] } } })
    expect(core).toEqual({ depth: 90, width: 500, height: 200 })
  })

  test('a turned wall holds a core by its corner: exact, closed form', () => {
    // A roof that leans by 45°: x + z ≤ 100 with depth and height from −150: the largest has equal legs.
    const leaning = [
      ...closed.filter(({ id }) => id !== 'roof' && id !== 'rear').map((keepOut) => ({ ...keepOut, clearance: 0 })),
      wall('leaning', [50, 0, 50], [-1, 0, -1]),
    ]
    const { core, value } = found(leaning, {})
    // Legs from −200 and −150: (100 + 200 + 150)/2 = 225 each.
    expect(core.depth).toBeCloseTo(225, 0)
    expect(Math.abs(value / (225 * 600 * 225) - 1)).toBeLessThan(2e-6)
  })

  test('the middle stays in its region, also where the core is tilted', () => {
    const centre = { min: [-20, 30, -10] as Corner, max: [20, 50, 10] as Corner }
    for (const tilt of [0, 12, -30]) {
      const { at, core } = found(closed, { limits: { centre } }, { tilt: { min: tilt, max: tilt } })
      at.forEach((x, k) => {
        expect(x).toBeGreaterThanOrEqual(centre.min[k] - 1e-7)
        expect(x).toBeLessThanOrEqual(centre.max[k] + 1e-7)
      })
      // Held to the right by its wall, 5 mm off it: no wider than twice the way from the region's left end.
      expect(core.width).toBeCloseTo(2 * (295 - 30), 5)
    }
  })

  test('symmetric: the middle on the car’s centre line exactly, though more room is on one side', () => {
    const keepOuts = [...closed, keepOut('post', { kind: 'box', at: [0, 200, 0], size: [20, 20, 300] })]
    const free = found(keepOuts, { limits: { depth: { min: 380 } } })
    const even = found(keepOuts, { limits: { depth: { min: 380 }, symmetric: true } })
    expect(even.at[1]).toBe(0)
    expect(even.core.width).toBeCloseTo(380, 5)
    expect(free.core.width).toBeCloseTo(190 + 295, 5)
  })

  test('tanks with overhangs below nothing: the core is large enough for their feet', () => {
    const tank = { length: 20, front: -30, rear: -30, below: -10, above: -10 }
    const { core } = found(closed, { tanks: { left: tank }, limits: { depth: { max: 70 } } }, { for: 'face' })
    expect(core.depth).toBeGreaterThan(60)
  })
})

describe('bad limits', () => {
  test.each<[Partial<Candidate>, LargestRequest, string]>([
    [{ limits: { symmetric: true }, turn: [0, 0, 5] }, {}, 'limits-contradict'],
    [{ tanks: { left: { length: 0, front: 0, rear: 0, below: 0, above: 0 } } }, {}, 'tank-length'],
    [{}, { withinBox: { min: [1, 0, 0], max: [0, 0, 0] } }, 'region-empty'],
    [{}, { tilt: { min: 5, max: -5 } }, 'tilt-range'],
    [{}, { tilt: { min: Number.NaN, max: 5 } }, 'tilt-range'],
    [{ limits: { tilt: { min: -46, max: 0 } } }, {}, 'tilt-range'],
    [{ limits: { width: { stock: [10, 20], min: 30 } } }, {}, 'limits-contradict'],
  ])('%j with %j is refused', (candidate, request, code) => {
    const answer = asked(closed, candidate, request)
    expect(answer.ok ? [] : answer.faults.map((fault) => fault.code)).toContain(code)
  })
})
