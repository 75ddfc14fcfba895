import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { arcPoint, TubeLayer } from '../../test/kit/tubes.ts'
import type { ArcPiece } from '../shape/form.ts'
import { distance } from '../shape/vec.ts'
import { arcPairBound } from './arcPairBound.ts'
import { TubeSpans } from './tubeSpans.ts'

/** Least distance over a grid of points on both arcs. */
function sampled(a: ArcPiece, b: ArcPiece, steps: number): number {
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i <= steps; i++)
    for (let j = 0; j <= steps; j++)
      least = Math.min(least, distance(arcPoint(a, (i / steps) * a.angle), arcPoint(b, (j / steps) * b.angle)))
  return least
}

describe('lower bound of the distance of two arcs', () => {
  it('is never above a sampled distance: 2000 random pairs, seed 61', () => {
    const random = seeded(61)
    let close = 0
    for (let i = 0; i < 2000; i++) {
      const arc = () =>
        new TubeLayer(random.point(100), random.unit(), random.unit())
          .bend(random.size(5, 200), random.size(0.003, Math.PI))
          .tube(1)
      const a = arc()
      const b = arc()
      const least = sampled(a.centreline[0] as ArcPiece, b.centreline[0] as ArcPiece, 12)
      const bound = arcPairBound(new TubeSpans(a), 0, new TubeSpans(b), 0)
      expect(bound).toBeLessThanOrEqual(least + 1e-9)
      if (bound > 0.9 * least) close++
    }
    expect(close).toBeGreaterThan(400)
  })

  it('falls short with the third power of the angle: a quarter of it costs less than 1/16, seed 62', () => {
    const random = seeded(62)
    let tried = 0
    for (let i = 0; i < 50; i++) {
      const arc = (by: number, seed: number) => {
        const r = seeded(seed)
        return new TubeLayer(r.point(100), r.unit(), r.unit()).bend(r.real(20, 80), by).tube(1)
      }
      const [s, t] = [random.int(1e9), random.int(1e9)]
      const short = (by: number) => {
        const a = arc(by, s)
        const b = arc(by, t)
        const least = sampled(a.centreline[0] as ArcPiece, b.centreline[0] as ArcPiece, 1)
        return least - arcPairBound(new TubeSpans(a), 0, new TubeSpans(b), 0)
      }
      // The least of two short arcs is at their ends, or the grid would not hold it; both are small then.
      const wide = short(0.02)
      if (wide < 1e-7) continue
      tried++
      expect(short(0.005)).toBeLessThan(wide / 16)
    }
    expect(tried).toBeGreaterThan(30)
  })

  it('closes on coaxial circles and concentric bends however long', () => {
    const low = new TubeSpans(new TubeLayer([1, 0, 0], [0, 1, 0], [-1, 0, 0]).bend(1, Math.PI).tube(1e-3))
    const high = new TubeSpans(new TubeLayer([3, 0, 2], [0, 1, 0], [-1, 0, 0]).bend(3, Math.PI).tube(1e-3))
    expect(Math.abs(arcPairBound(low, 0, high, 0) - 2 * Math.SQRT2)).toBeLessThan(1e-12)
  })
})
