import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../../shape/vec.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import { views } from '../drawing/view.ts'
import { gapEnds, sideGaps, tightestOf } from './sideGaps.ts'

const pair = (keepOut: string, onPart: Vec3, onKeepOut: Vec3, more: Partial<LedgerPair> = {}): LedgerPair => ({
  part: 'core',
  keepOut,
  role: 'body',
  gap: Math.hypot(...onPart.map((x, k) => onKeepOut[k] - x)),
  error: 0,
  tolerance: 0,
  uncertainty: 0,
  required: 0,
  margin: 0,
  verdict: 'clears',
  onPart,
  onKeepOut,
  ...more,
})
const front = views['front']
const named = (pairs: readonly LedgerPair[], { right, up } = front) =>
  Object.fromEntries(sideGaps(pairs, right, up).map(({ side, pair: found }) => [side, found.keepOut]))

describe('the nearest keep-out on each side of a drawing', () => {
  // From the front, the bay's right is on the left of the drawing: Y to the right of the car, seen face to face.
  const all = [
    pair('near', [0, 50, 0], [0, 60, 0]),
    pair('far', [0, 50, 0], [0, 90, 0]),
    pair('other', [0, -50, 0], [0, -75, 0]),
    pair('over', [0, 0, 20], [0, 0, 24]),
    pair('before', [-5, 0, 0], [-6, 0, 0]),
    pair('slanting', [0, 50, 20], [0, 51, 21]),
    pair('tank', [0, 50, 0], [0, 51, 0], { between: 'parts' }),
  ]
  test('is the least gap that points squarely that way; ends on, slanting and parts do not count', () => {
    expect(named(all)).toEqual({ left: 'near', right: 'other', above: 'over' })
  })

  test('in the plan the one in front comes below', () => {
    expect(named(all, views['plan'])).toMatchObject({ below: 'before', left: 'near' })
  })

  test('an overlap comes before any gap, on the side where the keep-out is', () => {
    const deep = pair('deep', [0, 50, 0], [0, 50, 0], {
      gap: 0,
      overlap: { depth: 7, kind: 'exact', direction: [0, -1, 0] },
    })
    expect(named([...all, deep])).toMatchObject({ left: 'deep' })
    expect(gapEnds(deep)).toEqual([
      [0, 50, 0],
      [0, 43, 0],
    ])
  })

  test('the tightest are the first of the ledger that are not between parts', () => {
    expect(tightestOf(all.toReversed(), 2).map(({ keepOut }) => keepOut)).toEqual(['slanting', 'before'])
  })
})
