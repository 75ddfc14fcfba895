import { describe, expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { overlap, placeBoxes } from './placeBoxes.ts'

const room = { left: 0, top: 0, right: 900, bottom: 600 }

describe('labels', () => {
  test('never cover each other nor what is taken, and stay in the room: 300 pictures (seed 11), most labels placed', () => {
    const random = seeded(11)
    let [wantedAll, placedAll] = [0, 0]
    for (let i = 0; i < 300; i++) {
      const wanted = Array.from({ length: 7 }, () => ({
        at: [random.real(50, 850), random.real(50, 550)] as const,
        width: random.real(60, 180),
        height: random.real(18, 40),
        towards: [random.pick([-1, 0, 1]), random.pick([-1, 1])] as const,
      }))
      const taken = [{ left: 0, top: 500, right: 300, bottom: 600 }]
      const boxes = placeBoxes(wanted, taken, room).flatMap((at, k) =>
        at ? [{ left: at[0], top: at[1], right: at[0] + wanted[k].width, bottom: at[1] + wanted[k].height }] : [],
      )
      wantedAll += wanted.length
      placedAll += boxes.length
      for (const [k, box] of boxes.entries()) {
        expect(box.left).toBeGreaterThanOrEqual(0)
        expect(box.bottom).toBeLessThanOrEqual(600)
        for (const other of [...taken, ...boxes.slice(k + 1)]) expect(overlap(box, other)).toBe(false)
      }
    }
    expect(placedAll / wantedAll).toBeGreaterThan(0.97)
  })

  test('a label that nothing hinders stands where it would best', () => {
    const [at] = placeBoxes([{ at: [400, 300], width: 100, height: 20, towards: [1, 0] }], [], room)
    expect(at).toEqual([416, 290])
  })

  test('one that has no room at all is left out', () => {
    const wide = { at: [400, 300] as const, width: 2000, height: 20, towards: [1, 0] as const }
    expect(placeBoxes([wide], [], room)).toEqual([null])
  })
})
