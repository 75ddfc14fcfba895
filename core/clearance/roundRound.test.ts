import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { anyTube, leastOverTube, movedTube, outsideTube, rod, TubeLayer } from '../../test/kit/tubes.ts'
import type { RoundForm } from '../shape/form.ts'
import { distance, identity, scale, turnMatrix, type Vec3 } from '../shape/vec.ts'
import { roundRound } from './roundRound.ts'

/** A whole circle in a plane of constant z, as two half turns; a tube this thin is its centreline within 1e-9. */
const ring = (R: number, z: number, radius = 1e-9): RoundForm =>
  new TubeLayer([R, 0, z], [0, 1, 0], [-1, 0, 0]).bend(R, Math.PI).bend(R, Math.PI).tube(radius)
const shifted = (tube: RoundForm, at: Vec3) => movedTube(tube, { turn: identity, at })
const bent = (y: number, bend: number) =>
  new TubeLayer([0, y, 0], [1, 0, 0], [0, 1, 0])
    .straight(200)
    .bend(bend, Math.PI / 2)
    .straight(200)
    .tube(20)

describe('two round sweeps: known answers', () => {
  // A4.11, A4.12: derived from the definition.
  it('A4.11 coaxial circles, R 1 at z 0 and R 3 at z 2: 2√2 all the way round', () => {
    const got = roundRound(ring(1, 0), ring(3, 2), {})
    expect(Math.abs(got.atMost - 2 * Math.SQRT2)).toBeLessThan(3e-9)
    expect(got.atMost - got.atLeast).toBeLessThan(1e-8)
  })

  it('A4.12 two Ø63.5 pipes, axes at right angles, 100 apart: 36.5', () => {
    const got = roundRound(rod([-300, 0, 0], [300, 0, 0], 31.75), rod([0, -300, 100], [0, 300, 100], 31.75), {})
    expect(Math.abs(got.atMost - 36.5)).toBeLessThan(1e-9)
    expect(got.atMost - got.atLeast).toBeLessThan(1e-8)
  })

  it('concentric bends, 10 apart all along', () => {
    const got = roundRound(bent(0, 60), bent(-50, 110), {})
    expect(Math.abs(got.atMost - 10)).toBeLessThan(1e-9)
    expect(got.atMost - got.atLeast).toBeLessThan(1e-7)
    expect(got.stopped).toBe('converged')
  })

  it('bends nearly concentric, seed 70: bounds still close', () => {
    const random = seeded(70)
    for (let i = 0; i < 40; i++) {
      const size = random.size(1e-9, 3)
      const outer = movedTube(bent(-50, 110), {
        turn: turnMatrix(scale(random.unit(), 0.1 * size)),
        at: scale(random.unit(), size),
      })
      const got = roundRound(bent(0, 60), outer, {})
      expect(got.stopped).toBe('converged')
      expect(got.atMost - got.atLeast).toBeLessThan(1.01e-4)
    }
  })

  it('flat ends face to face, and rim to rim', () => {
    const a = rod([0, 0, 0], [100, 0, 0], 20)
    expect(roundRound(a, rod([107, 5, 0], [200, 5, 0], 20), {}).atMost).toBeCloseTo(7, 9)
    expect(roundRound(a, rod([103, 44, 0], [200, 44, 0], 20), {}).atMost).toBeCloseTo(5, 9)
  })
})

describe('two round sweeps', () => {
  it('2000 random pairs, seed 71: none nearer than atLeast, atMost reached', { timeout: 60_000 }, () => {
    const random = seeded(71)
    let meet = 0
    let same = 0
    let closed = 0
    for (let i = 0; i < 2000; i++) {
      const a = anyTube(random, 20)
      const b = anyTube(random, 30)
      const got = roundRound(a, b, { depth: false })
      expect(got.stopped).toBe('converged')
      expect(got.atMost - got.atLeast).toBeLessThan(1e-6)
      expect(outsideTube(a, got.onPart, 8)).toBeLessThan(1e-6)
      expect(outsideTube(b, got.onKeepOut, 8)).toBeLessThan(1e-6)
      expect(Math.abs(distance(got.onPart, got.onKeepOut) - got.atMost)).toBeLessThan(1e-9)
      if (got.overlap) {
        meet++
        continue
      }
      if (i % 10 !== 0) continue
      const least = leastOverTube(a, (p) => outsideTube(b, p, 6), 1, 4)
      expect(got.atLeast).toBeLessThanOrEqual(least + 1e-9)
      closed++
      if (least - got.atMost < 1e-4) same++
    }
    expect(meet).toBeGreaterThan(200)
    expect(meet).toBeLessThan(1400)
    expect(same).toBeGreaterThan(0.6 * closed)
  })

  it('swapping swaps the witnesses’ sides and keeps the gap: 300 pairs, seed 72', () => {
    const random = seeded(72)
    for (let i = 0; i < 300; i++) {
      const a = anyTube(random, 20)
      const b = anyTube(random, 30)
      const there = roundRound(a, b, { depth: false })
      const back = roundRound(b, a, { depth: false })
      expect(Math.abs(there.atMost - back.atMost)).toBeLessThan(1e-7)
      expect(outsideTube(b, back.onPart, 8)).toBeLessThan(1e-6)
    }
  })

  it('moved by less than depthAtLeast they still meet: 400 pairs, 6 ways each, seed 73', () => {
    const random = seeded(73)
    let deep = 0
    for (let i = 0; i < 400; i++) {
      const a = anyTube(random, 20)
      const b = anyTube(random, 20)
      const { overlap } = roundRound(a, b, {})
      if (!overlap) continue
      if (overlap.depthAtLeast > 1) deep++
      for (let k = 0; k < 6; k++) {
        const by = scale(random.unit(), overlap.depthAtLeast * random.real(0.9, 0.999999))
        expect(roundRound(shifted(a, by), b, { depth: false }).overlap).toBeDefined()
      }
    }
    expect(deep).toBeGreaterThan(40)
  })

  it('crossing pipes: both radii less the distance of the axes', () => {
    const got = roundRound(rod([-300, 0, 0], [300, 0, 0], 20), rod([0, -300, 15], [0, 300, 15], 12), {})
    expect(got.overlap?.depthAtLeast).toBeCloseTo(17, 3)
  })
})
