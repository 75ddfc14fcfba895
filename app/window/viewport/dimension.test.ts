import { describe, expect, test } from 'vitest'
import { dimensionOf } from './dimension.ts'

const room = { left: 10, top: 60, right: 790, bottom: 450 }
const tip = (path: string) => path.slice(1).split('L')[0].split(' ').map(Number)

describe('a gap as a dimension', () => {
  test('arrows touch the ends from within where there is room, and from outside where there is not', () => {
    const wide = dimensionOf([100, 200], [200, 200], room)
    expect(wide.arrows.map(tip)).toEqual([
      [100, 200],
      [200, 200],
    ])
    expect(wide.arrows[0]).toContain('L110.0 ')
    expect(wide.tails).toEqual([])
    const narrow = dimensionOf([100, 200], [110, 200], room)
    expect(narrow.arrows[0]).toContain('L90.0 ')
    expect(narrow.tails).toHaveLength(2)
  })

  test('the label stays in the room, on whichever side', () => {
    for (const at of [
      [20, 70],
      [780, 440],
      [400, 250],
    ] as const) {
      const { leader, label } = dimensionOf(at, [at[0] + 5, at[1]], room)
      const xs = [leader[1][0], leader[2][0]]
      expect(Math.min(...xs)).toBeGreaterThanOrEqual(room.left)
      expect(Math.max(...xs)).toBeLessThanOrEqual(room.right)
      expect(label.at[1]).toBeGreaterThan(room.top)
      expect(label.at[1]).toBeLessThan(room.bottom)
    }
  })

  test('a gap seen end on has arrows all the same, and no number that is not one', () => {
    const { arrows } = dimensionOf([50, 100], [50, 100], room)
    expect(arrows.join()).not.toContain('NaN')
  })
})
