import { describe, expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { holds, mergedRanges, openRolls, withoutSlivers } from './openRolls.ts'
import type { RollRange } from './openRolls.ts'

const noneProved = { step: 10, mostProbes: 200, reachOf: () => 0 }

describe('ranges on a circle', () => {
  test.each<[string, RollRange[], RollRange[]]>([
    ['none', [], []],
    ['one', [[20, 30]], [[20, 30]]],
    ['one that begins below 0', [[-10, 10]], [[350, 370]]],
    [
      'two that meet at 0',
      [
        [350, 360],
        [0, 20],
      ],
      [[350, 380]],
    ],
    [
      'two that overlap, not in order',
      [
        [25, 40],
        [20, 30],
      ],
      [[20, 40]],
    ],
    [
      'one within another',
      [
        [20, 60],
        [30, 40],
      ],
      [[20, 60]],
    ],
    [
      'apart',
      [
        [20, 30],
        [31, 40],
      ],
      [
        [20, 30],
        [31, 40],
      ],
    ],
    [
      'all round in three',
      [
        [-5, 120],
        [115, 240],
        [235, 356],
      ],
      [[0, 360]],
    ],
    ['all round in one', [[100, 500]], [[0, 360]]],
    [
      'one that passes 0 and swallows the next',
      [
        [300, 380],
        [5, 10],
        [15, 40],
      ],
      [[300, 400]],
    ],
  ])('%s', (_, ranges, merged) => {
    expect(mergedRanges(ranges)).toEqual(merged)
  })

  test('slivers go where something wider stays, and stay where nothing does', () => {
    expect(
      withoutSlivers([
        [10, 10.5],
        [20, 90],
      ]),
    ).toEqual([[20, 90]])
    expect(withoutSlivers([[10, 10.5]])).toEqual([[10, 10.5]])
    expect(withoutSlivers([])).toEqual([])
  })

  test('merged ranges hold what the plain ones hold, at random (seed 41)', () => {
    const random = seeded(41)
    let inside = 0
    for (let round = 0; round < 400; round++) {
      const ranges = Array.from({ length: 1 + random.int(5) }, (): RollRange => {
        const from = random.real(-400, 400)
        return [from, from + random.real(0, 120)]
      })
      const merged = mergedRanges(ranges)
      for (let roll = 0.5; roll < 360; roll += 7) {
        const plain = ranges.some(([from, to]) =>
          [-720, -360, 0, 360, 720].some((t) => from <= roll + t && roll + t <= to),
        )
        expect(holds(merged, roll, roll)).toBe(plain)
        if (plain) inside++
      }
      merged.forEach(([from, to], k) => {
        expect(from).toBeGreaterThanOrEqual(0)
        expect(from).toBeLessThan(360)
        if (k > 0) expect(from).toBeGreaterThan(merged[k - 1][1])
        expect(to).toBeGreaterThanOrEqual(from)
      })
    }
    expect(inside).toBeGreaterThan(4000)
    expect(inside).toBeLessThan(16_000)
  })
})

describe('where a tool fits', () => {
  test('nowhere: every step is tried on both sides, and no more', () => {
    expect(openRolls(() => null, noneProved)).toEqual({ ranges: [], tried: [], probes: 72 })
  })

  test('all round with room: one side is enough', () => {
    const open = openRolls(() => 10, { ...noneProved, reachOf: () => 5 })
    expect(mergedRanges(open.ranges)).toEqual([[0, 360]])
    expect(open.probes).toBe(36)
  })

  test('the edge of a way in is found to less than a degree, from inside', () => {
    // Fits between 40° and 200° on one side; half a degree is proved for each mm, and there are up to 10 mm.
    const probe = (roll: number, side: number) => {
      const inwards = Math.min((roll % 360) - 40, 200 - (roll % 360))
      return side === 1 && inwards >= 0 ? Math.min(10, 2 * inwards) : null
    }
    const [only, ...others] = mergedRanges(openRolls(probe, { ...noneProved, reachOf: (spare) => spare / 2 }).ranges)
    expect(others).toEqual([])
    expect(only[0]).toBeGreaterThanOrEqual(40)
    expect(only[0]).toBeLessThan(41)
    expect(only[1]).toBeLessThanOrEqual(200)
    expect(only[1]).toBeGreaterThan(199)
  })

  test('nothing is claimed between rolls that have nothing to spare', () => {
    const { ranges } = openRolls(() => 0, noneProved)
    expect(ranges.every(([from, to]) => from === to)).toBe(true)
  })

  test('the work has an end', () => {
    const open = openRolls((roll) => (Math.round(roll * 1000) % 2 === 0 ? 0 : null), { ...noneProved, mostProbes: 50 })
    expect(open.probes).toBeLessThanOrEqual(100)
  })
})
