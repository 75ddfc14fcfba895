import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { FaceCutter } from './polygon.ts'

type Point = readonly [number, number, number]

/** Cuts one face; the area vector of each triangle. */
function cut(points: readonly Point[]) {
  const cutter = new FaceCutter((v, axis) => points[v][axis])
  const accepted = cutter.add(points.map((_, i) => i))
  const indices = [...cutter.triangles.done()]
  const areas: Point[] = []
  for (let t = 0; t < indices.length; t += 3) areas.push(areaOf(indices.slice(t, t + 3).map((v) => points[v])))
  return { accepted, indices, areas, bent: cutter.bentFaces }
}
function areaOf([a, b, c]: readonly Point[]): Point {
  const [u, v] = [b, c].map((p) => p.map((x, k) => x - a[k]))
  return [(u[1] * v[2] - u[2] * v[1]) / 2, (u[2] * v[0] - u[0] * v[2]) / 2, (u[0] * v[1] - u[1] * v[0]) / 2]
}
const total = (areas: readonly Point[]) => areas.reduce((sum, a) => sum + Math.hypot(...a), 0)
const flat = (xy: readonly (readonly [number, number])[]): Point[] => xy.map(([x, y]) => [x, y, 0])

const ell = flat([
  [0, 0],
  [4, 0],
  [4, 1],
  [1, 1],
  [1, 7],
  [0, 7],
])
const arrow = flat([
  [0, 0],
  [4, -3],
  [1, 0],
  [4, 3],
])

describe('a face cut into triangles', () => {
  test('an L keeps its area of 10 whichever corner comes first, and its winding (area by hand: 4·1 + 1·6)', () => {
    for (let first = 0; first < ell.length; first++) {
      const { accepted, areas } = cut([...ell.slice(first), ...ell.slice(0, first)])
      expect(accepted).toBe(true)
      expect(total(areas)).toBeCloseTo(10, 12)
      expect(areas.every((a) => a[2] > 0)).toBe(true)
    }
  })

  test('the other way round, the triangles turn the other way', () => {
    const { areas } = cut([...ell].reverse())
    expect(total(areas)).toBeCloseTo(10, 12)
    expect(areas.every((a) => a[2] < 0)).toBe(true)
  })

  test('a concave quadrilateral is cut at its inner corner (area by hand: 12 − 9 = 3)', () => {
    for (let first = 0; first < 4; first++)
      expect(total(cut([...arrow.slice(first), ...arrow.slice(0, first)]).areas)).toBeCloseTo(3, 12)
  })

  test('a convex quadrilateral is cut along its shorter diagonal', () => {
    const quad = flat([
      [0, 0],
      [10, 0],
      [12, 1],
      [2, 1],
    ])
    expect(cut(quad).indices).toEqual([0, 1, 3, 1, 2, 3])
  })

  test('a face that crosses itself is refused', () => {
    expect(
      cut(
        flat([
          [0, 0],
          [4, 4],
          [4, 0],
          [0, 3],
        ]),
      ).accepted,
    ).toBe(false)
    expect(
      cut(
        flat([
          [0, 0],
          [4, 0],
          [4, 4],
          [2, -2],
          [0, 4],
        ]),
      ).accepted,
    ).toBe(false)
  })

  test('a bent quadrilateral is counted, a flat one in a tilted plane is not', () => {
    expect(
      cut([
        [0, 0, 0],
        [10, 0, 0],
        [10, 10, 1],
        [0, 10, 0],
      ]).bent,
    ).toBe(1)
    expect(
      cut([
        [0, 0, 0],
        [10, 0, 3],
        [10, 10, 8],
        [0, 10, 5],
      ]).bent,
    ).toBe(0)
  })

  test('corners named twice in a row and faces without area do no harm', () => {
    expect(
      total(
        cut(
          flat([
            [0, 0],
            [2, 0],
            [2, 2],
            [0, 2],
          ]),
        ).areas,
      ),
    ).toBe(4)
    const cutter = new FaceCutter((v, axis) => ell[v][axis])
    expect(cutter.add([0, 0, 1, 1, 2])).toBe(true)
    expect([...cutter.triangles.done()]).toEqual([0, 1, 2])
    expect(
      cut(
        flat([
          [0, 0],
          [1, 0],
          [2, 0],
          [3, 0],
          [4, 0],
        ]),
      ).accepted,
    ).toBe(true)
  })

  test('any star-shaped face in any plane keeps its area vector (seed 11)', () => {
    let concave = 0
    const spokes = fc.array(fc.double({ min: 0.2, max: 3, noNaN: true }), { minLength: 5, maxLength: 40 })
    const angle = fc.double({ min: -3, max: 3, noNaN: true })
    fc.assert(
      fc.property(spokes, angle, angle, (radii, tilt, roll) => {
        const points = radii.map((r, i): Point => {
          const a = (2 * Math.PI * i) / radii.length
          const [x, y] = [r * Math.cos(a), r * Math.sin(a)]
          return [
            x * Math.cos(roll) - y * Math.cos(tilt) * Math.sin(roll),
            x * Math.sin(roll) + y * Math.cos(tilt) * Math.cos(roll),
            y * Math.sin(tilt),
          ]
        })
        const shoelace = radii.reduce(
          (sum, r, i) => sum + (r * radii[(i + 1) % radii.length] * Math.sin((2 * Math.PI) / radii.length)) / 2,
          0,
        )
        const { accepted, areas } = cut(points)
        expect(accepted).toBe(true)
        expect(total(areas)).toBeCloseTo(shoelace, 9)
        const sum = [0, 1, 2].map((k) => areas.reduce((s, a) => s + a[k], 0))
        expect(Math.hypot(...sum)).toBeCloseTo(shoelace, 9)
        if (radii.some((r, i) => r < 0.5 * Math.min(radii[(i + 1) % radii.length], radii.at(i - 1) as number)))
          concave++
      }),
      { seed: 11, numRuns: 300 },
    )
    expect(concave).toBeGreaterThan(150)
  })
})
