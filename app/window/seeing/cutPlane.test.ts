import { describe, expect, test } from 'vitest'
import { dot, length, mix } from '../../../core/shape/vec.ts'
import { seeded } from '../../../test/kit/random.ts'
import { cutPlane } from './cutPlane.ts'
import type { Cut } from './seeing.ts'

const cut = (more: Partial<Cut> = {}): Cut => ({ pair: 'a b', way: 'along', offset: 0, flipped: false, ...more })

describe('the plane of a cut', () => {
  test('along a gap it holds both ends and the vertical, for 500 random gaps (seed 71)', () => {
    const random = seeded(71)
    for (let i = 0; i < 500; i++) {
      const [from, to] = [random.point(900), random.point(900)]
      const { normal, offset } = cutPlane(cut(), [from, to])
      expect(length(normal)).toBeCloseTo(1, 12)
      expect(normal[2]).toBeCloseTo(0, 12)
      expect(dot(normal, from)).toBeCloseTo(offset, 8)
      expect(dot(normal, to)).toBeCloseTo(offset, 8)
    }
  })

  test.each([
    ['vertical', [5, 6, 40]],
    ['of no length', [5, 6, 7]],
  ] as const)('along a gap that is %s it lies across the car', (_, to) => {
    expect(cutPlane(cut(), [[5, 6, 7], to]).normal).toEqual([1, 0, 0])
  })

  test('square to an axis it goes through the middle, and the offset moves it along that axis', () => {
    const gap = [
      [0, 10, 20],
      [6, 14, 28],
    ] as const
    for (const [way, axis] of [
      ['x', 0],
      ['y', 1],
      ['z', 2],
    ] as const) {
      const { normal, offset } = cutPlane(cut({ way, offset: 4 }), gap)
      expect(normal[axis]).toBe(1)
      expect(offset).toBe(mix(gap[0], gap[1], 0.5)[axis] + 4)
    }
  })

  test('turned over it stays the same plane and takes the other side', () => {
    const gap = [
      [0, 10, 20],
      [6, 14, 28],
    ] as const
    const [one, two] = [cutPlane(cut({ offset: 3 }), gap), cutPlane(cut({ offset: 3, flipped: true }), gap)]
    expect(two.normal.map((x) => -x)).toEqual([...one.normal])
    expect(two.offset).toBe(-one.offset)
  })
})
