import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { sizesOf, snapped, steppedOn } from './snapping.ts'

const rows = { pitch: 10.5, offset: 8 }

describe('where a value that is pulled comes to rest', () => {
  test.each([
    [263, { step: 1, rows }, 260, { kind: 'rows', rows: 24 }],
    [266, { step: 1, rows }, 270.5, { kind: 'rows', rows: 25 }],
    [-40, { step: 1, rows }, 18.5, { kind: 'rows', rows: 1 }],
    [84, { step: 1, stock: [65, 76, 90, 102] }, 90, { kind: 'stock' }],
    [500, { step: 1, stock: [65, 76, 90, 102] }, 102, { kind: 'stock' }],
    [211, { step: 1, stock: [208, 218], rows }, 208, { kind: 'stock' }],
    [12.4, { step: 1 }, 12, null],
    [-0.4, { step: 1 }, 0, null],
    [40, { step: 25.4 / 16 }, 39.6875, null],
    [
      12.4,
      { step: 1, lines: [{ value: 13.237, keepOut: 'beam' }], reach: 1 },
      13.237,
      { kind: 'gap', keepOut: 'beam' },
    ],
    [11.4, { step: 1, lines: [{ value: 13.237, keepOut: 'beam' }], reach: 1 }, 11, null],
    [9, { step: 1, stock: [] }, 9, null],
  ])('%d by %o is %d', (value, rule, wanted, to) => {
    expect(snapped(value, rule)).toEqual({ value: wanted, to })
  })

  test('of two lines in reach it is the nearer one, whatever their order', () => {
    const lines = [
      { value: 11, keepOut: 'far' },
      { value: 9.8, keepOut: 'near' },
    ]
    for (const order of [lines, [...lines].reverse()])
      expect(snapped(10, { step: 1, lines: order, reach: 3 }).to).toEqual({ kind: 'gap', keepOut: 'near' })
  })

  test('it is never farther away than half of what lies between two places, and at rest it stays (seed 77)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 2000, noNaN: true }),
        fc.double({ min: 0.1, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 19, noNaN: true }),
        (value, pitch, offset) => {
          for (const rule of [{ step: pitch }, { step: 1, rows: { pitch, offset } }]) {
            const { value: at } = snapped(value, rule)
            const isFirst = rule.rows !== undefined && at <= pitch + offset + 1e-9
            if (!isFirst) expect(Math.abs(at - value)).toBeLessThanOrEqual(pitch / 2 + 1e-8)
            expect(snapped(at, rule).value).toBeCloseTo(at, 8)
          }
        },
      ),
      { seed: 77, numRuns: 300 },
    )
  })
})

describe('one press of a key', () => {
  test('goes to the next row, whether the height is of whole rows or not', () => {
    expect(steppedOn(260, 1, { step: 1, rows })).toEqual({ value: 270.5, to: { kind: 'rows', rows: 25 } })
    expect(steppedOn(260, -1, { step: 1, rows }).value).toBe(249.5)
    expect(steppedOn(262, 1, { step: 1, rows }).value).toBe(270.5)
    expect(steppedOn(262, -1, { step: 1, rows }).value).toBe(260)
    expect(steppedOn(18.5, -1, { step: 1, rows }).value).toBe(18.5)
  })

  test('goes to the next stock size, and stays at the last one', () => {
    const stock = [102, 65, 90, 76]
    expect(steppedOn(76, 1, { step: 1, stock }).value).toBe(90)
    expect(steppedOn(80, -1, { step: 1, stock }).value).toBe(76)
    expect(steppedOn(102, 1, { step: 1, stock })).toEqual({ value: 102, to: null })
  })

  test('and back is where one was', () => {
    expect(steppedOn(steppedOn(12.34, 1, { step: 25.4 / 16 }).value, -1, { step: 25.4 / 16 }).value).toBeCloseTo(
      12.34,
      8,
    )
  })
})

test('sizes that can be had belong to their own faces', () => {
  const limits = { depth: { stock: [65] }, height: { pitch: 10.5, offset: 8 } }
  expect(sizesOf('rear', limits)).toEqual({ stock: [65] })
  expect(sizesOf('left', limits)).toEqual({ stock: undefined })
  expect(sizesOf('above', limits)).toEqual({ stock: undefined, rows })
  expect(sizesOf('below', undefined)).toEqual({ stock: undefined, rows: undefined })
})
