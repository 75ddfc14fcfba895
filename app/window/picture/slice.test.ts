import { describe, expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { sliced } from './slice.ts'

const lengthOf = (segments: Float32Array) => {
  let sum = 0
  for (let i = 0; i < segments.length; i += 6)
    sum += Math.hypot(...[0, 1, 2].map((k) => segments[i + 3 + k] - segments[i + k]))
  return sum
}

/** The unit cube, twelve triangles. */
const corners = Array.from({ length: 8 }, (_, i) => [i & 1, (i >> 1) & 1, (i >> 2) & 1]).flat()
const faces = [
  0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5,
]

describe('a cut through a surface', () => {
  test('a unit cube half-way has the outline of a unit square (plane geometry)', () => {
    for (const n of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const)
      expect(lengthOf(sliced(corners, faces, n, 0.5))).toBeCloseTo(4, 6)
  })

  test('across its diagonal it is the regular hexagon of side √½ (plane geometry)', () => {
    const s = Math.sqrt(1 / 3)
    expect(lengthOf(sliced(corners, faces, [s, s, s], 1.5 * s))).toBeCloseTo(6 * Math.SQRT1_2, 5)
  })

  test('it misses a plane beside it, and one in its own face', () => {
    expect(sliced(corners, faces, [1, 0, 0], 1.2)).toHaveLength(0)
    expect(sliced(corners, faces, [1, 0, 0], 1)).toHaveLength(0)
  })

  test('every end of every segment lies on the plane, for 200 random triangles (seed 5), and about half are met', () => {
    const random = seeded(5)
    let met = 0
    for (let i = 0; i < 200; i++) {
      const points = [random.point(50), random.point(50), random.point(50)].flat()
      const n = random.unit()
      const segments = sliced(points, [0, 1, 2], n, random.real(-10, 10))
      if (segments.length === 0) continue
      met++
      expect(segments).toHaveLength(6)
      const heights = [0, 3].map((j) => n[0] * segments[j] + n[1] * segments[j + 1] + n[2] * segments[j + 2])
      expect(heights[0]).toBeCloseTo(heights[1], 3)
    }
    expect(met).toBeGreaterThan(60)
    expect(met).toBeLessThan(180)
  })
})
