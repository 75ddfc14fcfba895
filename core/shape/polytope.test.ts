import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyNumber, anyPoint, anyTurn } from '../../test/kit/anyShape.ts'
import { exactSignOfDot } from '../../test/kit/exact.ts'
import type { Polytope } from './form.ts'
import { hullPolytope } from './hull.ts'
import { faceTriangles, surfaceMeasure } from './measure.ts'
import { boxPolytope, type TankOutline, tankPolytope, vertexAt } from './polytope.ts'
import { identity, placed, placedBack, turnMatrix, type Vec3 } from './vec.ts'

const home = { turn: identity, at: [0, 0, 0] as Vec3 }
const volume = (body: Polytope) => surfaceMeasure(body.vertices, faceTriangles(body)).volume
const tank = (outline: Partial<TankOutline>, pose = home): Polytope => {
  const made = tankPolytope(
    {
      y: -270,
      outward: -1,
      length: 80,
      footX: [-45, 45],
      footZ: [-130, 130],
      taper: { depth: 1, height: 1 },
      ...outline,
    },
    pose,
  )
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}

describe('boxPolytope', () => {
  it('should list its faces −X, +X, −Y, +Y, −Z, +Z of its own axes', () => {
    const made = boxPolytope([1, 2, 3], [2, 4, 6])
    if (!made.ok) throw new Error('no box')
    const normals = [0, 1, 2, 3, 4, 5].map((f) => [...made.value.planes.subarray(4 * f, 4 * f + 3)])
    expect(normals).toEqual([
      [-1, 0, 0],
      [1, 0, 0],
      [0, -1, 0],
      [0, 1, 0],
      [0, 0, -1],
      [0, 0, 1],
    ])
    expect([...made.value.planes].filter((_, i) => i % 4 === 3).map((x) => Math.round(x * 1e9) / 1e9)).toEqual([
      0, 2, 0, 4, 0, 6,
    ])
  })

  it('should refuse lengths of nothing and of no number', () => {
    for (const size of [
      [0, 1, 1],
      [1, -1, 1],
      [1, 1, Number.NaN],
    ] as Vec3[])
      expect(boxPolytope([0, 0, 0], size)).toMatchObject({ ok: false, faults: [{ code: 'too-small', field: 'size' }] })
  })
})

describe('tankPolytope', () => {
  it('should have the volume of the prismoidal formula: 300 × 76 to 60 × 60 over 80 (checks A6.1, handbook)', () => {
    const body = tank({ footX: [-38, 38], footZ: [-150, 150], taper: { depth: 60 / 76, height: 60 / 300 } })
    expect(volume(body)).toBeCloseTo(1_004_800, 6)
  })

  it('should have the volume of a square frustum of sides 4 and 2, height 6 (checks A6.2, Moscow papyrus 14)', () => {
    const body = tank({ length: 6, footX: [-2, 2], footZ: [10, 14], taper: { depth: 0.5, height: 0.5 } })
    expect(volume(body)).toBeCloseTo(56, 12)
  })

  it('should sit with its foot at y and its end outward, tapered about the middle of its foot', () => {
    const left = tank({
      y: -270,
      length: 70,
      footX: [-40, 60],
      footZ: [-130, 150],
      taper: { depth: 0.5, height: 0.25 },
    })
    const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => vertexAt(left, i))
    expect(corners.filter(([, y]) => y === -270).map(([x, , z]) => [x, z])).toEqual([
      [-40, -130],
      [60, -130],
      [-40, 150],
      [60, 150],
    ])
    expect(corners.filter(([, y]) => y === -340).map(([x, , z]) => [x, z])).toEqual([
      [-15, -25],
      [35, -25],
      [-15, 45],
      [35, 45],
    ])
    const right = tank({ y: 270, outward: 1, length: 70 })
    expect(Math.max(...[...right.vertices].filter((_, i) => i % 3 === 1))).toBe(340)
  })

  it('should be the hull of its corners, with planes that hold in exact arithmetic, in any pose (seed 4140)', () => {
    const outline = fc.record({
      y: anyNumber(-300, 300),
      outward: fc.constantFrom<-1 | 1>(-1, 1),
      length: anyNumber(1, 200),
      footX: fc.tuple(anyNumber(-80, -1), anyNumber(1, 80)),
      footZ: fc.tuple(anyNumber(-200, -1), anyNumber(1, 200)),
      taper: fc.record({ depth: anyNumber(0.01, 1), height: anyNumber(0.01, 1) }),
    })
    fc.assert(
      fc.property(outline, anyTurn, anyPoint, (o, angles, at) => {
        const pose = { turn: turnMatrix(angles), at }
        const body = tank(o, pose)
        const again = hullPolytope([0, 1, 2, 3, 4, 5, 6, 7].map((i) => vertexAt(body, i)))
        if (!again.ok) throw new Error(JSON.stringify(again.faults))
        // Coordinates near 1e5 are known to 1.5e-11, times surface.
        expect(Math.abs(volume(again.value) - volume(body))).toBeLessThan(1e-9 * volume(body) + 1e-4)
        for (let f = 0; f < 6; f++)
          for (let i = 0; i < 8; i++) {
            const plane = [...body.planes.subarray(4 * f, 4 * f + 3), -body.planes[4 * f + 3]]
            expect(exactSignOfDot(plane, [...vertexAt(body, i), 1])).toBeLessThanOrEqual(0)
          }
        for (let i = 0; i < 8; i++)
          expect(placedBack(pose, vertexAt(body, i))[1]).toBeCloseTo(
            i & 2 ? Math.max(o.y, o.y + o.outward * o.length) : Math.min(o.y, o.y + o.outward * o.length),
            6,
          )
      }),
      { seed: 4140, numRuns: 200 },
    )
  })

  it('should turn and move with the candidate', () => {
    const pose = { turn: turnMatrix([0, 12, 0]), at: [-70, 0, 190] as Vec3 }
    const [still, moved] = [tank({}), tank({}, pose)]
    for (let i = 0; i < 8; i++)
      placed(pose, vertexAt(still, i)).forEach((x, k) => {
        expect(vertexAt(moved, i)[k]).toBeCloseTo(x, 12)
      })
  })

  it('should name what is too small', () => {
    const refused = (change: Partial<TankOutline>) =>
      tankPolytope(
        {
          y: 0,
          outward: 1,
          length: 80,
          footX: [-45, 45],
          footZ: [-130, 130],
          taper: { depth: 1, height: 1 },
          ...change,
        },
        home,
      )
    expect(refused({ length: 0 })).toMatchObject({ faults: [{ code: 'tank-length', got: 0 }] })
    expect(refused({ footX: [10, -10] })).toMatchObject({ faults: [{ code: 'tank-foot', got: [-20, 260] }] })
    expect(refused({ taper: { depth: 1e-9, height: 1 } })).toMatchObject({ faults: [{ code: 'tank-end' }] })
    expect(refused({ taper: { depth: Number.NaN, height: 1 } })).toMatchObject({ faults: [{ code: 'tank-end' }] })
  })
})
