import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyNumber, anyPoint } from '../../test/kit/anyShape.ts'
import { centrelineLength, pieceLength, pointAt, roundCorners, trimCentreline } from './centreline.ts'
import type { Piece } from './form.ts'
import { add, distance, dot, scale, sub, unit, type Vec3 } from './vec.ts'

const rounded = (points: readonly Vec3[], bendRadius: number): readonly Piece[] => {
  const made = roundCorners(points, bendRadius)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const straights = (pieces: readonly Piece[]) => pieces.filter((p) => p.kind === 'straight').map(pieceLength)
const arcs = (pieces: readonly Piece[]) => pieces.filter((p) => p.kind === 'arc')
const degrees = (pieces: readonly Piece[]) => arcs(pieces).map((arc) => (arc.angle * 180) / Math.PI)
const close = (got: readonly number[], expected: readonly number[], within: number) => {
  expect(got).toHaveLength(expected.length)
  got.forEach((x, i) => {
    expect(Math.abs(x - expected[i])).toBeLessThan(within)
  })
}

/** checks.md D1, centreline radius 95.25: derived from the definition, forward and inverse conversion agree. */
const rows: { id: string; points: Vec3[]; straights: number[]; bends: number[]; arcs: number[]; developed: number }[] =
  [
    {
      id: 'D1.1 U',
      points: [
        [0, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
        [0, 300, 0],
      ],
      straights: [204.75, 109.5, 204.75],
      bends: [90, 90],
      arcs: [149.6184, 149.6184],
      developed: 818.2367,
    },
    {
      id: 'D1.2 S',
      points: [
        [0, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
        [600, 300, 0],
      ],
      straights: [204.75, 109.5, 204.75],
      bends: [90, 90],
      arcs: [149.6184, 149.6184],
      developed: 818.2367,
    },
    {
      id: 'D1.3',
      points: [
        [0, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
        [300, 300, 300],
      ],
      straights: [204.75, 109.5, 204.75],
      bends: [90, 90],
      arcs: [149.6184, 149.6184],
      developed: 818.2367,
    },
    {
      id: 'D1.4',
      points: [
        [0, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
        [300, 300, -300],
      ],
      straights: [204.75, 109.5, 204.75],
      bends: [90, 90],
      arcs: [149.6184, 149.6184],
      developed: 818.2367,
    },
    {
      id: 'D1.5 offset',
      points: [
        [0, 0, 0],
        [200, 0, 0],
        [300, 100, 0],
        [500, 100, 0],
      ],
      straights: [160.5462, 62.5137, 160.5462],
      bends: [45, 45],
      arcs: [74.8092, 74.8092],
      developed: 533.2243,
    },
    {
      id: 'D1.6',
      points: [
        [0, 0, 0],
        [250, 0, 0],
        [400, 120, 0],
        [420, 300, 160],
        [420, 300, 400],
      ],
      straights: [216.5881, 105.8844, 145.9156, 197.0521],
      bends: [38.6598, 57.9995, 48.5409],
      arcs: [64.2691, 96.4199, 80.6957],
      developed: 906.8249,
    },
    {
      id: 'D1.7',
      points: [
        [0, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
        [150, 300, 259.8076],
      ],
      straights: [204.75, 109.5, 204.75],
      bends: [90, 90],
      arcs: [149.6184, 149.6184],
      developed: 818.2367,
    },
  ]

/** Corner paths whose straights hold bends of radius up to 60 and turns up to 120°. */
const anyPath = fc
  .tuple(anyPoint, fc.array(fc.tuple(anyDirection, anyNumber(220, 500)), { minLength: 1, maxLength: 7 }))
  .map(([start, legs]) => {
    const path: Vec3[] = [start]
    let before: Vec3 | null = null
    for (const [way, long] of legs) {
      const towards: Vec3 = unit(way)
      const direction: Vec3 = before && dot(before, towards) < -0.5 ? scale(towards, -1) : towards
      path.push(add(path[path.length - 1], scale(direction, long)))
      before = direction
    }
    return path
  })

describe('roundCorners', () => {
  for (const row of rows)
    it(`should give the straights, bends, arcs and developed length of ${row.id} (checks D1, derived)`, () => {
      const pieces = rounded(row.points, 95.25)
      close(straights(pieces), row.straights, 1e-3)
      close(degrees(pieces), row.bends, 1e-4)
      close(arcs(pieces).map(pieceLength), row.arcs, 1e-3)
      expect(Math.abs(centrelineLength(pieces) - row.developed)).toBeLessThan(1e-3)
    })

  it('should have two bends of 90° at the published points P1 to P4 (checks D1, a forum thread of 2018)', () => {
    const points: Vec3[] = [
      [38.5202, -14.0264, 0],
      [45.3142, -14.0264, 0],
      [45.3142, -17.5214, 0.9654],
      [48.6822, -17.5214, 0.9654],
    ]
    close(degrees(rounded(points, 1)), [90, 90], 1e-9)
    close(
      [0, 1, 2].map((i) => distance(points[i], points[i + 1])),
      [6.794, 3.625882, 3.368],
      1e-6,
    )
  })

  it('should have an arc of 149.618350 at CLR 95.25 and 90° (checks D2.1)', () => {
    expect(
      pieceLength(
        arcs(
          rounded(
            [
              [-200, 0, 0],
              [0, 0, 0],
              [0, 200, 0],
            ],
            95.25,
          ),
        )[0],
      ),
    ).toBeCloseTo(149.61835, 6)
  })

  it('should refuse D1.8, whose middle straight lacks 30 mm, naming the corners', () => {
    expect(
      roundCorners(
        [
          [0, 0, 0],
          [200, 0, 0],
          [200, 150, 0],
          [0, 150, 0],
        ],
        90,
      ),
    ).toEqual({
      ok: false,
      faults: [
        {
          code: 'straight-too-short',
          field: 'path[2]',
          expected: expect.any(String),
          got: {
            corners: [1, 2],
            from: 1,
            to: 2,
            side: 'before',
            straight: 150,
            needed: expect.closeTo(180, 9),
            missing: expect.closeTo(30, 9),
          },
        },
      ],
    })
  })

  it('should report every fault of a path at once, with the field names it is given', () => {
    const points: Vec3[] = [
      [0, 0, 0],
      [50, 0, 0],
      [50, 300, 0],
      [50, 100, 0],
      [50, 100, 80],
    ]
    const made = roundCorners(points, 90, { fieldOf: (i) => `pipes[0].path[${i - 1}]` })
    expect(made.ok ? [] : made.faults.map(({ code, field }) => [code, field])).toEqual([
      ['turns-back', 'pipes[0].path[1]'],
      ['straight-too-short', 'pipes[0].path[0]'],
      ['straight-too-short', 'pipes[0].path[2]'],
    ])
  })

  it('should take a straight that the bends use up to the last bit, and leave it out', () => {
    const pieces = rounded(
      [
        [0, 0, 0],
        [90, 0, 0],
        [90, 180, 0],
        [0, 180, 0],
      ],
      90,
    )
    expect(pieces.map((p) => p.kind)).toEqual(['arc', 'arc'])
    expect(centrelineLength(pieces)).toBeCloseTo(Math.PI * 90, 9)
  })

  it('should let corners vanish that turn nothing, also a little off the line and several in a row', () => {
    expect(
      rounded(
        [
          [0, 0, 0],
          [1, 1e-10, 0],
          [2, 0, 0],
          [3, 0, 1e-10],
          [10, 0, 0],
        ],
        50,
      ),
    ).toEqual([{ kind: 'straight', from: [0, 0, 0], to: [10, 0, 0] }])
  })

  it('should keep a bend of a hundredth of a degree', () => {
    const pieces = rounded(
      [
        [0, 0, 0],
        [100, 0, 0],
        [200, 100 * Math.tan(Math.PI / 18_000), 0],
      ],
      50,
    )
    close(degrees(pieces), [0.01], 1e-9)
  })

  it('should refuse too few points, repeated points and no radius', () => {
    expect(roundCorners([[0, 0, 0]], 50)).toMatchObject({ faults: [{ code: 'too-few-points', got: 1 }] })
    expect(
      roundCorners(
        [
          [0, 0, 0],
          [0, 0, 0],
          [9, 0, 0],
        ],
        50,
      ),
    ).toMatchObject({ faults: [{ code: 'repeated-point', field: 'path[1]' }] })
    for (const radius of [0, -5, Number.NaN])
      expect(
        roundCorners(
          [
            [0, 0, 0],
            [9, 0, 0],
          ],
          radius,
        ),
      ).toMatchObject({ faults: [{ code: 'bend-too-tight' }] })
    expect(
      roundCorners(
        [
          [0, 0, 0],
          [9, 0, 0],
        ],
        30,
        { radius: 31 },
      ),
    ).toMatchObject({ faults: [{ code: 'bend-too-tight', expected: 'at least 31 mm' }] })
  })

  it('should run from end to end without a jump or kink, each arc tangent to both its straights (seed 4150)', () => {
    let bends = 0
    fc.assert(
      fc.property(anyPath, anyNumber(1, 60), (path, radius) => {
        const pieces = rounded(path, radius)
        bends += arcs(pieces).length
        expect(distance(pointAt(pieces, 0).point, path[0])).toBeLessThan(1e-9)
        expect(distance(pointAt(pieces, Infinity).point, path[path.length - 1])).toBeLessThan(1e-9)
        for (let i = 1; i < pieces.length; i++) {
          const [end, start] = [pointAt([pieces[i - 1]], Infinity), pointAt([pieces[i]], 0)]
          expect(distance(end.point, start.point)).toBeLessThan(1e-9)
          expect(distance(end.direction, start.direction)).toBeLessThan(1e-8)
        }
        // Never longer than the corners' path, and shorter where it bends.
        const corners = path.slice(1).reduce((sum, p, i) => sum + distance(p, path[i]), 0)
        expect(centrelineLength(pieces)).toBeLessThanOrEqual(corners + 1e-9)
      }),
      { seed: 4150, numRuns: 300 },
    )
    expect(bends).toBeGreaterThan(300)
  })
})

describe('pointAt', () => {
  it('should move as far as the length says, and no farther than the length in a straight line (seed 4151)', () => {
    fc.assert(
      fc.property(anyPath, anyNumber(0, 1), anyNumber(0, 1e-3), (path, share, step) => {
        const pieces = rounded(path, 40)
        const at = share * centrelineLength(pieces)
        const [a, b] = [pointAt(pieces, at), pointAt(pieces, at + step)]
        expect(distance(a.point, b.point)).toBeLessThanOrEqual(step + 1e-9)
        expect(dot(a.direction, sub(b.point, a.point))).toBeGreaterThanOrEqual(-1e-9)
      }),
      { seed: 4151, numRuns: 200 },
    )
  })
})

describe('trimCentreline', () => {
  it('should keep just the length asked for, from the point asked for to the point asked for (seed 4152)', () => {
    fc.assert(
      fc.property(anyPath, anyNumber(0, 1), anyNumber(0, 1), (path, s, t) => {
        const pieces = rounded(path, 40)
        const total = centrelineLength(pieces)
        const [from, to] = [Math.min(s, t) * total, Math.max(s, t) * total]
        const part = trimCentreline(pieces, from, to)
        expect(centrelineLength(part)).toBeCloseTo(to - from, 7)
        if (part.length === 0) return
        expect(distance(pointAt(part, 0).point, pointAt(pieces, from).point)).toBeLessThan(1e-8)
        expect(distance(pointAt(part, Infinity).point, pointAt(pieces, to).point)).toBeLessThan(1e-8)
        expect(distance(pointAt(part, Infinity).direction, pointAt(pieces, to).direction)).toBeLessThan(1e-7)
      }),
      { seed: 4152, numRuns: 300 },
    )
  })

  it('should give the whole for lengths beyond both ends and nothing for an empty stretch', () => {
    const pieces = rounded(
      [
        [0, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
      ],
      50,
    )
    expect(trimCentreline(pieces, -10, 1e9)).toEqual(pieces)
    expect(trimCentreline(pieces, 20, 20)).toEqual([])
    expect(trimCentreline(pieces, 30, 10)).toEqual([])
    expect(trimCentreline(pieces, 1e9, 2e9)).toEqual([])
  })
})

describe('a radius for each corner', () => {
  const points: Vec3[] = [
    [0, 0, 0],
    [300, 0, 0],
    [300, 300, 0],
    [0, 300, 0],
    [0, 300, 400],
  ]
  const of = (radii: readonly number[], path = points, radius = 0) =>
    roundCorners(path, (corner) => radii[corner], { radius })

  it('should give each arc its own radius and the straights what is left', () => {
    const made = of([40, 60, 100])
    if (!made.ok) throw new Error('not rounded')
    expect(arcs(made.value).map(({ radius }) => radius)).toEqual([40, 60, 100])
    close(straights(made.value), [260, 200, 140, 300], 1e-9)
    expect(centrelineLength(made.value)).toBeCloseTo(900 + 100 * Math.PI, 9)
  })

  it('should be the same as one radius where all are equal', () => {
    expect(of([50, 50, 50])).toEqual(roundCorners(points, 50))
  })

  it('should number corners by their points, also behind one that turns nothing', () => {
    const made = of(
      [10, 40, 60],
      [
        [0, 0, 0],
        [150, 0, 0],
        [300, 0, 0],
        [300, 300, 0],
        [0, 300, 0],
      ],
    )
    expect(made.ok && arcs(made.value).map(({ radius }) => radius)).toEqual([40, 60])
  })

  it('should name the corner whose radius is too small, and a straight too short for two of them', () => {
    expect(of([40, 9, 0], points, 10)).toMatchObject({
      faults: [
        { code: 'bend-too-tight', field: 'path[2]', expected: 'at least 10 mm', got: 9 },
        { code: 'bend-too-tight', field: 'path[3]', got: 0 },
      ],
    })
    expect(of([100, 201, 50])).toMatchObject({
      faults: [
        {
          code: 'straight-too-short',
          got: { needed: expect.closeTo(301, 9), missing: expect.closeTo(1, 9), corners: [1, 2] },
        },
      ],
    })
    expect(of([40, Number.NaN, 40])).toMatchObject({ faults: [{ code: 'bend-too-tight', field: 'path[2]' }] })
  })
})
