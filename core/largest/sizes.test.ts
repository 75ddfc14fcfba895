import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Limits } from '../bay/schema.ts'
import { type Sizes, sizesOf } from './sizes.ts'

function sizes(name: Sizes['name'], limits: Limits): Sizes {
  const made = sizesOf(name, limits, `limits.${name}`)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}

describe('lengths that can be had', () => {
  test('any length between least and most', () => {
    const width = sizes('width', { width: { min: 300, max: 560 } })
    expect([299, 300, 412.5, 900].map(width.down)).toEqual([-Infinity, 300, 412.5, 560])
    expect([10, 412.5, 560, 561].map(width.up)).toEqual([300, 412.5, 560, Infinity])
    expect(width.stepped).toBe(false)
  })

  test('without limits everything above nothing', () => {
    const depth = sizes('depth', {})
    expect(depth.most).toBe(Infinity)
    expect(depth.least).toBeGreaterThan(0)
    expect(depth.down(1e4)).toBe(1e4)
  })

  test('stock between least and most', () => {
    const depth = sizes('depth', { depth: { stock: [102, 65, 90, 76, 90], min: 70, max: 100 } })
    expect([69, 76, 89.9, 90, 500].map(depth.down)).toEqual([-Infinity, 76, 76, 90, 90])
    expect([1, 76, 76.1, 90.1].map(depth.up)).toEqual([76, 76, 90, Infinity])
  })

  test('rounding of a face’s coordinate costs no size', () => {
    const depth = sizes('depth', { depth: { stock: [90] } })
    expect(depth.down(90 - 1e-10)).toBe(90)
    expect(depth.down(90 - 1e-6)).toBe(-Infinity)
  })

  // Rows as the examples have them: 24 rows of 10.5 mm and 8 mm of plates make 260 mm.
  test('whole rows, at least one', () => {
    const height = sizes('height', { height: { min: 150, max: 265, pitch: 10.5, offset: 8 } })
    expect([height.least, height.most]).toEqual([155, 260])
    expect([154, 155, 165.4, 1000].map(height.down)).toEqual([-Infinity, 155, 155, 260])
    expect([0, 155.1, 260.1].map(height.up)).toEqual([155, 165.5, Infinity])
    expect(sizes('height', { height: { pitch: 10, offset: 4 } }).least).toBe(14)
  })

  test('stock that is no whole number of rows is left out', () => {
    const height = sizes('height', { height: { stock: [208, 210, 218], pitch: 10.5, offset: 8 } })
    expect([height.least, height.most]).toEqual([218, 218])
  })

  test.each<[Sizes['name'], Limits]>([
    ['depth', { depth: { stock: [65], max: 60 } }],
    ['width', { width: { min: 5, max: 4 } }],
    ['height', { height: { pitch: 10, offset: 8, min: 20, max: 25 } }],
    ['height', { height: { stock: [200], pitch: 10.5, offset: 8 } }],
  ])('%s of %j cannot be had', (name, limits) => {
    const made = sizesOf(name, limits, 'here')
    expect(made.ok ? [] : made.faults).toMatchObject([{ code: 'limits-contradict', field: 'here' }])
  })

  test('down and up enclose a length without a size between (seed 5)', () => {
    const mm = fc.double({ min: 1, max: 500, noNaN: true })
    fc.assert(
      fc.property(
        mm,
        fc.double({ min: 1, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 9, noNaN: true }),
        (x, pitch, offset) => {
          const { down, up } = sizes('height', { height: { pitch, offset } })
          const [below, above] = [down(x), up(x)]
          expect(below).toBeLessThanOrEqual(x + 1e-9)
          expect(above).toBeGreaterThanOrEqual(x - 1e-9)
          expect(
            below === -Infinity || Math.abs((below - offset) / pitch - Math.round((below - offset) / pitch)) < 1e-9,
          ).toBe(true)
          if (below > -Infinity) expect(above - below).toBeLessThan(pitch * (1 + 1e-9))
        },
      ),
      { seed: 5, numRuns: 500 },
    )
  })
})
