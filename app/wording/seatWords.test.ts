import { expect, test } from 'vitest'
import type { Move } from '../../core/seat/answer.ts'
import { leastText, moveWords } from './seatWords.ts'

const move = (more: Partial<Move>): Move => ({ shift: [0, 0, 0], pivot: [0, 0, 0], axis: [0, 0, 1], angle: 0, ...more })

test('shifts in the directions of the car, the largest first', () => {
  expect(moveWords(move({ shift: [0, 0, 120] }), null, 'mm')).toBe('up 120.0 mm')
  expect(moveWords(move({ shift: [-14, 0, 0] }), null, 'mm')).toBe('forward 14.0 mm')
  expect(moveWords(move({ shift: [14, -3, -67] }), null, 'mm')).toBe('down 67.0 mm with back 14.0 mm with left 3.0 mm')
  expect(moveWords(move({}), null, 'mm')).toBe('stay')
  expect(moveWords(move({ shift: [0, 0, 25.4] }), null, 'inch')).toBe('up 1″')
})

test('turns by what goes where, right-hand about X rearward, Y right, Z up', () => {
  // About +Y, Z goes towards X: the top goes rearward. About +Z, Y goes towards −X; about +X, Y goes towards Z.
  expect(moveWords(move({ axis: [0, 1, 0], angle: 12 }), null, 'mm')).toMatch(/^tilt 12° top rearward about /)
  expect(moveWords(move({ axis: [0, -1, 0], angle: 12 }), null, 'mm')).toMatch(/^tilt 12° top forward about /)
  expect(moveWords(move({ axis: [0, 0, 2], angle: -29.2 }), null, 'mm')).toMatch(
    /^swing 29\.2° right end rearward about /,
  )
  expect(moveWords(move({ axis: [1, 0, 0], angle: 5 }), null, 'mm')).toMatch(/^roll 5° right end up about /)
  expect(moveWords(move({ axis: [1, 1, 0], angle: -5 }), null, 'mm')).toMatch(
    /^turn −5° about \(0\.707, 0\.707, 0\.000\) about /,
  )
  expect(moveWords(move({ axis: [0, 1, 0], angle: 12, pivot: [-98, 0, 262], shift: [0, 0, 40] }), null, 'mm')).toBe(
    'tilt 12° top rearward about the point 98.0 mm forward, 0.0 mm right, 262.0 mm above while moving up 40.0 mm',
  )
})

test('an edge of the core that is turned about is called by its sides', () => {
  const tilt = move({ axis: [0, -1, 0], angle: 12, shift: [0, 0, 40] })
  expect(moveWords(tilt, { side: [1, 0, 1], at: [45, 0, 130] }, 'mm')).toBe(
    'tilt 12° top forward about its top rear edge while moving up 40.0 mm',
  )
  expect(moveWords(tilt, { side: [0, 0, 0], at: [0, 0, 0] }, 'mm')).toMatch(/about its middle while/)
})

test('the certified interval is rounded outwards', () => {
  const least = { atLeast: 6.579, atMost: 6.5711 + 0.01, move: 1, share: 0, part: 'core', keepOut: 'beam' } as const
  const text = leastText({ ...least, onPart: [0, 0, 0], onKeepOut: [1, 2, 3] }, 'mm')
  expect(text).toMatch(/^6\.57 mm to 6\.59 mm, at the beginning of move 2: core to beam, at /)
})
