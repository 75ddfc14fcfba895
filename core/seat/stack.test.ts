import { describe, expect, test } from 'vitest'
import { type Contribution, improvementOf, stackOf } from './stack.ts'

const limits = (...list: number[]) => list.map((limit) => ({ limit, spread: 'limits' as const }))

describe('tolerances in a chain', () => {
  test('two class II hooks of 0.7, setting 0.3 (1σ), part ±0.8: u 0.793725, U 1.587451, worst case 2.8', () => {
    // Worked from JCGM 100: u² = 2·0.7²/3 + 0.3² + 0.8²/3 = 0.63.
    const { worstCase, expanded } = stackOf([...limits(0.7, 0.7, 0.8), { limit: 0.6, spread: 'measured' }])
    expect(expanded / 2).toBeCloseTo(0.793725, 6)
    expect(expanded).toBeCloseTo(1.587451, 6)
    expect(worstCase).toBeCloseTo(2.8, 12)
  })

  test('±0.8 and ±0.5: worst case 1.3, root-sum-square 0.943398', () => {
    const { worstCase, rootSumSquare } = stackOf(limits(0.8, 0.5))
    expect(worstCase).toBeCloseTo(1.3, 12)
    expect(rootSumSquare).toBeCloseTo(0.943398, 6)
  })

  test('nothing adds up to nothing', () => expect(stackOf([])).toEqual({ worstCase: 0, rootSumSquare: 0, expanded: 0 }))

  test('the root-sum-square is never more than the worst case, nor less than the largest', () => {
    for (const list of [[1], [1, 1], [3, 0.1, 0.1], [0.2, 0.5, 0.7, 0.7]]) {
      const { worstCase, rootSumSquare } = stackOf(limits(...list))
      expect(rootSumSquare).toBeLessThanOrEqual(worstCase + 1e-12)
      expect(rootSumSquare).toBeGreaterThanOrEqual(Math.max(...list))
    }
  })
})

describe('which contribution to better', () => {
  const chain: Contribution[] = [
    { of: 'mount', name: 'foot', limit: 0.5, spread: 'limits' },
    { of: 'part', name: 'core', limit: 1, spread: 'limits' },
    { of: 'fixing', name: 'stud', limit: 1, spread: 'measured' },
  ]

  test('the largest; of two alike the one that is measured', () =>
    expect(improvementOf(chain, 0.3)).toEqual({ of: 'fixing', name: 'stud', from: 1, to: 0.7, enough: true }))

  test('more than all of it does not help', () =>
    expect(improvementOf(chain, 1.2)).toEqual({ of: 'fixing', name: 'stud', from: 1, to: 0, enough: false }))

  test('without any there is nothing to better', () => {
    expect(improvementOf([], 1)).toBeNull()
    expect(improvementOf([{ ...chain[0], limit: 0 }], 1)).toBeNull()
  })
})
