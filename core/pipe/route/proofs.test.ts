import { describe, expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { block, problemOf, turnedBlock, wall } from '../../../test/kit/routeProblems.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { certify } from './certify.ts'
import type { RouteProblem } from './problem.ts'
import { proveRoute } from './proofs.ts'

const room = [
  wall('left', [0, -300, 0], [0, 1, 0]),
  wall('right', [0, 300, 0], [0, -1, 0]),
  wall('floor', [0, 0, -300], [0, 0, 1]),
  wall('roof', [0, 0, 300], [0, 0, -1]),
  wall('front', [-400, 0, 0], [1, 0, 0]),
  wall('rear', [400, 0, 0], [-1, 0, 0]),
]
const ends = [
  [
    [-250, 0, 0],
    [1, 0, 0],
  ],
  [
    [250, 40, 0],
    [-1, 0, 0],
  ],
] as const
const window = (half: number) => [
  block('low', [-5, -400, -400], [5, 20 - half, 400]),
  block('high', [-5, 20 + half, -400], [5, 400, 400]),
]
const problemWith = (half: number): RouteProblem => problemOf(ends[0], ends[1], [...room, ...window(half)])

describe('all that is proved of a problem', () => {
  test('open: fewest bends with a route, a length, the passage and a way through it', () => {
    const problem = problemWith(40)
    const proof = proveRoute(problem)
    expect(proof).toMatchObject({ closed: false, fewestBends: 2 })
    expect(proof.closedBy).toBeUndefined()
    const found = certify(problem, proof.simplest ?? [])
    expect(found.valid).toBe(true)
    expect(proof.lengthAtLeast).toBeLessThanOrEqual(found.length)
    expect(proof.lengthAtLeast).toBeGreaterThan(500)
    // 40 mm to either side, of which the middle keeps 30.
    expect(proof.passage?.spareAtLeast).toBeLessThanOrEqual(10)
    expect(proof.passage?.spareAtMost).toBeGreaterThanOrEqual(10)
    expect(proof.passage?.between.toSorted()).toEqual(['high', 'low'])
    expect(proof.way.length).toBeGreaterThan(2)
  })

  test('closed: by what, and by how much', () => {
    const { closed, closedBy, passage, fewestBends } = proveRoute(problemWith(28))
    expect({ closed, fewestBends }).toEqual({ closed: true, fewestBends: 3 })
    expect(closedBy?.between.toSorted()).toEqual(['high', 'low'])
    expect(closedBy?.shortBy).toBeCloseTo(2, 6)
    expect(closedBy?.everywhere).toBe(true)
    expect(Math.abs(closedBy?.at[0] ?? 99)).toBeLessThan(20)
    expect(passage?.spareAtMost).toBeCloseTo(-2, 6)
  })

  test('an end whose own straight is too near to something', () => {
    const beside = block('beside', [-245, 28, -50], [-225, 90, 50])
    const { closed, closedBy } = proveRoute(problemOf(ends[0], ends[1], [beside]))
    expect(closed).toBe(true)
    expect(closedBy?.between).toEqual(['beside'])
    // 28 mm from the middle, 25 of them tube: 3 of the 5 mm are there; what the end may deviate is taken off.
    expect(closedBy?.shortBy).toBeGreaterThan(1.8)
    expect(closedBy?.shortBy).toBeLessThanOrEqual(2)
  })

  test('broken off at any time, what is told still holds', () => {
    const [open, shut] = [problemWith(40), problemWith(28)]
    for (const asked of [0, 1, 2, 3, 5, 8, 13]) {
      let left = asked
      const stop = () => (left-- > 0 ? null : 'cancelled')
      const proof = proveRoute(open, { stop })
      expect(proof.closed).toBe(false)
      expect(proof.fewestBends).toBeLessThanOrEqual(2)
      expect(proof.passage?.spareAtMost ?? Infinity).toBeGreaterThanOrEqual(10 - 1e-9)
      left = asked
      expect(proveRoute(shut, { stop }).passage?.spareAtLeast ?? -30).toBeLessThanOrEqual(-2 + 1e-9)
    }
    expect(proveRoute(open, { stop: () => 'time' })).toMatchObject({ closed: false, passage: null })
    expect(proveRoute(shut, { work: 10 }).closed).toBe(false)
  })
})

test('seeds 1 to 6: the other way round the same is proved, and the same again', () => {
  for (let seed = 1; seed <= 6; seed++) {
    const random = seeded(seed)
    const things = Array.from({ length: 5 }, (_, i) =>
      turnedBlock(
        `b${i}`,
        random.point(150),
        [random.real(20, 150), random.real(20, 150), random.real(20, 150)],
        random.turn(),
      ),
    )
    const problem = problemOf(ends[0], ends[1], [...room, ...things], {
      from: { at: ends[0][0] as Vec3, direction: [1, 0, 0], leastStraight: 40 },
    })
    const [there, back] = [proveRoute(problem), proveRoute({ ...problem, from: problem.to, to: problem.from })]
    expect(back.closed).toBe(there.closed)
    expect(back.fewestBends).toBe(there.fewestBends)
    expect(back.lengthAtLeast).toBeCloseTo(there.lengthAtLeast, 0)
    // Both brackets hold the one truth.
    expect(back.passage?.spareAtMost ?? Infinity).toBeGreaterThanOrEqual(there.passage?.spareAtLeast ?? 200)
    expect(there.passage?.spareAtMost ?? Infinity).toBeGreaterThanOrEqual(back.passage?.spareAtLeast ?? 200)
    expect(proveRoute(problem)).toEqual(there)
  }
})
