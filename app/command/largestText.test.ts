import { describe, expect, test } from 'vitest'
import { roomBay } from '../../test/kit/roomBay.ts'
import type { LargestAnswer } from '../../core/largest/largest.ts'
import { depthsText, type LargestTelling, largestText } from './largestText.ts'

const io = { out: () => {}, err: () => {}, colour: false, ascii: false }
const bay = roomBay({
  limits: { depth: { stock: [90, 102] }, height: { min: 50, max: 200, pitch: 10.5, offset: 8 } },
})
bay.keepOuts[4].role = 'safety'
const telling: LargestTelling = {
  bay,
  before: bay.candidates[0],
  aim: 'volume',
  leftOut: [],
  written: null,
  units: 'mm',
}
const answer: LargestAnswer = {
  answer: 'found',
  core: { depth: 102, width: 481.996, height: 134 },
  at: [40, -0.25, 4],
  turn: [0, -2.5, 0],
  value: 102 * 481.996 * 134,
  upperBound: 102 * 482.2 * 134,
  within: 0.005,
  stopped: 'proved',
  holds: [
    { keepOut: 'left', part: 'core', side: 'left', gainPerMm: 290_000 },
    { keepOut: 'roof', part: 'tank-right', side: 'above', gainPerMm: 310_000 },
    { keepOut: 'rear', part: 'core', side: 'rear', gainPerMm: null },
    { limit: 'width.max', gainPerMm: 13_668 },
    { limit: 'centre.max[0]', gainPerMm: 0 },
  ],
  candidate: { ...bay.candidates[0], core: { depth: 102, width: 481.996, height: 134 }, at: [40, -0.25, 4] },
}
const told = (change: Partial<LargestAnswer> = {}, other: Partial<LargestTelling> = {}) => {
  const text = largestText({ ...telling, ...other }, { ...answer, ...change }, io)
  return text.slice(0, text.indexOf('Gapwright is'))
}

describe('the largest core in words', () => {
  test('what is proved, rounded to the safe side, and what holds it', () => {
    expect(told()).toMatchInlineSnapshot(`
      "Room · candidate wide (Wide) · mm

      ✓ clears. The largest core, proved within 0.043 % of the best possible.

      core    102.00 × 481.99 × 134.00 mm (depth × width × height)
      stock   102.00 mm deep
      rows    12 of 10.50 mm, and 8.00 mm beside them
      volume  6.587 L; no core within the limits has more than 6.591 L
      now     90.00 × 400.00 × 130.00 mm, 4.680 L: 71 % of that
      centre  40.00 mm rearward, 0.25 mm left, 4.00 mm up
      tilt    2.5°, top forward

      held by                                  at                 what it would buy
      ───────────────────────────────────────  ─────────────────  ──────────────────────────────────────
      left (Wall left)                         core, left         measured 1 mm surer, it buys 0.29 L
      roof (Wall roof)                         tank-right, above  +1 mm here buys 0.31 L
      rear (Wall rear)                         core, rear         not worked out: the search was stopped
      greatest width                           limits             +1 mm here buys 0.013 L
      region for the centre, its end rearward  limits             +1 mm here buys nothing by itself

      "
    `)
  })

  test('in inches', () => {
    expect(told({}, { units: 'inch' })).toMatchInlineSnapshot(`
      "Room · candidate wide (Wide) · inches

      ✓ clears. The largest core, proved within 0.043 % of the best possible.

      core    4 1/64″ × 18 31/32″ × 5 17/64″ (depth × width × height)
      stock   4 1/64″ deep
      rows    12 of 13/32″, and 5/16″ beside them
      volume  402.0 in³; no core within the limits has more than 402.2 in³
      now     3 17/32″ × 15 47/64″ × 5 7/64″, 285.5 in³: 71 % of that
      centre  1 37/64″ rearward, 1/64″ left, 5/32″ up
      tilt    2.5°, top forward

      held by                                  at                 what it would buy
      ───────────────────────────────────────  ─────────────────  ──────────────────────────────────────
      left (Wall left)                         core, left         measured 1/32″ surer, it buys 14 in³
      roof (Wall roof)                         tank-right, above  +1/32″ here buys 15 in³
      rear (Wall rear)                         core, rear         not worked out: the search was stopped
      greatest width                           limits             +1/32″ here buys 0.66 in³
      region for the centre, its end rearward  limits             +1/32″ here buys nothing by itself

      "
    `)
  })

  test('stopped before the proof', () => {
    expect(told({ stopped: 'cancelled' })).toContain(
      'stopped by you. It is proved within 0.043 % of the best possible.',
    )
    expect(told({ stopped: 'time' })).toContain('stopped by the clock.')
    expect(told({ stopped: 'work', upperBound: 2 * answer.value }).replace(/\s+/g, ' ')).toContain(
      'the search reached the end of its budget. It is proved to clear, and the best possible to have at most 100 % more.',
    )
  })

  test('a candidate that is larger than what fits', () => {
    expect(told({ value: 4e6, upperBound: 4.01e6 })).toContain('4.680 L: more than fits')
  })

  test('nothing, proved or not', () => {
    const none = { answer: 'none found', stopped: 'time', conflict: [], upperBound: 5e6 } as const
    expect(largestText(telling, none, io).replace(/\s+/g, ' ')).toContain(
      '? none found. The search was stopped by the clock before it had a core, and that there is none is not proved. ' +
        'Nothing larger than 5.000 L fits; that much is proved.',
    )
    const fits = {
      answer: 'nothing fits',
      stopped: 'proved',
      conflict: ['roof', 'centre', 'symmetric'],
      upperBound: 0,
    } as const
    expect(largestText(telling, fits, io).replace(/\s+/g, ' ')).toContain(
      'What leaves no room between them: roof (Wall roof), region for the centre and symmetry about the middle.',
    )
  })
})

test('the table over depths', () => {
  const row = (depth: number) => ({
    depth,
    face: 64_587,
    volume: depth * 64_587,
    answer: { ...answer, value: 64_587, upperBound: 64_600 },
  })
  const none = { answer: 'nothing fits', stopped: 'proved', conflict: ['roof', 'height.min'], upperBound: 0 } as const
  const text = depthsText(telling, [row(90), { ...row(102), answer: none }], io)
  expect(text.slice(0, text.indexOf('Gapwright is'))).toMatchInlineSnapshot(`
    "Room · candidate wide (Wide) · mm

    The largest face that goes in for each depth, and what holds it (1 of 2 depths have none):

    depth  width  height       face    at most   volume  held by
    ─────  ─────  ──────  ─────────  ─────────  ───────  ─────────────────────────────────────────────────────────────────────────
     90.0  481.9   134.0  645.8 cm²  646.0 cm²  5.812 L  left, roof, rear, greatest width, region for the centre, its end rearward
    102.0      –       –          –          –        –  nothing fits: roof, least height

    Sizes in mm, rounded down; bounds rounded up.

    "
  `)
})
