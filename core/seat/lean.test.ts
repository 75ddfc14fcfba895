import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { lean, type Side } from './lean.ts'

const side = (angle: number, gap: number): Side => ({ n: [Math.cos(angle), Math.sin(angle)], gap })
const gapAfter = (sides: readonly Side[], [x, y]: readonly [number, number]): number =>
  Math.min(...sides.map(({ n, gap }) => gap + n[0] * x + n[1] * y))

test('no shift where there is room enough; the least one that makes it', () => {
  expect(lean([side(0, 5)], 4, 100)).toEqual({ shift: [0, 0], gap: 4 })
  expect(lean([side(0, 1)], 4, 100)?.shift).toEqual([expect.closeTo(3, 9), expect.closeTo(0, 9)])
  expect(lean([], 4, 100)).toEqual({ shift: [0, 0], gap: 4 })
  expect(lean([side(0, -50)], 4, 20)).toBeNull()
})

test('the middle of a triangle of 3, 4 and 5 is 1 from every side', () => {
  // The radius of the circle in a right-angled triangle: (3 + 4 − 5) / 2.
  const sides = [side(0, 0.5), side(Math.PI / 2, 0.5), { n: [-0.8, -0.6] as const, gap: 2.4 - 0.4 - 0.3 }]
  const found = lean(sides, 4, 100)
  expect(found?.gap).toBeCloseTo(1, 9)
  expect(found?.shift).toEqual([expect.closeTo(0.5, 6), expect.closeTo(0.5, 6)])
})

test('200 random sets of sides: what is told is left, and no shift of a fine grid leaves more (seed 3)', () => {
  const random = seeded(3)
  let bound = 0
  for (let run = 0; run < 200; run++) {
    const sides = Array.from({ length: 1 + random.int(6) }, () => side(random.real(0, 7), random.real(-2, 3)))
    const found = lean(sides, 4, 12)
    if (!found) throw new Error('nothing within twelve')
    expect(gapAfter(sides, found.shift)).toBeGreaterThanOrEqual(found.gap - 1e-6)
    expect(Math.hypot(...found.shift)).toBeLessThanOrEqual(12)
    if (found.gap < 4) bound++
    let [most, nearest] = [-Infinity, Infinity]
    for (let x = -12; x <= 12; x += 0.4)
      for (let y = -12; y <= 12; y += 0.4) {
        const far = Math.hypot(x, y)
        if (far > 12) continue
        const gap = gapAfter(sides, [x, y])
        most = Math.max(most, Math.min(4, gap))
        // As much room by a shorter shift there is not.
        if (gap >= found.gap + 1e-6) nearest = Math.min(nearest, far)
      }
    expect(most).toBeLessThanOrEqual(found.gap + 1e-6)
    expect(nearest).toBeGreaterThanOrEqual(Math.hypot(...found.shift) - 1e-6)
  }
  expect(bound).toBeGreaterThan(40)
})
