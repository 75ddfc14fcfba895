import { expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { type Box, placeLabels } from './labels.ts'

const room: Box = { left: 10, top: 60, right: 790, bottom: 560 }
const boxOf = ({ left, top }: { left: number; top: number }, width: number, height: number): Box => ({
  left,
  top,
  right: left + width,
  bottom: top + height,
})
const meet = (a: Box, b: Box) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom

test('labels cover neither each other nor what they belong to, where it leaves room for them (seed 11)', () => {
  const random = seeded(11)
  const seen = { crowded: 0, right: 0, left: 0 }
  for (let round = 0; round < 300; round++) {
    const [x, y] = [random.real(20, 600), random.real(70, 400)]
    const thing: Box = { left: x, top: y, right: x + random.real(40, 180), bottom: y + random.real(40, 140) }
    const wanted = Array.from({ length: 4 }, () => ({
      at: [random.real(thing.left, thing.right), random.real(thing.top, thing.bottom)] as const,
      width: 190,
      height: random.real(30, 80),
    }))
    const boxes = placeLabels(wanted, thing, room).map((label, i) => boxOf(label, 190, wanted[i].height))
    for (const [i, box] of boxes.entries()) {
      expect(meet(box, thing)).toBe(false)
      expect(box.top).toBeGreaterThanOrEqual(room.top - 1e-9)
      expect(box.bottom).toBeLessThanOrEqual(room.bottom + 1e-9)
      for (const other of boxes.slice(i + 1)) expect(meet(box, other)).toBe(false)
    }
    if (boxes[0].left > thing.right) seen.right++
    else seen.left++
    if (Math.abs(wanted[0].at[1] - wanted[1].at[1]) < 30) seen.crowded++
  }
  // The test has met the cases that it is about.
  expect(seen.crowded).toBeGreaterThan(30)
  expect(seen.right).toBeGreaterThan(30)
  expect(seen.left).toBeGreaterThan(30)
})

test('beside a thing that fills the picture they stand at the farther edge', () => {
  const all: Box = { left: 0, top: 0, right: 800, bottom: 600 }
  const [label] = placeLabels([{ at: [700, 300], width: 190, height: 40 }], all, room)
  expect(label.left).toBe(room.left)
  expect(label.leader[1][0]).toBe(room.left + 190)
  expect(placeLabels([], all, room)).toEqual([])
})
