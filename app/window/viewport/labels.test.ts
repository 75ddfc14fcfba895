import { expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { placeLabels } from './labels.ts'

const room = { left: 10, top: 60, right: 790, bottom: 560 }

test('labels never cover each other, whatever their places (seed 11)', () => {
  const random = seeded(11)
  let near = 0
  for (let round = 0; round < 200; round++) {
    const wanted = Array.from({ length: 6 }, () => ({
      at: [random.real(0, 800), random.real(0, 600)] as const,
      width: 190,
      height: random.real(30, 60),
    }))
    const placed = placeLabels(wanted, room)
    for (const [i, a] of placed.entries())
      for (const [j, b] of placed.entries()) {
        if (j <= i) continue
        const apartX = Math.max(a.left, b.left) >= Math.min(a.left + 190, b.left + 190)
        const apartY = a.top >= b.top + wanted[j].height || b.top >= a.top + wanted[i].height
        expect(apartX || apartY).toBe(true)
        if (Math.abs(wanted[i].at[0] - wanted[j].at[0]) < 100 && Math.abs(wanted[i].at[1] - wanted[j].at[1]) < 40)
          near++
      }
  }
  // The test has met the case that it is about.
  expect(near).toBeGreaterThan(50)
})

test('a label stands at the side that has room', () => {
  const [right] = placeLabels([{ at: [200, 300], width: 190, height: 40 }], room)
  expect(right.left).toBeGreaterThan(200)
  const [left] = placeLabels([{ at: [700, 300], width: 190, height: 40 }], room)
  expect(left.left + 190).toBeLessThan(700)
})
