import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyPoint, anyTurn } from '../../test/kit/anyShape.ts'
import {
  cross,
  dot,
  identity,
  length,
  placed,
  placedBack,
  product,
  squareTo,
  turned,
  turnMatrix,
  unit,
  type Vec3,
} from './vec.ts'

const close = (a: readonly number[], b: readonly number[], within: number) =>
  a.forEach((x, k) => {
    expect(Math.abs(x - b[k])).toBeLessThanOrEqual(within)
  })

describe('turnMatrix', () => {
  it('should turn about X first, then Y, then Z, right-handed', () => {
    expect(turned(turnMatrix([90, 0, 0]), [0, 1, 0])).toEqual([0, 0, 1])
    expect(turned(turnMatrix([0, 90, 0]), [0, 0, 1])).toEqual([1, 0, 0])
    expect(turned(turnMatrix([0, 0, 90]), [1, 0, 0])).toEqual([0, 1, 0])
    // Y goes to Z by X, stays under Y? no: Z goes to X by Y, and X goes to Y by Z: back at Y.
    expect(turned(turnMatrix([90, 90, 90]), [0, 1, 0])).toEqual([0, 1, 0])
  })

  it('should be the product of the three single turns, exact at quarter turns (seed 4130)', () => {
    fc.assert(
      fc.property(anyTurn, ([x, y, z]) => {
        const single = product(turnMatrix([0, 0, z]), product(turnMatrix([0, y, 0]), turnMatrix([x, 0, 0])))
        close(turnMatrix([x, y, z]), single, 4e-16)
      }),
      { seed: 4130 },
    )
    for (const quarter of [0, 90, 180, 270, 360, -90, 450])
      for (const m of turnMatrix([quarter, 0, 0])) expect([0, 1, -1]).toContain(m)
    expect(turnMatrix([360, -720, 0])).toEqual(identity)
  })

  it('should be orthogonal with determinant 1, so that placing back undoes placing (seed 4131)', () => {
    fc.assert(
      fc.property(anyTurn, anyPoint, anyPoint, (angles, at, p) => {
        const turn = turnMatrix(angles)
        const rows: Vec3[] = [0, 3, 6].map((i): Vec3 => [turn[i], turn[i + 1], turn[i + 2]])
        expect(dot(cross(rows[0], rows[1]), rows[2])).toBeCloseTo(1, 14)
        close(placedBack({ turn, at }, placed({ turn, at }, p)), p, 1e-9)
      }),
      { seed: 4131 },
    )
  })
})

describe('squareTo', () => {
  it('should make a right-handed frame with any unit vector (seed 4132)', () => {
    fc.assert(
      fc.property(anyDirection, (v) => {
        const n = unit(v)
        const [a, b] = squareTo(n)
        close([length(a), length(b), dot(a, b), dot(a, n), dot(b, n)], [1, 1, 0, 0, 0], 1e-15)
        close(cross(a, b), n, 1e-15)
      }),
      { seed: 4132 },
    )
  })
})
