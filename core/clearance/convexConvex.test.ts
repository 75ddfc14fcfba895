import { describe, expect, it } from 'vitest'
import { boxBody, movedBody } from '../../test/kit/bodies.ts'
import { convexKit, cylinderKit, polytopeKit } from '../../test/kit/convexForms.ts'
import { everyPair } from '../../test/kit/everyPair.ts'
import { plainDistance } from '../../test/kit/plainDistance.ts'
import type { ConvexForm, Polytope } from '../shape/form.ts'
import { identity, type Mat3, turnMatrix, type Vec3 } from '../shape/vec.ts'
import type { Clearance } from './answer.ts'
import { convexConvex } from './convexConvex.ts'
import { support } from './support.ts'

const plain = (a: ConvexForm, b: ConvexForm): number => plainDistance(a.body as Polytope, b.body as Polytope).gap
everyPair({ pair: convexConvex, a: polytopeKit, b: polytopeKit, seed: 3101, plain })
everyPair({ pair: convexConvex, a: convexKit, b: cylinderKit, seed: 3102 })

const box = (half: Vec3, at: Vec3 = [0, 0, 0], turn: Mat3 = identity): ConvexForm => ({
  form: 'convex',
  body: movedBody(boxBody(...(half as [number, number, number])), { turn, at }),
})
const check = (got: Clearance, expected: number): void => {
  expect(Math.abs(got.atMost - expected)).toBeLessThan(1e-9)
  expect(got.atLeast).toBeLessThanOrEqual(expected)
  expect(got.atMost - got.atLeast).toBeLessThan(3e-9)
}

describe('box to box (checks A3: derived from the definition, exact)', () => {
  const cube = box([0.5, 0.5, 0.5])
  it('A3.1 boxes apart along all axes: √(100² + 40² + 20²)', () => {
    check(
      convexConvex(box([300, 30, 150], [300, 30, 150]), box([50, 50, 40], [750, 150, 360]), {}),
      Math.hypot(100, 40, 20),
    )
  })
  it('A3.2 an edge faces a face: 2.5 − √2/2', () => {
    check(convexConvex(cube, box([0.5, 0.5, 0.5], [3, 0, 0], turnMatrix([0, 0, 45])), {}), 2.5 - Math.SQRT1_2)
  })
  it('A3.3 a corner faces a face: 2.5 − √3/2', () => {
    // Body diagonal (1, 1, 1) brought onto X: about Z by −45°, then about Y by the angle over the diagonal of a face.
    const tip = (Math.atan(Math.SQRT1_2) * 180) / Math.PI
    const turn = turnMatrix([0, tip, 0])
    const spin = turnMatrix([0, 0, -45])
    const m = [0, 3, 6].flatMap((i) =>
      [0, 1, 2].map((j) => turn[i] * spin[j] + turn[i + 1] * spin[3 + j] + turn[i + 2] * spin[6 + j]),
    )
    check(convexConvex(cube, box([0.5, 0.5, 0.5], [3, 0, 0], m as unknown as Mat3), {}), 2.5 - Math.sqrt(3) / 2)
  })
  it('A3.4 an edge faces an edge, crossed: 3 − √2', () => {
    const a = box([0.5, 0.5, 0.5], [0, 0, 0], turnMatrix([0, 0, 45]))
    check(convexConvex(a, box([0.5, 0.5, 0.5], [3, 0, 0], turnMatrix([0, 45, 0])), {}), 3 - Math.SQRT2)
  })
  it('A3.5 a core beside its like turned 12° about Y: 93.6436375494510', () => {
    const a = box([38, 300, 150])
    check(convexConvex(a, box([38, 300, 150], [200, 0, 0], turnMatrix([0, 12, 0])), {}), 93.643637549451)
  })
})

describe('support points', () => {
  it('A3.6 extents of a 76 × 600 × 300 core turned 12° about Y: X 136.712724901, Z 309.245568722 (e′ = |R|·e, derived)', () => {
    const { body } = box([38, 300, 150], [0, 0, 0], turnMatrix([0, 12, 0]))
    const out = new Float64Array(3)
    support(body, 1, 0, 0, out)
    expect(2 * out[0]).toBeCloseTo(136.712724901, 8)
    support(body, 0, 0, -1, out)
    expect(-2 * out[2]).toBeCloseTo(309.245568722, 8)
  })
  it('of a cylinder along a direction close to its axis lie on its end disc, not beside it', () => {
    const from: Vec3 = [1, 2, 3]
    const to: Vec3 = [4, 6, 15]
    const out = new Float64Array(3)
    support({ kind: 'cylinder', from, to, radius: 50 }, 3 + 1e-15, 4 - 1e-15, 12, out)
    const along = (3 * (out[0] - 4) + 4 * (out[1] - 6) + 12 * (out[2] - 15)) / 13
    expect(Math.abs(along)).toBeLessThan(1e-13)
  })
})

describe('depth of boxes and cylinders', () => {
  it('boxes overlapping by 3, 20 and 20: the shortest way is 3 along X', () => {
    const got = convexConvex(box([10, 10, 10]), box([10, 10, 10], [17, 0, 0]), {})
    expect(got.overlap?.kind).toBe('exact')
    expect(got.overlap?.depthAtLeast).toBeCloseTo(3, 9)
    expect(got.overlap?.depthAtMost).toBeCloseTo(3, 9)
    expect(got.overlap?.direction?.map((x) => Math.round(1e9 * x) / 1e9 + 0)).toEqual([-1, 0, 0])
    expect([got.onPart[0], got.onKeepOut[0]]).toEqual([10, 7])
  })
  it('a cylinder standing 2 deep in a box', () => {
    const cylinder: ConvexForm = {
      form: 'convex',
      body: { kind: 'cylinder', from: [0, 0, 8], to: [0, 0, 40], radius: 4 },
    }
    const got = convexConvex(box([10, 10, 10]), cylinder, {})
    expect(got.overlap?.depthAtMost).toBeCloseTo(2, 6)
    expect(got.overlap?.direction?.map((x) => Math.round(1e6 * x) / 1e6 + 0)).toEqual([0, 0, -1])
  })
  it('coaxial cylinders, equally deep all round: radii added, in closed form', () => {
    const rod = (radius: number, to: number): ConvexForm => ({
      form: 'convex',
      body: { kind: 'cylinder', from: [0, 0, 0], to: [0, 0, to], radius },
    })
    const got = convexConvex(rod(3, 100), rod(5, 100), {})
    expect(got.overlap?.depthAtMost).toBeCloseTo(8, 9)
    expect(got.overlap?.depthAtLeast).toBeCloseTo(8, 9)
  })
  it('touching faces: gap 0 to rounding, and no depth is claimed', () => {
    const got = convexConvex(box([10, 10, 10]), box([10, 10, 10], [20, 3, 4]), {})
    expect(got.atLeast).toBe(0)
    expect(got.atMost).toBeLessThan(1e-13)
    expect(got.overlap?.depthAtLeast ?? 0).toBe(0)
  })
  it('one ulp apart is not contact', () => {
    const apart = convexConvex(box([1, 1, 1]), box([1, 1, 1], [2 + 2 ** -51, 0, 0]), {})
    expect(apart.overlap).toBeUndefined()
    expect(apart.atMost).toBeGreaterThan(0)
    expect(apart.atMost).toBeLessThan(1e-15)
  })
})
