import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { anyDirection, anyPoint } from '../../test/kit/anyShape.ts'
import type { Outcome } from '../fault.ts'
import { roundCorners, centrelineLength, pieceLength } from '../shape/centreline.ts'
import { add, cross, distance, length, scale, sub, unit, type Vec3 } from '../shape/vec.ts'
import type { BendRow } from './answer.ts'
import { bendTable, reversedTable } from './bendTable.ts'
import { pointsFromTable } from './pointsFromTable.ts'

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults))
  return outcome.value
}
const close = (got: readonly number[], expected: readonly number[], within: number) => {
  expect(got).toHaveLength(expected.length)
  got.forEach((x, i) => {
    expect(Math.abs(x - expected[i]), `number ${i}: ${x} for ${expected[i]}`).toBeLessThanOrEqual(within)
  })
}

interface Row {
  readonly id: string
  readonly radius: number
  readonly points: readonly Vec3[]
  readonly straights: readonly number[]
  readonly bends: readonly number[]
  readonly rotations: readonly number[]
  readonly arcs: readonly number[]
  readonly developed: number
}
const clr = 95.25
const twice = { straights: [204.75, 109.5, 204.75], bends: [90, 90], arcs: [149.6184, 149.6184], developed: 818.2367 }
const square: readonly Vec3[] = [
  [0, 0, 0],
  [300, 0, 0],
  [300, 300, 0],
]

/** checks.md D1: derived from the definition, forward and inverse conversion and chirality agreed. Lengths 1e-3, angles 1e-4. */
const rows: readonly Row[] = [
  { id: 'D1.1 U', radius: clr, points: [...square, [0, 300, 0]], ...twice, rotations: [0, 0] },
  { id: 'D1.2 S', radius: clr, points: [...square, [600, 300, 0]], ...twice, rotations: [0, 180] },
  { id: 'D1.3 up', radius: clr, points: [...square, [300, 300, 300]], ...twice, rotations: [0, 90] },
  { id: 'D1.4 down', radius: clr, points: [...square, [300, 300, -300]], ...twice, rotations: [0, -90] },
  {
    id: 'D1.5 offset',
    radius: clr,
    points: [
      [0, 0, 0],
      [200, 0, 0],
      [300, 100, 0],
      [500, 100, 0],
    ],
    straights: [160.5462, 62.5137, 160.5462],
    bends: [45, 45],
    rotations: [0, 180],
    arcs: [74.8092, 74.8092],
    developed: 533.2243,
  },
  {
    id: 'D1.6',
    radius: clr,
    points: [
      [0, 0, 0],
      [250, 0, 0],
      [400, 120, 0],
      [420, 300, 160],
      [420, 300, 400],
    ],
    straights: [216.5881, 105.8844, 145.9156, 197.0521],
    bends: [38.6598, 57.9995, 48.5409],
    rotations: [0, 51.3266, 56.4921],
    arcs: [64.2691, 96.4199, 80.6957],
    developed: 906.8249,
  },
  { id: 'D1.7', radius: clr, points: [...square, [150, 300, 259.8076]], ...twice, rotations: [0, 60] },
  {
    id: 'D1.8 not buildable',
    radius: 90,
    points: [
      [0, 0, 0],
      [200, 0, 0],
      [200, 150, 0],
      [0, 150, 0],
    ],
    straights: [110, -30, 110],
    bends: [90, 90],
    rotations: [0, 0],
    arcs: [141.3717, 141.3717],
    developed: 110 + 110 - 30 + 2 * 141.3717,
  },
]

const bendsIn = (table: readonly BendRow[]) => table.slice(0, -1)
const angles = (table: readonly BendRow[]) => bendsIn(table).map(({ angle = Number.NaN }) => angle)
const rotations = (table: readonly BendRow[]) => bendsIn(table).map(({ rotation = Number.NaN }) => rotation)

describe('checks D1', () => {
  test.each(rows)('$id', ({ points, radius, ...expected }) => {
    const run = value(bendTable(points, radius))
    close(run.straights, expected.straights, 1e-3)
    close(run.arcs, expected.arcs, 1e-3)
    close([run.developed], [expected.developed], 1e-3)
    close(angles(run.table), expected.bends, 1e-4)
    close(rotations(run.table), expected.rotations, 1e-4)
    expect(run.table.map(({ length }) => length)).toEqual(run.straights)
    expect(bendsIn(run.table).every((row) => row.radius === radius)).toBe(true)
    expect(Object.keys(run.table.at(-1) as BendRow)).toEqual(['length'])
    expect(run.corners).toEqual(points.slice(1, -1).map((_, i) => i + 1))
  })

  test.each(rows)(
    '$id, from the table back to the points',
    ({ id, points, radius, straights, bends, rotations: turns }) => {
      // Of the figures as printed in the list, so within their rounding, which angles carry along the run.
      const table = straights.map(
        (length, k): BendRow =>
          k < bends.length ? { length, rotation: turns[k], angle: bends[k], radius } : { length },
      )
      const back = value(pointsFromTable(table))
      const within = id === 'D1.6' ? 3e-3 : 1e-3
      expect(back).toHaveLength(points.length)
      back.forEach((p, i) => {
        expect(distance(p, points[i])).toBeLessThan(within)
      })
    },
  )

  // A public mathematics forum thread, 2018 (checks.md D1); centre distances and angles worked out there from its points.
  test('the published input set', () => {
    const run = value(
      bendTable(
        [
          [38.5202, -14.0264, 0],
          [45.3142, -14.0264, 0],
          [45.3142, -17.5214, 0.9654],
          [48.6822, -17.5214, 0.9654],
        ],
        1,
      ),
    )
    close(run.straights, [6.794 - 1, 3.625882 - 2, 3.368 - 1], 1e-6)
    close(angles(run.table), [90, 90], 1e-9)
    expect(rotations(run.table)).toEqual([0, 180])
  })

  // checks.md D2.1: CLR 95.25, 90°.
  test('the arc is measured on the centreline', () => {
    close(value(bendTable([...square], clr)).arcs, [149.61835], 1e-6)
  })
})

describe('what a table leaves out and what it refuses', () => {
  test('points that turn nothing vanish; numbers of the others stay those of the points', () => {
    const points: readonly Vec3[] = [
      [0, 0, 0],
      [100, 0, 0],
      [300, 0, 0],
      [300, 150, 0],
      [300, 300, 0],
      [0, 300, 0],
    ]
    const run = value(bendTable(points, clr))
    close(run.straights, twice.straights, 1e-9)
    expect(run.corners).toEqual([2, 4])
  })

  test('a straight pipe is one row', () => {
    expect(value(bendTable(square.slice(0, 2), clr))).toEqual({
      table: [{ length: 300 }],
      straights: [300],
      arcs: [],
      developed: 300,
      corners: [],
    })
  })

  test('a radius of its own for each corner, by its number among them', () => {
    const run = value(bendTable([...square, [0, 300, 0]], (corner) => [50, 100][corner]))
    close(run.straights, [250, 150, 200], 1e-9)
    close(run.arcs, [25 * Math.PI, 50 * Math.PI], 1e-9)
    expect(bendsIn(run.table).map(({ radius }) => radius)).toEqual([50, 100])
  })

  test('straights that are nothing but rounding are 0', () => {
    const run = value(
      bendTable(
        [
          [0, 0, 0],
          [0.1 + 0.2, 0, 0],
          [0.1 + 0.2, 0.3, 0],
        ],
        0.3,
      ),
    )
    expect(run.straights).toEqual([0, 0])
  })

  test.each<[string, Vec3[], number, string, string | undefined]>([
    ['one point', [[0, 0, 0]], 10, 'too-few-points', undefined],
    [
      'a point twice',
      [
        [0, 0, 0],
        [9, 0, 0],
        [9, 0, 0],
        [9, 9, 0],
      ],
      1,
      'repeated-point',
      '[2]',
    ],
    [
      'a turn of 180°',
      [
        [0, 0, 0],
        [100, 0, 0],
        [50, 0, 0],
      ],
      10,
      'turns-back',
      '[1]',
    ],
    [
      'no number',
      [
        [0, 0, 0],
        [Number.NaN, 0, 0],
      ],
      10,
      'not-finite',
      '[1]',
    ],
    [
      'a radius of 0',
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
      ],
      0,
      'bend-too-tight',
      '[1]',
    ],
    [
      'no radius',
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 100, 0],
      ],
      Number.NaN,
      'bend-too-tight',
      '[1]',
    ],
  ])('%s', (_, points, radius, code, field) => {
    const made = bendTable(points, radius)
    expect(made.ok ? [] : made.faults.map((fault) => [fault.code, fault.field])).toEqual([[code, field]])
  })
})

/** Spread evenly, where doubles would crowd about 0. */
const thousandths = (min: number, max: number) => fc.integer({ min: 1000 * min, max: 1000 * max }).map((x) => x / 1000)

/** Runs whose corners turn between 5° and 150° and whose legs hold their setbacks with room to spare. */
const anyRun = fc
  .record({
    start: anyPoint,
    ways: fc
      .tuple(anyDirection, anyDirection)
      .map(([a, b]) => [unit(a), unit(b)] as const)
      .filter(([a, b]) => length(cross(a, b)) > 0.1),
    radius: thousandths(10, 150),
    bends: fc.array(
      fc.record({
        straight: thousandths(0, 400),
        rotation: thousandths(-180, 180),
        angle: thousandths(5, 150),
      }),
      { minLength: 1, maxLength: 8 },
    ),
    last: thousandths(1, 400),
  })
  .map(({ start, ways: [first, second], radius, bends, last }) => {
    const points: Vec3[] = [start]
    let way = first
    let normal = unit(cross(first, second))
    let setback = 0
    for (const { straight, rotation, angle } of bends) {
      const next = radius * Math.tan(rad(angle) / 2)
      points.push(add(points[points.length - 1], scale(way, setback + straight + next)))
      normal = about(normal, way, rotation)
      way = unit(about(way, normal, angle))
      setback = next
    }
    points.push(add(points[points.length - 1], scale(way, setback + last)))
    return { points, radius, bends, last }
  })
const rad = (degrees: number) => (degrees * Math.PI) / 180
/** A unit vector turned right-handed about another, square to it or not: written apart from the code under test. */
function about(v: Vec3, axis: Vec3, degrees: number): Vec3 {
  const [c, s] = [Math.cos(rad(degrees)), Math.sin(rad(degrees))]
  const dotted = v[0] * axis[0] + v[1] * axis[1] + v[2] * axis[2]
  return add(add(scale(v, c), scale(cross(axis, v), s)), scale(axis, dotted * (1 - c)))
}
/** Between two angles, either way round. */
const apart = (a: number, b: number) => Math.abs(((((a - b + 180) % 360) + 360) % 360) - 180)

describe('any run', () => {
  const options = { seed: 501, numRuns: 400 }

  test('has the straights, turns and bends that it was made of (seed 501)', () => {
    fc.assert(
      fc.property(anyRun, ({ points, radius, bends, last }) => {
        const run = value(bendTable(points, radius))
        close(run.straights, [...bends.map(({ straight }) => straight), last], 1e-6)
        close(
          angles(run.table),
          bends.map(({ angle }) => angle),
          1e-6,
        )
        rotations(run.table).forEach((rotation, k) => {
          expect(apart(rotation, k === 0 ? 0 : bends[k].rotation)).toBeLessThan(1e-5)
        })
      }),
      options,
    )
  })

  test('goes there and back within 1e-6 mm (seed 501)', () => {
    fc.assert(
      fc.property(anyRun, ({ points, radius }) => {
        const { table } = value(bendTable(points, radius))
        const [at, second, third] = points
        const back = value(pointsFromTable(table, { at, direction: sub(second, at), up: sub(third, second) }))
        expect(back).toHaveLength(points.length)
        back.forEach((p, i) => {
          expect(distance(p, points[i])).toBeLessThan(1e-6)
        })
      }),
      options,
    )
  })

  test('turned round has its table turned round (seed 501)', () => {
    fc.assert(
      fc.property(anyRun, ({ points, radius }) => {
        const there = reversedTable(value(bendTable(points, radius)).table)
        const back = value(bendTable(points.toReversed(), radius)).table
        close(
          back.map(({ length }) => length),
          there.map(({ length }) => length),
          1e-6,
        )
        close(angles(back), angles(there), 1e-7)
        rotations(back).forEach((rotation, k) => {
          expect(apart(rotation, rotations(there)[k])).toBeLessThan(1e-5)
        })
      }),
      options,
    )
  })

  test('mirrored has its rotations mirrored and nothing else (seed 501)', () => {
    let skew = 0
    fc.assert(
      fc.property(anyRun, ({ points, radius }) => {
        const run = value(bendTable(points, radius)).table
        const mirrored = value(
          bendTable(
            points.map(([x, y, z]): Vec3 => [x, -y, z]),
            radius,
          ),
        ).table
        close(
          mirrored.map(({ length }) => length),
          run.map(({ length }) => length),
          1e-6,
        )
        close(angles(mirrored), angles(run), 1e-7)
        rotations(mirrored).forEach((rotation, k) => {
          if (Math.abs(rotation) > 1 && Math.abs(rotation) < 179) skew++
          expect(apart(rotation, -rotations(run)[k])).toBeLessThan(1e-5)
        })
      }),
      options,
    )
    expect(skew).toBeGreaterThan(400)
  })

  test('is as long as the rounded centreline (seed 501)', () => {
    fc.assert(
      fc.property(anyRun, ({ points, radius }) => {
        const run = value(bendTable(points, radius))
        const pieces = value(roundCorners(points, radius))
        close([run.developed], [centrelineLength(pieces)], 1e-6)
        close(run.arcs, pieces.filter(({ kind }) => kind === 'arc').map(pieceLength), 1e-6)
      }),
      options,
    )
  })
})
