import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { mergeVertices } from './mergeVertices.ts'

describe('mergeVertices', () => {
  it('should give equal vertices one number, in order of first appearance, as a plain table does (seed 4190)', () => {
    const few = fc.constantFrom(0, -0, 1, 1 + Number.EPSILON, -1, 5e-324, 1e300)
    fc.assert(
      fc.property(fc.array(fc.tuple(few, few, few), { maxLength: 200 }), (points) => {
        const { positions, numbers } = mergeVertices(Float64Array.from(points.flat()))
        const table = new Map<string, number>()
        const expected = points.map((p) => {
          const key = p.map((x) => x + 0).join()
          if (!table.has(key)) table.set(key, table.size)
          return table.get(key)
        })
        expect([...numbers]).toEqual(expected)
        expect(positions.length).toBe(3 * table.size)
        points.forEach((p, i) => {
          for (let k = 0; k < 3; k++) expect(positions[3 * numbers[i] + k]).toBe(p[k] + 0)
        })
      }),
      { seed: 4190, numRuns: 200 },
    )
  })

  it('should keep half a million vertices apart that differ in one coordinate only, equal hashes and all', () => {
    // Half a million hashes of 32 bits are expected to meet about 30 times.
    const count = 500_000
    const given = new Float64Array(6 * count)
    for (let i = 0; i < count; i++) {
      given[3 * i + 2] = i / 1000
      given[3 * (count + i) + 2] = i / 1000
    }
    const { positions, numbers } = mergeVertices(given)
    expect(positions.length / 3).toBe(count)
    let wrong = 0
    for (let i = 0; i < 2 * count; i++) if (numbers[i] !== i % count) wrong++
    expect(wrong).toBe(0)
  })

  it('should not change what it is given', () => {
    const given = Float64Array.of(-0, 0, 0, 0, 0, 0)
    mergeVertices(given)
    expect(Object.is(given[0], -0)).toBe(true)
  })
})
