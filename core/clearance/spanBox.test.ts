import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { anyTube, TubeLayer } from '../../test/kit/tubes.ts'
import { along, type Vec3 } from '../shape/vec.ts'
import { spanBoxBound } from './spanBox.ts'
import { touch, touchSize } from './tubeDiscs.ts'
import { TubeSpans } from './tubeSpans.ts'

describe('lower bound of a span and a box', () => {
  it('no point of 100 in the box is nearer to the span than the bound says: 3000 random boxes, seed 51', () => {
    const random = seeded(51)
    const out = new Float64Array(touchSize)
    let positive = 0
    for (let i = 0; i < 3000; i++) {
      const tube = new TubeSpans(anyTube(random, 30))
      let span = random.int(tube.pieces)
      while (!tube.isStraight(span) && random.chance(0.5)) span = tube.halve(span) + random.int(2)
      const min = random.point(70)
      const max: Vec3 = [min[0] + random.size(0.1, 40), min[1] + random.size(0.1, 40), min[2] + random.size(0.1, 40)]
      const bound = spanBoxBound(tube, span, ...min, ...max, Number.POSITIVE_INFINITY)
      if (bound > 0) positive++
      // touch() is exact for a point in the span's own half-planes and an upper bound elsewhere; both must not fall below.
      for (let k = 0; k < 100; k++) {
        const pick = (a: number, b: number) => (random.chance(0.5) ? random.real(a, b) : random.chance(0.5) ? a : b)
        const q: Vec3 = [pick(min[0], max[0]), pick(min[1], max[1]), pick(min[2], max[2])]
        expect(bound).toBeLessThanOrEqual(touch(tube, span, q[0], q[1], q[2], out) + 1e-9)
      }
    }
    expect(positive).toBeGreaterThan(1500)
  })

  it('a box before a flat end is as far as the end, not as its half-ball', () => {
    const tube = new TubeSpans(new TubeLayer([0, 0, 0], [1, 0, 0], [0, 1, 0]).straight(100).tube(30))
    const at: Vec3 = along([100, 0, 0], [1, 0, 0], 5)
    const bound = spanBoxBound(tube, 0, at[0], 25, -2, at[0] + 4, 29, 2, Number.POSITIVE_INFINITY)
    expect(Math.abs(bound - 5)).toBeLessThan(1e-12)
  })
})
