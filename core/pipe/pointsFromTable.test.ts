import { describe, expect, test } from 'vitest'
import { distance, type Vec3 } from '../shape/vec.ts'
import type { BendRow } from './answer.ts'
import { pointsFromTable } from './pointsFromTable.ts'

const bend = (length: number, rotation = 0, angle = 90, radius = 50): BendRow => ({ length, rotation, angle, radius })
const near = (got: readonly Vec3[], expected: readonly Vec3[]) => {
  expect(got).toHaveLength(expected.length)
  got.forEach((p, i) => {
    expect(distance(p, expected[i])).toBeLessThan(1e-9)
  })
}
const points = (rows: readonly BendRow[], start?: Parameters<typeof pointsFromTable>[1]): readonly Vec3[] => {
  const made = pointsFromTable(rows, start)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}

describe('by hand', () => {
  test('a straight alone', () => {
    near(points([{ length: 120 }]), [
      [0, 0, 0],
      [120, 0, 0],
    ])
  })

  test('rotation is right-handed about the feed', () => {
    // Feed is +Y after the first bend; the first bend's inside was −X turned back: a turn of +90° about +Y takes −X to +Z.
    near(points([bend(50), bend(0, 90), { length: 50 }]), [
      [0, 0, 0],
      [100, 0, 0],
      [100, 100, 0],
      [100, 100, 100],
    ])
  })

  test('a rotation before the first bend turns it from `up`', () => {
    near(points([bend(50, 90), { length: 50 }], { at: [1, 2, 3], direction: [5, 0, 0], up: [7, 2, 0] }), [
      [1, 2, 3],
      [101, 2, 3],
      [101, 2, 103],
    ])
  })

  test('a negative straight is taken while it leaves a leg', () => {
    near(points([bend(50), bend(-30), { length: 50 }]), [
      [0, 0, 0],
      [100, 0, 0],
      [100, 70, 0],
      [0, 70, 0],
    ])
  })
})

test.each<[string, readonly BendRow[], string, string | undefined]>([
  ['no rows', [], 'too-few', undefined],
  ['a row in between without its bend', [{ length: 5 }, { length: 5 }], 'missing-field', '[0].angle'],
  ['a bend in the last row', [bend(100)], 'unknown-field', '[0].rotation'],
  ['no number', [bend(Number.NaN), { length: 5 }], 'not-finite', '[0].length'],
  ['an angle of 0', [bend(5, 0, 0), { length: 5 }], 'bend-angle', '[0].angle'],
  ['half a turn', [bend(5, 0, 180), { length: 5 }], 'bend-angle', '[0].angle'],
  ['a radius of 0', [bend(5, 0, 90, 0), { length: 5 }], 'bend-too-tight', '[0].radius'],
  ['nothing left between two corners', [bend(50), bend(-100), { length: 5 }], 'no-leg', '[1].length'],
])('%s is refused', (_, rows, code, field) => {
  const made = pointsFromTable(rows)
  expect(made.ok ? null : [made.faults[0].code, made.faults[0].field]).toEqual([code, field])
})

test.each<[string, Vec3, Vec3, string]>([
  ['no direction', [0, 0, 0], [0, 1, 0], 'start.direction'],
  ['up along the direction', [1, 0, 0], [2, 0, 0], 'start.up'],
  ['no up', [1, 0, 0], [0, 0, 0], 'start.up'],
])('%s is refused', (_, direction, up, field) => {
  const made = pointsFromTable([{ length: 10 }], { at: [0, 0, 0], direction, up })
  expect(made.ok ? null : [made.faults[0].code, made.faults[0].field]).toEqual(['zero-vector', field])
})
