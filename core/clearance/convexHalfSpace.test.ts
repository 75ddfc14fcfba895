import { describe, expect, it } from 'vitest'
import { farthest } from '../../test/kit/bodies.ts'
import { convexKit, halfSpaceKit } from '../../test/kit/convexForms.ts'
import { everyPair } from '../../test/kit/everyPair.ts'
import type { ConvexForm, HalfSpaceForm } from '../shape/form.ts'
import { dot, scale } from '../shape/vec.ts'
import { convexHalfSpace } from './convexHalfSpace.ts'
import { halfSpaceHalfSpace } from './halfSpaceHalfSpace.ts'

everyPair({
  pair: convexHalfSpace,
  a: convexKit,
  b: halfSpaceKit,
  seed: 3201,
  spread: 500,
  plain: (a, b) => -farthest(a.body, scale(b.normal, -1)) - dot(b.normal, b.point),
})

const floor: HalfSpaceForm = { form: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 1] }

describe('convex over a floor', () => {
  it('a lying cylinder: height of the axis less the radius', () => {
    const part: ConvexForm = {
      form: 'convex',
      body: { kind: 'cylinder', from: [0, 0, 0], to: [300, 0, 0], radius: 20 },
    }
    const got = convexHalfSpace(part, floor, {})
    expect(got.atMost).toBeCloseTo(40, 12)
    expect(got.onKeepOut[2]).toBeCloseTo(-60, 12)
  })
  it('a cylinder tilted by 30°: the rim governs', () => {
    const part: ConvexForm = {
      form: 'convex',
      body: { kind: 'cylinder', from: [0, 0, 0], to: [100 * Math.cos(Math.PI / 6), 0, 50], radius: 20 },
    }
    expect(convexHalfSpace(part, floor, {}).atMost).toBeCloseTo(60 - 20 * Math.cos(Math.PI / 6), 12)
  })
})

describe('half-space against half-space', () => {
  it('facing each other: the distance of the planes', () => {
    const got = halfSpaceHalfSpace(floor, { form: 'halfSpace', point: [500, 3, 40], normal: [0, 0, -1] }, {})
    expect([got.atMost, got.overlap]).toEqual([100, undefined])
    expect(100 - got.atLeast).toBeLessThan(1e-11)
    expect([got.onPart[2], got.onKeepOut[2]]).toEqual([-60, 40])
  })
  it('overlapping and opposite: as deep as the planes are past each other', () => {
    const got = halfSpaceHalfSpace(floor, { form: 'halfSpace', point: [0, 0, -65], normal: [0, 0, -1] }, {})
    expect(got.overlap?.kind).toBe('exact')
    expect(got.overlap?.depthAtMost).toBeCloseTo(5, 10)
    expect(got.overlap?.direction).toEqual([0, 0, -1])
  })
  it('any other two meet, and nothing parts them', () => {
    const wall: HalfSpaceForm = { form: 'halfSpace', point: [10, 0, 0], normal: [1, 0, 0] }
    const got = halfSpaceHalfSpace(floor, wall, {})
    expect(got.overlap).toEqual({ kind: 'atLeast', depthAtLeast: Infinity })
    expect(got.onPart).toEqual(got.onKeepOut)
    expect(got.onPart[2]).toBeLessThanOrEqual(-60)
    expect(got.onPart[0]).toBeLessThanOrEqual(10)
  })
})
