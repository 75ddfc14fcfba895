import { describe, expect, test } from 'vitest'
import { pageAt, pageMargin, percentOf, scaleOf, steppedZoom, topsOf } from './zoom.ts'

/** A4 in points: 210 × 297 mm at 72 points to 25.4 mm. Source: ISO 216; ISO 32000-1 for the point. */
const a4 = { width: (210 / 25.4) * 72, height: (297 / 25.4) * 72 }
const room = { width: 720, height: 640 }

describe('how large pages are shown', () => {
  test('at 100 % a page is as large as on paper: 96 pixels to an inch (CSS Values and Units)', () => {
    expect(a4.width * scaleOf(1, room, a4)).toBeCloseTo((210 / 25.4) * 96, 9)
  })

  test('as wide as the room, and whole: with the margin on both sides, and never out of it', () => {
    expect(a4.width * scaleOf('width', room, a4)).toBeCloseTo(room.width - 2 * pageMargin, 9)
    const whole = scaleOf('page', room, a4)
    expect(a4.height * whole).toBeCloseTo(room.height - 2 * pageMargin, 9)
    const across = { width: a4.height, height: a4.width }
    expect(across.width * scaleOf('page', room, across)).toBeLessThanOrEqual(room.width - 2 * pageMargin + 1e-9)
  })

  test('a room that is not there yet shows something all the same', () => {
    expect(scaleOf('page', { width: 0, height: 0 }, a4)).toBeGreaterThan(0)
  })

  test('steps stop at 100 %, and at the least and the most', () => {
    const at = (zoom: number) => scaleOf(zoom, room, a4)
    expect(steppedZoom(at(0.9), 1.25)).toBe(1)
    expect(steppedZoom(at(1.1), 1 / 1.25)).toBe(1)
    expect(steppedZoom(at(1), 1.25)).toBeCloseTo(1.25, 9)
    expect(steppedZoom(at(3.9), 1.25)).toBe(4)
    expect(steppedZoom(at(0.21), 1 / 1.25)).toBe(0.2)
    expect(percentOf(at(0.5))).toBe(50)
  })
})

describe('which page is seen', () => {
  const tops = topsOf([a4, a4, a4], [1, 1, 1])

  test('pages lie below each other with a margin between', () => {
    expect(tops).toEqual([16, 16 + 842 + 16, 16 + 2 * (842 + 16), 16 + 3 * (842 + 16)])
  })

  test('the one across the middle; above the first it is the first, below the last the last', () => {
    expect([0, 400, 880, 2500, 99999].map((middle) => pageAt(tops, middle))).toEqual([0, 0, 1, 2, 2])
  })
})
