import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { type Corners, placedMesh, soup, soups } from '../../test/kit/triangleSoups.ts'
import { anyTube, leastOverTube, outsideTube, rod, squareTo, toTriangle } from '../../test/kit/tubes.ts'
import type { RoundForm } from '../shape/form.ts'
import { add, along, distance, scale, type Vec3 } from '../shape/vec.ts'
import { roundMesh } from './roundMesh.ts'

function expectSound(tube: RoundForm, triangles: readonly Corners[], closing: number) {
  const got = roundMesh(tube, placedMesh(soup(triangles)), { depth: false })
  const least = leastOverTube(tube, (p) => Math.min(...triangles.map((t) => toTriangle(p, ...t))), closing)
  expect(got.stopped).toBe('converged')
  expect(got.atLeast).toBeLessThanOrEqual(least + 1e-9)
  expect(got.atMost - got.atLeast).toBeLessThan(1e-6)
  expect(Math.abs(distance(got.onPart, got.onKeepOut) - got.atMost)).toBeLessThan(1e-9)
  expect(outsideTube(tube, got.onPart, 8)).toBeLessThan(1e-6)
  expect(Math.min(...triangles.map((t) => toTriangle(got.onKeepOut, ...t)))).toBeLessThan(1e-7)
  return { got, least }
}

describe('a bent tube and triangles', () => {
  it.each(Object.keys(soups))(
    '%s: 2000, seed 81, none nearer than atLeast, atMost reached',
    { timeout: 60_000 },
    (name) => {
      const random = seeded(81)
      let meet = 0
      for (let i = 0; i < 2000; i++) if (expectSound(anyTube(random, 25), soups[name](random), 0).got.overlap) meet++
      expect(meet).toBeGreaterThan(100)
      expect(meet).toBeLessThan(1900)
    },
  )

  it('points closed in, 200 pairs, seed 82: the gap itself', { timeout: 60_000 }, () => {
    const random = seeded(82)
    let apart = 0
    let same = 0
    for (let i = 0; i < 200; i++) {
      const { got, least } = expectSound(anyTube(random, 20), soups.small(random), 2)
      if (got.overlap) continue
      apart++
      if (least - got.atMost < 1e-5) same++
    }
    expect(apart).toBeGreaterThan(80)
    expect(same).toBeGreaterThan(0.8 * apart)
  })

  it('touching by construction, seed 83: a corner put on the tube’s skin, 500 times', () => {
    const random = seeded(83)
    for (let i = 0; i < 500; i++) {
      const tube = anyTube(random, 25)
      const off = random.real(0.5, 3)
      const aside: Corners = [
        [200, 0, 0],
        [203, 0, 0],
        [200, 3, 0],
      ]
      const far = roundMesh(tube, placedMesh(soup([aside])), {})
      // From the tube's nearest point a little way towards that triangle: still nearest to where it came from.
      const way = scale(add(far.onKeepOut, scale(far.onPart, -1)), 1 / far.atMost)
      const at = along(far.onPart, way, off)
      const corner: Corners = [at, along(at, way, 5), add(along(at, way, 5), [0, 0, 2])]
      const got = roundMesh(tube, placedMesh(soup([corner])), {})
      expect(Math.abs(got.atMost - off)).toBeLessThan(1e-6)
    }
  })
})

describe('triangles in the very plane of a flat end, tilted frame', () => {
  it('2000, seed 89: distance from the disc’s centre less the radius, or contact', () => {
    const random = seeded(89)
    let meet = 0
    for (let i = 0; i < 2000; i++) {
      const end = random.point(100)
      const axis = random.unit()
      const [u, v] = squareTo(axis)
      const tube = rod(along(end, axis, -random.real(5, 100)), end, random.real(2, 30))
      const on = (): Vec3 => along(along(end, u, random.real(-80, 80)), v, random.real(-80, 80))
      const triangle: Corners = [on(), on(), on()]
      const expected = Math.max(0, toTriangle(end, ...triangle) - tube.radius)
      const got = roundMesh(tube, placedMesh(soup([triangle])), { depth: false })
      expect(got.atLeast).toBeLessThanOrEqual(expected + 1e-9)
      expect(Math.abs(got.atMost - expected)).toBeLessThan(1e-8)
      if (expected > 1e-9) expect(got.overlap).toBeUndefined()
      else meet++
    }
    expect(meet).toBeGreaterThan(600)
    expect(meet).toBeLessThan(1500)
  })
})
