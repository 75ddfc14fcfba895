import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyPoint } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { displayOf } from './display.ts'
import { solidOf } from './solid.ts'

const floor = {
  kind: 'halfSpace' as const,
  point: [0, 0, -60] as [number, number, number],
  normal: [0, 0, 1] as [number, number, number],
}

everySolid({
  kind: 'halfSpace',
  seed: 4103,
  any: fc.record({ kind: fc.constant('halfSpace'), point: anyPoint, normal: anyDirection }),
  broken: [
    { name: 'a normal of zero', shape: { ...floor, normal: [0, 0, 0] }, fault: 'schema' },
    { name: 'a missing point', shape: { kind: 'halfSpace', normal: [0, 0, 1] }, fault: 'schema' },
  ],
})

describe('halfSpace', () => {
  const solid = (shape: Parameters<typeof solidOf>[0]) => {
    const made = solidOf(shape, { meshes: new Map() })
    if (!made.ok) throw new Error('no solid')
    return made.value
  }

  it('should be bounded on the side of an axis its normal lies on, and nowhere else', () => {
    expect(solid(floor).bounds).toEqual({ min: [-Infinity, -Infinity, -Infinity], max: [Infinity, Infinity, -60] })
    expect(solid({ ...floor, normal: [0, -2, 0] }).bounds.min).toEqual([-Infinity, 0, -Infinity])
    expect(solid({ ...floor, normal: [0, 1e-9, 1] }).bounds.max).toEqual([Infinity, Infinity, Infinity])
  })

  it('should take a normal of any length, down to the smallest', () => {
    for (const size of [1e-300, 1e-7, 1, 1e6])
      expect(solid({ ...floor, normal: [0, 0, size] }).forms).toEqual([
        { form: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 1] },
      ])
  })

  it('should be shown as a square patch that spans what is looked at', () => {
    const { positions, triangles, edges } = displayOf(solid(floor), {
      within: { min: [-300, -400, 0], max: [300, 400, 0] },
    })
    expect([...positions].filter((_, i) => i % 3 === 2)).toEqual([-60, -60, -60, -60])
    expect(Math.max(...[...positions].filter((_, i) => i % 3 === 1))).toBeGreaterThanOrEqual(400)
    expect([triangles.length, edges.length]).toEqual([6, 24])
  })
})
