import { describe, expect, test } from 'vitest'
import type { Hold, LargestAnswer } from '../../../core/largest/largest.ts'
import { words } from '../words.ts'
import {
  boundLitres,
  boundText,
  buysText,
  faceText,
  foundLitres,
  placeGlance,
  shareText,
  sizeGlance,
} from './figures.ts'

const core = { depth: 100, width: 500, height: 200 }
const answer = (more: Partial<LargestAnswer>): LargestAnswer => ({
  answer: 'found',
  core,
  at: [0, 0, 0],
  turn: [0, 0, 0],
  value: 1e7,
  upperBound: 1.0009e7,
  within: 0.001,
  stopped: 'proved',
  holds: [],
  candidate: { id: 'a', name: 'A', at: [0, 0, 0], turn: [0, 0, 0], core },
  ...more,
})

describe('volumes', () => {
  test('what was found is rounded down and its bound up, so that both stay true', () => {
    expect(foundLitres(14_859_900)).toBe('14.85')
    expect(boundLitres(14_851_100)).toBe('14.86')
    expect(foundLitres(9_464_999)).toBe('9.464')
    expect(boundLitres(9_464_001)).toBe('9.465')
    // A value that is there in full loses nothing to binary dust.
    expect(foundLitres(13_104_000)).toBe('13.10')
    expect(boundLitres(13_100_000)).toBe('13.10')
    expect(foundLitres(14_580_000)).toBe('14.58')
  })

  test('a proof is named as one; a search that was stopped says how wide it still is', () => {
    expect(boundText(answer({}))).toBe('at most 10.01 L, proved within 0.1 %')
    expect(boundText(answer({ stopped: 'cancelled', upperBound: 1.234e7 }))).toBe(
      'stopped; at most 12.34 L, within 24 %',
    )
    expect(boundText(answer({ stopped: 'work', upperBound: 1.0123e7 }))).toBe('stopped; at most 10.13 L, within 1.3 %')
    expect(boundText(answer({ stopped: 'cancelled', upperBound: 9.6e7 }))).toBe('stopped; at most 96.00 L')
    expect(boundText(answer({ stopped: 'cancelled', upperBound: Infinity }))).toBe('stopped, with no bound yet')
  })

  test('faces in the units that people have chosen', () => {
    expect(faceText(145_600, 'mm')).toBe('1,456')
    expect(faceText(645.16 * 225.7, 'inch')).toBe('225.7')
  })
})

test('sizes at a glance never claim more than there is; places are rounded', () => {
  expect(sizeGlance(601.299, 'mm')).toBe('601.2')
  expect(sizeGlance(90, 'mm')).toBe('90')
  expect(placeGlance(-53.38, 'mm')).toBe('−53.4')
  expect(sizeGlance(25.4 * 3.5, 'inch')).toBe('3 1/2')
})

describe('share of the largest', () => {
  test('whole per cent, and all of it only for what reaches it', () => {
    expect(shareText(core, 1e7)).toBe('100 %')
    expect(shareText(core, 1e7 * (1 + 1e-6))).toBe('99 %')
    expect(shareText(core, 1e7 / 0.979)).toBe('97 %')
    // A candidate that does not clear may well be larger than the largest that does.
    expect(shareText(core, 1e7 / 1.05)).toBe('105 %')
  })
})

describe('what a little more room buys', () => {
  const hold = (gainPerMm: number | null): Hold => ({ keepOut: 'beam', part: 'core', side: 'front', gainPerMm })

  test('beside a part that may give way, a millimetre of room', () => {
    expect(buysText(hold(310_000), 'cooling', 'mm')).toBe('+1 mm here buys 0.31 L')
    expect(buysText(hold(1_000), 'body', 'mm')).toBe('+1 mm here buys less than 0.01 L')
    expect(buysText(hold(0), 'body', 'mm')).toBe('+1 mm here buys nothing by itself')
    expect(buysText(hold(null), 'body', 'mm')).toMatch(/not reached/)
    expect(buysText({ limit: 'width.max', gainPerMm: 26_520 }, null, 'mm')).toBe('+1 mm here buys 0.03 L')
  })

  test('beside a part that must stay as it is, only the measuring: never metal', () => {
    for (const role of ['safety', 'lamp'] as const) {
      expect(buysText(hold(290_000), role, 'mm')).toBe('measured 1 mm surer, it buys 0.29 L')
      expect(buysText(hold(290_000), role, 'inch')).not.toMatch(/\+|here/)
    }
  })

  test('in inches by the thirty-second, with what that buys', () => {
    expect(buysText(hold(320_000), 'hot', 'inch')).toMatch(/1\/32.* here buys 0\.25 L$/)
  })

  test('limits by name', () => {
    expect(words.largest.limit('width.max')).toBe('Limit: width at most')
    expect(words.largest.limit('centre.min[2]')).toBe('Limit: centre Z at least')
    expect(words.largest.limit('depth.stock')).toBe('Limit: depth stock')
    expect(words.largest.limit('symmetric')).toBe('Limit: symmetric')
  })
})
