import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { anyPoint, anySize, tripleOf, anyNumber } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { hull, hullPolytope } from './hull.ts'
import { surfaceMeasure, faceTriangles } from './measure.ts'
import { add, scale, turned, turnMatrix, type Vec3 } from './vec.ts'

const corner: Vec3[] = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]
/** Points of any kind: scattered, or on a small grid with many in one plane, on one line and equal. */
const anyCloud = fc.oneof(
  fc.array(tripleOf(anyNumber(0, 1)), { minLength: 0, maxLength: 30 }),
  fc.array(tripleOf(fc.constantFrom(0, 0.25, 0.5, 0.75, 1)), { minLength: 0, maxLength: 60 }),
)

everySolid({
  kind: 'hull',
  seed: 4104,
  any: fc.record({ at: anyPoint, size: anySize, cloud: anyCloud }).map(({ at, size, cloud }) => ({
    kind: 'hull' as const,
    points: [...corner, ...cloud].map((p) => add(at, scale(p, size)) as [number, number, number]),
  })),
  broken: [
    { name: 'three points', shape: { kind: 'hull', points: corner.slice(0, 3) }, fault: 'schema' },
    {
      name: 'four points in a plane',
      shape: {
        kind: 'hull',
        points: [
          [0, 0, 5],
          [1, 0, 5],
          [0, 1, 5],
          [1, 1, 5],
        ],
      },
      fault: ['planar-hull', 'shape.points'],
    },
    {
      name: 'points in a tilted plane, to rounding',
      shape: { kind: 'hull', points: tiltedSheet(0) },
      fault: ['planar-hull', 'shape.points'],
    },
    {
      name: 'points on a line',
      shape: { kind: 'hull', points: [0, 1, 2, 3, 4].map((t) => [t, 2 * t, 3 * t]) },
      fault: ['planar-hull', 'shape.points'],
    },
    {
      name: 'one point four times',
      shape: {
        kind: 'hull',
        points: [
          [1, 2, 3],
          [1, 2, 3],
          [1, 2, 3],
          [1, 2, 3],
        ],
      },
      fault: ['planar-hull', 'shape.points'],
    },
    { name: 'a point of two numbers', shape: { kind: 'hull', points: [[1, 2], ...corner] }, fault: 'schema' },
  ],
})

/** A 7 × 7 grid of 60 mm pitch in a tilted plane far from the origin, with every other point raised. */
function tiltedSheet(raised: number): Vec3[] {
  const turn = turnMatrix([17, 29, 41])
  return Array.from({ length: 49 }, (_, i) => {
    const flat: Vec3 = [60 * (i % 7), 60 * Math.floor(i / 7), i === 24 ? raised : 0]
    return add([98_765.4, -54_321, 12_345.6], turned(turn, flat))
  })
}

describe('hullPolytope', () => {
  it('should keep all of 5,000 points on a sphere, the most it takes, in 2n − 4 triangles (Euler; seed 4105)', () => {
    const random = seeded(4105)
    const points = Array.from({ length: 5000 }, () => scale(random.unit(), 100))
    const body = hullPolytope(points)
    if (!body.ok) throw new Error(JSON.stringify(body.faults))
    expect(body.value.vertices.length).toBe(3 * 5000)
    expect(body.value.faces.length).toBe(2 * 5000 - 4)
    const again = hull.schema.safeParse({ kind: 'hull', points: [...points, [0, 0, 0]] })
    expect(again.error?.issues).toMatchObject([{ code: 'too_big', maximum: 5000, path: ['points'] }])
  })

  it('should take a flat pyramid a thousandth of a millimetre high as a solid of exactly that volume', () => {
    const body = hullPolytope(tiltedSheet(0.001))
    if (!body.ok) throw new Error(JSON.stringify(body.faults))
    // Base 360 × 360: a third of base times height; coordinates near 1e5 leave about 1e-11 mm of the height.
    const { volume } = surfaceMeasure(body.value.vertices, faceTriangles(body.value))
    expect(volume).toBeCloseTo((360 * 360 * 0.001) / 3, 4)
  })

  it('should give the cube of a cloud on a grid as six squares and eight corners', () => {
    const points = Array.from({ length: 125 }, (_, i): Vec3 => [i % 5, Math.floor(i / 5) % 5, Math.floor(i / 25)])
    const body = hullPolytope(points)
    if (!body.ok) throw new Error('no hull')
    expect(body.value.vertices.length).toBe(24)
    expect(body.value.faces.map((face) => face.length)).toEqual([4, 4, 4, 4, 4, 4])
  })

  it('should give six squares for the corners of a turned box too', () => {
    const turn = turnMatrix([11, 23, 37])
    const points = Array.from({ length: 8 }, (_, i) =>
      add([1200, -800, 350], turned(turn, [i & 1 ? 45 : -45, i & 2 ? 270 : -270, i & 4 ? 130 : -130])),
    )
    const body = hullPolytope(points)
    if (!body.ok) throw new Error('no hull')
    expect(body.value.faces.map((face) => face.length)).toEqual([4, 4, 4, 4, 4, 4])
    expect(surfaceMeasure(body.value.vertices, faceTriangles(body.value)).volume).toBeCloseTo(90 * 540 * 260, 5)
  })

  it('should not be led astray by numbers whose products underflow', () => {
    const tiny: Vec3[] = [
      [0, -7e-63, 0],
      [0, -4e-160, 0],
      [0, 0, 8e-148],
      [4e-115, 6e-156, 0],
      [-7e-18, 0, 0],
      [5e-324, 0, 0],
    ]
    const alone = hullPolytope(tiny)
    expect(alone).toMatchObject({ ok: false, faults: [{ code: 'planar-hull' }] })
    const body = hullPolytope([...tiny, ...corner])
    if (!body.ok) throw new Error('no hull')
    expect(surfaceMeasure(body.value.vertices, faceTriangles(body.value)).volume).toBeCloseTo(1 / 6, 15)
  })

  it('should keep a corner that stands out by one ulp', () => {
    const top = 1 + Number.EPSILON
    const body = hullPolytope([
      [0, 0, 0],
      [4, 0, 0],
      [0, 4, 0],
      [4, 4, 0],
      [0, 0, 1],
      [4, 0, 1],
      [0, 4, 1],
      [4, 4, 1],
      [2, 2, top],
    ])
    if (!body.ok) throw new Error('no hull')
    expect([...body.value.vertices]).toContain(top)
  })
})
