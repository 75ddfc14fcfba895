import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyPoint, anySize, anyTurn, tripleOf } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { solidOf } from './solid.ts'

const plain = { kind: 'box', at: [0, 0, 0], size: [10, 20, 30] }

everySolid({
  kind: 'box',
  seed: 4101,
  any: fc.record({ kind: fc.constant('box'), at: anyPoint, size: tripleOf(anySize), turn: anyTurn }),
  broken: [
    { name: 'a size of zero', shape: { ...plain, size: [10, 0, 30] }, fault: 'schema' },
    { name: 'a negative size', shape: { ...plain, size: [10, -20, 30] }, fault: 'schema' },
    { name: 'two sizes', shape: { ...plain, size: [10, 20] }, fault: 'schema' },
    { name: 'a size that is not a number', shape: { ...plain, size: [10, Number.NaN, 30] }, fault: 'schema' },
    { name: 'text for a number', shape: { ...plain, at: ['0', 0, 0] }, fault: 'schema' },
    { name: 'an unknown field', shape: { ...plain, radius: 3 }, fault: 'schema' },
    {
      name: 'a size below what coordinates resolve',
      shape: { ...plain, size: [10, 1e-300, 30] },
      fault: ['too-small', 'shape.size'],
    },
  ],
})

describe('box', () => {
  it('should have the extents of a turned core: |R| times the half sizes (checks A3.6, derived)', () => {
    const made = solidOf({ kind: 'box', at: [0, 0, 0], size: [76, 600, 300], turn: [0, 12, 0] }, { meshes: new Map() })
    if (!made.ok) throw new Error('no solid')
    const { min, max } = made.value.bounds
    expect(max[0] - min[0]).toBeCloseTo(136.712724901, 8)
    expect(max[1] - min[1]).toBeCloseTo(600, 9)
    expect(max[2] - min[2]).toBeCloseTo(309.245568722, 8)
  })

  it('should keep quarter turns exact', () => {
    const made = solidOf({ kind: 'box', at: [0.1, 0.2, 0.3], size: [2, 4, 6], turn: [0, 0, 90] }, { meshes: new Map() })
    expect(made).toMatchObject({ ok: true, value: { bounds: { min: [-1.9, -0.8, -2.7], max: [2.1, 1.2, 3.3] } } })
  })
})
