import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { anyTube, discAt, discPoint, leastOverTube, outsideTube, TubeLayer, toDisc } from '../../test/kit/tubes.ts'
import type { RoundForm } from '../shape/form.ts'
import { dot, scale, type Vec3 } from '../shape/vec.ts'
import { touch, touchSize, tubeSupport } from './tubeDiscs.ts'
import { TubeSpans } from './tubeSpans.ts'

/** Thin enough to be its centreline within the stated tolerance. */
const thin = 1e-9
const circle = (R: number, radius: number): RoundForm =>
  new TubeLayer([R, 0, 0], [0, 1, 0], [-1, 0, 0]).bend(R, Math.PI).bend(R, Math.PI).tube(radius)
const quarter = new TubeLayer([50, 0, 0], [0, 1, 0], [-1, 0, 0]).bend(50, Math.PI / 2).tube(thin)

function pointToTube(form: RoundForm, q: Vec3): number {
  const tube = new TubeSpans(form)
  const out = new Float64Array(touchSize)
  let least = Number.POSITIVE_INFINITY
  for (let span = 0; span < tube.pieces; span++) least = Math.min(least, touch(tube, span, q[0], q[1], q[2], out))
  return least
}

describe('a point and a tube (checks A4)', () => {
  // Formula from P. Schneider, D. Eberly, Geometric Tools for Computer Graphics, ch. 10–11, from memory; numbers recomputed.
  const rows: [string, RoundForm, Vec3, number][] = [
    ['A4.1 circle, outside and above', circle(50, thin), [80, 0, 40], 50],
    ['A4.2 circle, on its axis: nearest point not unique', circle(50, thin), [0, 0, 120], 130],
    ['A4.3 circle, inside', circle(50, thin), [12, 16, 9], 31.320919526732],
    ['A4.4 circle, far out', circle(50, thin), [100, 100, 50], 104.201076655993],
    ['A4.5 arc, beside it', quarter, [60, 80, 0], 50],
    ['A4.6 arc, an end governs', quarter, [-30, -40, 0], 40 * Math.sqrt(5)],
    ['A4.7 arc, behind its start', quarter, [0, -30, 0], Math.sqrt(3400)],
    ['A4.8 arc, ahead of its end', quarter, [-40, 30, 0], Math.sqrt(2000)],
    ['A4.9 arc, inside the bend', quarter, [20, 20, 0], 50 - 20 * Math.SQRT2],
    ['A4.10 torus R 50, r 20', circle(50, 20), [80, 0, 40], 30],
  ]
  it.each(rows)('%s', (_name, form, q, expected) => {
    expect(Math.abs(pointToTube(form, q) - expected)).toBeLessThan(2e-9)
  })

  it('A4.13 bend of 95.25, outside diameter 63.5: metal between radii 63.5 and 127.0', () => {
    const tube = new TubeSpans(new TubeLayer([95.25, 0, 0], [0, 1, 0], [-1, 0, 0]).bend(95.25, Math.PI / 2).tube(31.75))
    const out = new Float64Array(touchSize)
    const out45 = tubeSupport(tube, 0, Math.SQRT1_2, Math.SQRT1_2, 0, out)
    expect(Math.abs(out45 - 127)).toBeLessThan(1e-12)
    expect(Math.abs(touch(tube, 0, 10 * Math.SQRT1_2, 10 * Math.SQRT1_2, 0, out) - 53.5)).toBeLessThan(1e-12)
  })

  it('ahead of a flat end the disc counts, not a half-ball', () => {
    const straight = new TubeLayer([0, 0, 0], [1, 0, 0], [0, 1, 0]).straight(100).tube(12)
    expect(pointToTube(straight, [105, 0, 0])).toBe(5)
    expect(pointToTube(straight, [105, 12, 0])).toBe(5)
    expect(pointToTube(straight, [103, 16, 0])).toBe(5)
  })

  it('a bend at the limit and no end straights: the same as trying discs, 300 random tubes and points, seed 21', () => {
    const random = seeded(21)
    let inside = 0
    for (let i = 0; i < 300; i++) {
      const form = anyTube(random, 30)
      const disc = discAt(form, random.int(form.centreline.length), random.real(0, 1))
      const q = random.chance(0.3) ? discPoint(disc, random.real(0, 1.5), random.real(0, 7)) : random.point(60)
      const got = pointToTube(form, q)
      let plain = Number.POSITIVE_INFINITY
      form.centreline.forEach((_, piece) => {
        for (let k = 0; k <= 40; k++) plain = Math.min(plain, toDisc(discAt(form, piece, k / 40), q))
      })
      expect(got).toBeLessThanOrEqual(plain + 1e-9)
      // Discs 1/40 of a piece apart: an arc of at most π · 36 mm moves by less than 1.5 mm from one to its middle.
      expect(plain - got).toBeLessThan(3)
      if (got === 0) inside++
    }
    expect(inside).toBeGreaterThan(30)
  })
})

describe('reach of a tube along a direction', () => {
  it('no point reaches farther, and one reaches as far: 500 random tubes, seed 22', () => {
    const random = seeded(22)
    const out = new Float64Array(touchSize)
    for (let i = 0; i < 500; i++) {
      const form = anyTube(random, 30)
      const e = random.chance(0.2) ? discAt(form, form.centreline.length - 1, 1).normal : random.unit()
      const tube = new TubeSpans(form)
      let reach = Number.NEGATIVE_INFINITY
      for (let span = 0; span < tube.pieces; span++) {
        const here = tubeSupport(tube, span, e[0], e[1], e[2], out)
        expect(Math.abs(dot(e, [out[0], out[1], out[2]]) - here)).toBeLessThan(1e-5)
        expect(outsideTube(form, [out[0], out[1], out[2]])).toBeLessThan(1e-8)
        reach = Math.max(reach, here)
      }
      expect(-leastOverTube(form, (p) => -dot(e, p))).toBeLessThanOrEqual(reach + 1e-9)
    }
  })

  it('square to an end disc it is the disc itself, to the last digits', () => {
    const form = new TubeLayer([3, 5, 7], [1, 2, 3], [0, 1, 0]).straight(50).tube(31)
    const tube = new TubeSpans(form)
    const { centre, normal } = discAt(form, 0, 1)
    expect(
      Math.abs(
        tubeSupport(tube, 0, normal[0], normal[1], normal[2], new Float64Array(touchSize)) - dot(centre, normal),
      ),
    ).toBeLessThan(1e-12)
  })
})

describe('halving a span', () => {
  it('the halves’ tubes stay within their reach of their segments: 200 random arcs, seed 23', () => {
    const random = seeded(23)
    for (let i = 0; i < 200; i++) {
      const R = random.size(1, 1000)
      const by = random.chance(0.3) ? Math.PI : random.real(1e-6, Math.PI)
      const form = new TubeLayer(random.point(10), random.unit(), random.unit())
        .bend(R, by)
        .tube(R * random.real(0.01, 1))
      const tube = new TubeSpans(form)
      let span = 0
      for (let depth = 0; depth < 8; depth++) {
        const s = 12 * span
        const from: Vec3 = [tube.spans[s], tube.spans[s + 1], tube.spans[s + 2]]
        const to: Vec3 = [tube.spans[s + 3], tube.spans[s + 4], tube.spans[s + 5]]
        const reach = tube.spans[s + 6]
        const out = new Float64Array(touchSize)
        for (let k = 0; k <= 8; k++) {
          const near = touchCentre(tube, span, from, to, k / 8, out)
          expect(distanceToSegment(near, from, to)).toBeLessThanOrEqual(reach - form.radius + 1e-12 * R)
          for (let a = 0; a < 6; a++) {
            const disc = { centre: near, normal: [out[6], out[7], out[8]] as Vec3, radius: form.radius }
            expect(distanceToSegment(discPoint(disc, 1, a), from, to)).toBeLessThanOrEqual(reach + 1e-12 * R)
          }
        }
        span = tube.halve(span) + (random.chance(0.5) ? 1 : 0)
      }
    }
  })
})

function touchCentre(tube: TubeSpans, span: number, from: Vec3, to: Vec3, share: number, out: Float64Array): Vec3 {
  const q = [0, 1, 2].map((k) => from[k] + share * (to[k] - from[k]))
  touch(tube, span, q[0], q[1], q[2], out)
  return [out[3], out[4], out[5]]
}

function distanceToSegment(p: Vec3, from: Vec3, to: Vec3): number {
  const e: Vec3 = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
  const g: Vec3 = [p[0] - from[0], p[1] - from[1], p[2] - from[2]]
  const t = Math.min(1, Math.max(0, dot(g, e) / dot(e, e)))
  const on = scale(e, t)
  return Math.hypot(g[0] - on[0], g[1] - on[1], g[2] - on[2])
}
