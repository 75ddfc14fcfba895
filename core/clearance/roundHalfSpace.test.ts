import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { anyTube, leastOverTube, movedTube, outsideTube, rod, TubeLayer } from '../../test/kit/tubes.ts'
import type { HalfSpaceForm } from '../shape/form.ts'
import { dot, identity, scale, sub, type Vec3 } from '../shape/vec.ts'
import { roundHalfSpace } from './roundHalfSpace.ts'

const below = (point: Vec3, normal: Vec3): HalfSpaceForm => ({ form: 'halfSpace', point, normal })
const floor = below([0, 0, -60], [0, 0, 1])

describe('a round sweep and a half-space', () => {
  it('lying pipe: axis height less radius', () => {
    const got = roundHalfSpace(rod([-100, 0, 0], [100, 0, 0], 20), floor, {})
    expect(got.atMost).toBe(40)
    expect(got.atMost - got.atLeast).toBeLessThan(1e-10)
    expect(got.onKeepOut[2]).toBeCloseTo(-60, 12)
  })

  it('standing pipe: its flat end, all of it', () => {
    expect(roundHalfSpace(rod([0, 0, 0], [0, 0, 100], 20), floor, {}).atMost).toBe(60)
  })

  it('leaning pipe: the rim of its end', () => {
    const a = Math.PI / 6
    const got = roundHalfSpace(rod([0, 0, 0], [100 * Math.sin(a), 0, 100 * Math.cos(a)], 20), floor, {})
    expect(got.atMost).toBeCloseTo(60 - 20 * Math.sin(a), 12)
  })

  it('hanging half turn: its lowest point, in the middle of the arc', () => {
    const got = roundHalfSpace(new TubeLayer([0, 0, 0], [0, 0, -1], [1, 0, 0]).bend(30, Math.PI).tube(12), floor, {})
    expect(got.atMost).toBeCloseTo(60 - 42, 12)
    expect(got.onPart[0]).toBeCloseTo(30, 12)
  })

  it('random tubes, 500, seed 41: no point is lower, the lowest is real, and out by the depth is just out', () => {
    const random = seeded(41)
    let meet = 0
    for (let i = 0; i < 500; i++) {
      const tube = anyTube(random, 30)
      const n = random.unit()
      const wall = below(random.point(20), n)
      const got = roundHalfSpace(tube, wall, {})
      const low = leastOverTube(tube, (p) => dot(n, sub(p, wall.point)))
      if (!got.overlap) {
        expect(got.atLeast).toBeLessThanOrEqual(low + 1e-9)
        expect(outsideTube(tube, got.onPart)).toBeLessThan(1e-8)
        expect(Math.abs(dot(n, sub(got.onPart, wall.point)) - got.atMost)).toBeLessThan(1e-10)
        expect(Math.abs(dot(n, sub(got.onKeepOut, wall.point)))).toBeLessThan(1e-10)
        continue
      }
      meet++
      const { depthAtLeast, depthAtMost, direction, kind } = got.overlap
      expect(kind).toBe('exact')
      expect(-low).toBeLessThanOrEqual(depthAtMost! + 1e-9)
      expect(depthAtMost! - depthAtLeast).toBeLessThan(1e-9)
      const out = (by: number) =>
        roundHalfSpace(movedTube(tube, { turn: identity, at: scale(direction!, by) }), wall, {})
      expect(out(depthAtMost! + 1e-6).overlap).toBeUndefined()
      expect(out(depthAtLeast - 1e-6).overlap).toBeDefined()
    }
    expect(meet).toBeGreaterThan(150)
    expect(meet).toBeLessThan(400)
  })
})
