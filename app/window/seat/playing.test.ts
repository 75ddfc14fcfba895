import { expect, test } from 'vitest'
import type { LeastOnTheWay, Move } from '../../../core/seat/answer.ts'
import { nextStop, stopsOf } from '../state/motion.ts'
import type { Motion } from '../state/windowState.ts'
import { playedOn } from './playing.ts'
import { gripText } from '../../wording/seatWords.ts'
import { axisOf, mainAxisOf } from './turning.ts'

const move: Move = { shift: [0, 0, 10], pivot: [0, 0, 0], axis: [0, 1, 0], angle: 0 }
const least = { move: 1, share: 0.25 } as LeastOnTheWay
const motion = (at: number, place: LeastOnTheWay | null = least): Motion => ({
  path: { start: { at: [0, 0, 0], turn: [0, 0, 0] }, moves: [move, move, move] },
  least: place,
  moving: ['core'],
  at,
  swept: false,
})

test('it plays on, stops at the tightest place once, and at its ends', () => {
  expect(playedOn(motion(0), 1, 700)).toEqual({ at: 0.5, stops: false })
  expect(playedOn(motion(1), 1, 1400)).toEqual({ at: 1.25, stops: true })
  expect(playedOn(motion(1.25), 1, 700)).toEqual({ at: 1.75, stops: false })
  expect(playedOn(motion(2.9), 1, 1400)).toEqual({ at: 3, stops: true })
  expect(playedOn(motion(2), -1, 1400)).toEqual({ at: 1.25, stops: true })
  expect(playedOn(motion(0.5), -1, 1400)).toEqual({ at: 0, stops: true })
  expect(playedOn(motion(1, null), 1, 700)).toEqual({ at: 1.5, stops: false })
  expect(playedOn(motion(1.2), 1, 0)).toEqual({ at: 1.2, stops: false })
})

test('without motion each press goes to the next stop', () => {
  expect(stopsOf(motion(0))).toEqual([0, 1, 1.25, 2, 3])
  expect(nextStop(motion(1), 1)).toBe(1.25)
  expect(nextStop(motion(1.25), 1)).toBe(2)
  expect(nextStop(motion(1.25), -1)).toBe(1)
  expect(nextStop(motion(3), 1)).toBe(3)
  expect(nextStop(motion(0), -1)).toBe(0)
})

test('axes and edges by their names', () => {
  expect([axisOf([0, 2, 0]), axisOf([0, -1, 0]), axisOf([0, 1, 0.1])]).toEqual([1, null, null])
  expect(mainAxisOf([0.2, -1, 0.1])).toBe(1)
  expect(gripText({ side: [0, 0, 0] })).toBe('middle')
  expect(gripText({ side: [1, 0, 1] })).toBe('top rear edge')
  expect(gripText({ side: [-1, -1, 0] })).toBe('front left edge')
})
