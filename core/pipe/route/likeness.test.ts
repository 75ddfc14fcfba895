import { describe, expect, it } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { centrelineLength, roundCorners } from '../../shape/centreline.ts'
import { distance, type Vec3 } from '../../shape/vec.ts'
import { alike, pointsAlong } from './likeness.ts'

describe('points along a centreline', () => {
  const rounded = roundCorners(
    [
      [0, 0, 0],
      [200, 0, 0],
      [200, 150, 0],
      [200, 150, 180],
    ],
    60,
  )
  if (!rounded.ok) throw new Error('cannot be rounded')
  const points = pointsAlong(rounded.value)

  it('begin and end where it does', () => {
    expect(points[0]).toEqual([0, 0, 0])
    expect(distance(points[points.length - 1], [200, 150, 180])).toBeLessThan(1e-9)
  })

  it('stand at most 5 mm apart, and evenly', () => {
    const step = centrelineLength(rounded.value) / (points.length - 1)
    expect(step).toBeLessThanOrEqual(5)
    for (let i = 1; i < points.length; i++) {
      const chord = distance(points[i], points[i - 1])
      expect(chord).toBeLessThanOrEqual(step + 1e-9)
      // The chord of an arc of step mm on 60 mm is shorter by less than step³ / (24 · 60²).
      expect(chord).toBeGreaterThan(step - step ** 3 / (24 * 60 * 60) - 1e-9)
    }
  })
})

/** The whole table of T. Eiter and H. Mannila (1994), from memory: the distance itself. */
function frechet(a: readonly Vec3[], b: readonly Vec3[]): number {
  const table = a.map(() => b.map(() => Infinity))
  for (let i = 0; i < a.length; i++)
    for (let j = 0; j < b.length; j++) {
      const before =
        i === 0 && j === 0
          ? 0
          : Math.min(
              i > 0 ? table[i - 1][j] : Infinity,
              j > 0 ? table[i][j - 1] : Infinity,
              i > 0 && j > 0 ? table[i - 1][j - 1] : Infinity,
            )
      table[i][j] = Math.max(before, distance(a[i], b[j]))
    }
  return table[a.length - 1][b.length - 1]
}

describe('likeness of two ways (seed 21)', () => {
  const random = seeded(21)
  const way = (): Vec3[] => {
    const points: Vec3[] = [[0, 0, 0]]
    for (let i = 0; i < 6 + random.int(20); i++) {
      const [x, y, z] = points[points.length - 1]
      points.push([x + random.real(-2, 10), y + random.real(-8, 8), z + random.real(-8, 8)])
    }
    return points
  }

  it('is that of the whole table, on either side of it', () => {
    let close = 0
    for (let round = 0; round < 300; round++) {
      const [a, b] = [way(), way()]
      const apart = frechet(a, b)
      expect(alike(a, b, apart * (1 - 1e-9))).toBe(false)
      expect(alike(a, b, apart * (1 + 1e-9))).toBe(true)
      expect(alike(b, a, 30)).toBe(apart < 30)
      if (apart < 30) close++
    }
    expect(close).toBeGreaterThan(60)
    expect(close).toBeLessThan(240)
  })

  it('counts the order in which places are passed: there and back is another way than straight on', () => {
    const straight = Array.from({ length: 21 }, (_, i): Vec3 => [5 * i, 0, 0])
    const thereAndBack = [...straight.slice(0, 15), ...straight.slice(4, 14).reverse(), ...straight.slice(5)]
    expect(alike(straight, straight, 1)).toBe(true)
    expect(alike(straight, thereAndBack, 20)).toBe(false)
    expect(alike(straight, thereAndBack, 30)).toBe(true)
  })
})
