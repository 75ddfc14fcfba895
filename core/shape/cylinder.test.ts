import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyPoint, anySize } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { solidOf } from './solid.ts'
import { add } from './vec.ts'

const plain = { kind: 'cylinder', from: [0, 0, 0], to: [0, 0, 50], radius: 20 }

everySolid({
  kind: 'cylinder',
  seed: 4102,
  any: fc.record({ from: anyPoint, run: anyDirection, radius: anySize }).map(({ from, run, radius }) => ({
    kind: 'cylinder' as const,
    from,
    to: add(from, run) as [number, number, number],
    radius,
  })),
  broken: [
    { name: 'a radius of zero', shape: { ...plain, radius: 0 }, fault: 'schema' },
    { name: 'a negative radius', shape: { ...plain, radius: -1 }, fault: 'schema' },
    { name: 'a missing end', shape: { kind: 'cylinder', from: [0, 0, 0], radius: 20 }, fault: 'schema' },
    { name: 'ends at one place', shape: { ...plain, to: [0, 0, 0] }, fault: ['zero-length', 'shape.to'] },
    {
      name: 'a radius below what coordinates resolve',
      shape: { ...plain, radius: 1e-9 },
      fault: ['too-small', 'shape.radius'],
    },
  ],
})

describe('cylinder', () => {
  it('should have bounds that a disc square to its axis reaches', () => {
    // Axis (3, 4, 0)/5: a disc of radius 10 reaches 10·√(1 − t²) = 8, 6, 10 along X, Y, Z.
    const made = solidOf({ kind: 'cylinder', from: [0, 0, 0], to: [30, 40, 0], radius: 10 }, { meshes: new Map() })
    if (!made.ok) throw new Error('no solid')
    const { min, max } = made.value.bounds
    ;[-8, -6, -10].forEach((x, k) => {
      expect(min[k]).toBeCloseTo(x, 12)
    })
    ;[38, 46, 10].forEach((x, k) => {
      expect(max[k]).toBeCloseTo(x, 12)
    })
  })
})
