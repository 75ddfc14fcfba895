import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { symmetricEigen } from './symmetricEigen.ts'

test('a matrix with known values: 2 1 / 1 2 has 3 and 1', () => {
  const [large, small] = symmetricEigen([
    [2, 1],
    [1, 2],
  ])
  expect([large.value, small.value]).toEqual([expect.closeTo(3, 14), expect.closeTo(1, 14)])
  expect(Math.abs(large.vector[0])).toBeCloseTo(Math.SQRT1_2, 14)
})

test('zeros and diagonals stay as they are', () => {
  const zero = [
    [0, 0],
    [0, 0],
  ]
  expect(symmetricEigen(zero).map(({ value }) => value)).toEqual([0, 0])
  const diagonal = [
    [1, 0, 0],
    [0, 5, 0],
    [0, 0, -3],
  ]
  expect(symmetricEigen(diagonal).map(({ value }) => value)).toEqual([5, 1, -3])
})

test('A·v is λ·v, vectors are square to each other and the trace is kept (seed 81)', () => {
  const random = seeded(81)
  for (let round = 0; round < 500; round++) {
    const n = 2 + random.int(3)
    const size = random.size(1e-6, 1e6)
    const m = Array.from({ length: n }, () => Array.from({ length: n }, () => random.real(-size, size)))
    for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) m[i][j] = m[j][i]
    const found = symmetricEigen(m)
    const trace = m.reduce((sum, row, i) => sum + row[i], 0)
    expect(Math.abs(found.reduce((sum, { value }) => sum + value, 0) - trace)).toBeLessThan(1e-13 * n * size)
    for (const [k, { value, vector }] of found.entries()) {
      if (k > 0) expect(value).toBeLessThanOrEqual(found[k - 1].value)
      for (const [i, row] of m.entries()) {
        const product = row.reduce((sum, x, j) => sum + x * vector[j], 0)
        expect(Math.abs(product - value * vector[i])).toBeLessThan(1e-13 * n * size)
      }
      for (const other of found.slice(k + 1))
        expect(Math.abs(vector.reduce((sum, x, i) => sum + x * other.vector[i], 0))).toBeLessThan(1e-13)
    }
  }
})
