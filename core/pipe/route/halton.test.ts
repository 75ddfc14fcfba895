import { describe, expect, it } from 'vitest'
import { halton } from './halton.ts'

describe('halton', () => {
  it('begins as published: halves, then quarters; thirds, then ninths', () => {
    expect([1, 2, 3, 4, 5, 6].map((i) => halton(i, 0))).toEqual([0.5, 0.25, 0.75, 0.125, 0.625, 0.375])
    const thirds = [1 / 3, 2 / 3, 1 / 9, 4 / 9, 7 / 9, 2 / 9]
    for (const [i, value] of thirds.entries()) expect(halton(i + 1, 1)).toBeCloseTo(value, 12)
  })

  it('fills every tenth of eleven dimensions about evenly', () => {
    for (let dimension = 0; dimension < 11; dimension++) {
      const counts = new Array<number>(10).fill(0)
      for (let i = 1; i <= 2000; i++) counts[Math.floor(10 * halton(i, dimension))]++
      expect(Math.min(...counts)).toBeGreaterThan(180)
      expect(Math.max(...counts)).toBeLessThan(220)
    }
  })
})
