import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyNumber, anyPoint, anyTurn } from '../../test/kit/anyShape.ts'
import { boundsOf, noBounds, pieceBounds, unionBounds } from './bounds.ts'
import { pointAlong } from './centreline.ts'
import type { ArcPiece, Bounds, Piece } from './form.ts'
import { add, identity, placed, scale, squareTo, turnMatrix, unit, type Vec3 } from './vec.ts'

const anyArc: fc.Arbitrary<ArcPiece> = fc
  .record({
    centre: anyPoint,
    normal: anyDirection,
    start: anyNumber(0, 2 * Math.PI),
    radius: anyNumber(10, 300),
    angle: anyNumber(0.01, Math.PI),
  })
  .map(({ centre, normal, start, radius, angle }) => {
    const [u, v] = squareTo(unit(normal))
    const [c, s] = [Math.cos(start), Math.sin(start)]
    return {
      kind: 'arc',
      centre,
      x: unit(add(scale(u, c), scale(v, s))),
      y: unit(add(scale(u, -s), scale(v, c))),
      radius,
      angle,
    }
  })

/** Bounds of many points on the rims of many discs along a piece. */
function sampled(piece: Piece, radius: number): Bounds {
  let bounds = noBounds
  for (let i = 0; i <= 60; i++) {
    const { point, direction } = pointAlong(piece, i / 60)
    const [u, v] = squareTo(direction)
    for (let j = 0; j < 60; j++) {
      const a = (2 * Math.PI * j) / 60
      const p: Vec3 = add(point, add(scale(u, radius * Math.cos(a)), scale(v, radius * Math.sin(a))))
      bounds = unionBounds([bounds, { min: p, max: p }])
    }
  }
  return bounds
}

describe('boundsOf', () => {
  it('should hold every point of an arc with its discs, and be no larger than it must (seed 4170)', () => {
    fc.assert(
      fc.property(anyArc, anyNumber(0, 1), (arc, share) => {
        const radius = share * arc.radius
        const [bounds, points] = [pieceBounds(arc, radius), sampled(arc, radius)]
        // 60 steps of at most 3° each way leave (1 − cos 1.5°)·(R + r), and as much again for the discs' rims.
        const coarse = 1e-3 * (arc.radius + radius) + 2e-3 * radius
        for (let k = 0; k < 3; k++) {
          expect(bounds.min[k]).toBeLessThanOrEqual(points.min[k])
          expect(bounds.max[k]).toBeGreaterThanOrEqual(points.max[k])
          expect(points.min[k] - bounds.min[k]).toBeLessThanOrEqual(coarse)
          expect(bounds.max[k] - points.max[k]).toBeLessThanOrEqual(coarse)
        }
      }),
      { seed: 4170, numRuns: 200 },
    )
  })

  it('should reach the top of a half ring: R along Z, r across', () => {
    const arc: ArcPiece = { kind: 'arc', centre: [0, 0, 0], x: [1, 0, 0], y: [0, 0, 1], radius: 50, angle: Math.PI }
    const { min, max } = pieceBounds(arc, 20)
    ;[-70, -20, 0].forEach((x, k) => {
      expect(min[k]).toBeCloseTo(x, 11)
      expect(min[k]).toBeLessThanOrEqual(x)
    })
    ;[70, 20, 70].forEach((x, k) => {
      expect(max[k]).toBeCloseTo(x, 11)
      expect(max[k]).toBeGreaterThanOrEqual(x)
    })
  })

  it('should hold the placed vertices of a mesh, touching each side, in any pose and from any cache (seed 4171)', () => {
    const positions = Float64Array.of(0, 0, 0, 60, 0, 0, 0, 40, 0, 0, 0, 90)
    const mesh = { positions, triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3), closed: true }
    fc.assert(
      fc.property(anyTurn, anyPoint, (angles, at) => {
        const pose = { turn: turnMatrix(angles), at }
        const bounds = boundsOf({ form: 'mesh', mesh, pose })
        expect(boundsOf({ form: 'mesh', mesh, pose })).toEqual(bounds)
        const points = [0, 1, 2, 3].map((i) =>
          placed(pose, [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]]),
        )
        const exact = unionBounds(points.map((p) => ({ min: p, max: p })))
        for (let k = 0; k < 3; k++) {
          expect(bounds.min[k]).toBeLessThanOrEqual(exact.min[k])
          expect(bounds.max[k]).toBeGreaterThanOrEqual(exact.max[k])
          expect(exact.min[k] - bounds.min[k] + bounds.max[k] - exact.max[k]).toBeLessThan(1e-9)
        }
      }),
      { seed: 4171, numRuns: 200 },
    )
    expect(boundsOf({ form: 'mesh', mesh, pose: { turn: identity, at: [0, 0, 0] } }).max[2]).toBeCloseTo(90, 9)
  })
})
