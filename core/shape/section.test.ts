import fc from 'fast-check'
import { orient2d } from 'robust-predicates'
import { ShapeUtils, Vector2 } from 'three'
import { describe, expect, it } from 'vitest'
import { anyNumber } from '../../test/kit/anyShape.ts'
import { readSection, type SectionPoint } from './section.ts'

const area = (loop: readonly SectionPoint[]): number =>
  loop.reduce((sum, [u, v], i) => {
    const [s, t] = loop[(i + 1) % loop.length]
    return sum + (u * t - s * v) / 2
  }, 0)
/** Exact turns at the corners, positive to the left. */
const turns = (loop: readonly SectionPoint[]): number[] =>
  loop.map((a, i) => {
    const [b, c] = [loop[(i + 1) % loop.length], loop[(i + 2) % loop.length]]
    return -orient2d(a[0], a[1], b[0], b[1], c[0], c[1])
  })
const read = (points: readonly SectionPoint[]) => {
  const section = readSection(points, 'shape.section')
  if (!section.ok) throw new Error(JSON.stringify({ faults: section.faults, points }))
  return section.value
}
const loops = (points: readonly SectionPoint[]) => {
  const { corners, pieces } = read(points)
  return pieces.map((piece) => piece.map((k) => corners[k]))
}

/** Polygons around the origin with any radius at each angle: simple, and as jagged as can be. */
const anyStar = fc.array(anyNumber(1, 50), { minLength: 4, maxLength: 24 }).map((radii) =>
  radii.map((r, i): SectionPoint => {
    const a = (2 * Math.PI * i) / radii.length
    return [r * Math.cos(a), r * Math.sin(a)]
  }),
)
/** Combs on whole numbers: many corners on one line, and straight runs to drop. */
const anyComb = fc
  .array(fc.integer({ min: 1, max: 4 }), { minLength: 2, maxLength: 10 })
  .map((teeth): SectionPoint[] => [
    ...teeth.flatMap((h, i): SectionPoint[] => [
      [2 * i, h],
      [2 * i + 1, h],
      [2 * i + 1, 0.5],
      [2 * i + 2, 0.5],
    ]),
    [2 * teeth.length, 0],
    [1, 0],
    [0, 0],
  ])
/** What is left of any few points on a small grid that happen to make a polygon: corners on lines with others abound. */
const gridPoint = fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 3 }))
const anyGridPolygon = fc
  .uniqueArray(gridPoint, { minLength: 5, maxLength: 8, selector: (p) => p.join() })
  .filter((points) => readSection(points, '').ok)
const anyPolygon = fc
  .tuple(fc.oneof(anyStar, anyComb, anyGridPolygon), fc.boolean())
  .map(([points, back]): SectionPoint[] => (back ? [...points].reverse() : [...points]))

describe('readSection', () => {
  it('should cut any polygon into convex pieces that cover it once and share whole edges (seed 4120)', () => {
    let nonConvex = 0
    fc.assert(
      fc.property(anyPolygon, (points) => {
        const { corners, pieces } = read(points)
        const parts = pieces.map((piece) => piece.map((k) => corners[k]))
        expect(area(corners)).toBeGreaterThan(0)
        if (pieces.length > 1) nonConvex++
        for (const part of parts) expect(Math.min(...turns(part))).toBeGreaterThan(0)
        const total = parts.reduce((sum, part) => sum + area(part), 0)
        expect(Math.abs(total - Math.abs(area(points)))).toBeLessThan(1e-9 * total)
        // An edge is the polygon's own, or two pieces run along it in opposite directions.
        const edges = pieces.flatMap((piece) => piece.map((k, i) => `${k} ${piece[(i + 1) % piece.length]}`))
        expect(new Set(edges).size).toBe(edges.length)
        const own = corners.map((_, k) => `${k} ${(k + 1) % corners.length}`)
        for (const edge of edges)
          expect(own.includes(edge) || edges.includes(edge.split(' ').reverse().join(' '))).toBe(true)
        for (const edge of own) expect(edges).toContain(edge)
      }),
      { seed: 4120, numRuns: 600 },
    )
    expect(nonConvex).toBeGreaterThan(200)
  })

  it('should need no more pieces than triangles of an independent library (seed 4121)', () => {
    fc.assert(
      fc.property(anyPolygon, (points) => {
        const { corners, pieces } = read(points)
        const triangles = ShapeUtils.triangulateShape(
          corners.map(([u, v]) => new Vector2(u, v)),
          [],
        )
        expect(pieces.length).toBeLessThanOrEqual(triangles.length)
      }),
      { seed: 4121, numRuns: 200 },
    )
  })

  it('should leave a convex section whole and cut an L in two and a U in three', () => {
    expect(
      loops([
        [0, 0],
        [30, 0],
        [30, 20],
        [0, 20],
      ]),
    ).toHaveLength(1)
    expect(
      loops([
        [0, 0],
        [2, 0],
        [2, 1],
        [1, 1],
        [1, 2],
        [0, 2],
      ]),
    ).toHaveLength(2)
    expect(
      loops([
        [0, 0],
        [3, 0],
        [3, 2],
        [2, 2],
        [2, 1],
        [1, 1],
        [1, 2],
        [0, 2],
      ]),
    ).toHaveLength(3)
  })

  it('should drop corners on straight runs', () => {
    expect(
      read([
        [0, 0],
        [1, 0],
        [2, 0],
        [2, 1],
        [2, 2],
        [0, 2],
      ]).corners,
    ).toEqual([
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ])
  })

  const refused = (points: readonly SectionPoint[]) => {
    const section = readSection(points, 'shape.section')
    return section.ok ? null : section.faults
  }
  it('should refuse a section that crosses itself, naming the edges', () => {
    expect(
      refused([
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ]),
    ).toEqual([
      {
        code: 'self-crossing',
        field: 'shape.section',
        expected: 'edges that do not cross or touch',
        got: {
          edges: [
            [0, 1],
            [2, 3],
          ],
        },
      },
    ])
  })

  it('should refuse a corner on another edge, an edge back over another, and edges along one another', () => {
    expect(
      refused([
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 0],
        [0, 10],
      ])?.[0].code,
    ).toBe('self-crossing')
    expect(
      refused([
        [0, 0],
        [10, 0],
        [5, 0],
        [5, 10],
      ])?.[0].code,
    ).toBe('self-crossing')
    expect(
      refused([
        [0, 0],
        [10, 0],
        [10, 5],
        [8, 5],
        [8, 0],
        [2, 0],
        [2, 5],
        [0, 5],
      ])?.[0].code,
    ).toBe('self-crossing')
  })

  it('should refuse a repeated corner, naming both', () => {
    expect(
      refused([
        [0, 0],
        [10, 0],
        [10, 10],
        [0, 0],
      ]),
    ).toMatchObject([{ code: 'repeated-point', field: 'shape.section[3]', got: [0, 3] }])
    expect(
      refused([
        [0, 0],
        [10, 0],
        [10, 10],
        [-0, 0],
      ])?.[0].code,
    ).toBe('repeated-point')
  })

  it('should refuse corners on one line, also a tilted one', () => {
    expect(
      refused([
        [0, 0],
        [10, 0],
        [5, 0],
      ])?.[0].code,
    ).toBe('zero-area')
    expect(
      refused([
        [0, 0],
        [3, 9],
        [1, 3],
        [2, 6],
      ])?.[0].code,
    ).toBe('zero-area')
  })

  it('should tell a touch from a gap of one ulp', () => {
    const touching: SectionPoint[] = [
      [0, 0],
      [10, 0],
      [10, 10],
      [5, 0],
      [0, 10],
    ]
    const apart = touching.map(([u, v], i): SectionPoint => (i === 3 ? [u, 5e-16] : [u, v]))
    expect(refused(touching)?.[0].code).toBe('self-crossing')
    expect(refused(apart)).toBeNull()
  })
})
