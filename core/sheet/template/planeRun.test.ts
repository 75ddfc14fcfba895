import { expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { bendTable } from '../../pipe/bendTable.ts'
import { roundCorners } from '../../shape/centreline.ts'
import { add, along, cross, distance, dot, scale, sub, unit, type Vec3 } from '../../shape/vec.ts'
import type { Flat } from '../drawing/view.ts'
import { type PlaneRun, planeRuns } from './planeRun.ts'

const radius = 95.25
const diameter = 63.5
/** Checks D1 (vertices, straights and bend angles derived and verified there by forward and inverse conversion). */
const d1: Record<string, { points: Vec3[]; runs: number[][]; turns: string[][] }> = {
  'D1.1, a U': {
    points: [
      [0, 0, 0],
      [300, 0, 0],
      [300, 300, 0],
      [0, 300, 0],
    ],
    runs: [[1, 2]],
    turns: [['left', 'left']],
  },
  'D1.2, an S': {
    points: [
      [0, 0, 0],
      [300, 0, 0],
      [300, 300, 0],
      [600, 300, 0],
    ],
    runs: [[1, 2]],
    turns: [['left', 'right']],
  },
  'D1.3': {
    points: [
      [0, 0, 0],
      [300, 0, 0],
      [300, 300, 0],
      [300, 300, 300],
    ],
    runs: [[1], [2]],
    turns: [['left'], ['left']],
  },
  'D1.5, an offset': {
    points: [
      [0, 0, 0],
      [200, 0, 0],
      [300, 100, 0],
      [500, 100, 0],
    ],
    runs: [[1, 2]],
    turns: [['left', 'right']],
  },
  'D1.6': {
    points: [
      [0, 0, 0],
      [250, 0, 0],
      [400, 120, 0],
      [420, 300, 160],
      [420, 300, 400],
    ],
    runs: [[1], [2], [3]],
    turns: [['left'], ['left'], ['left']],
  },
}
const straightsOf: Record<string, number[][]> = {
  'D1.1, a U': [[204.75, 109.5, 204.75]],
  'D1.2, an S': [[204.75, 109.5, 204.75]],
  'D1.3': [
    [204.75, 109.5],
    [109.5, 204.75],
  ],
  'D1.5, an offset': [[160.5462, 62.5137, 160.5462]],
  'D1.6': [
    [216.5881, 105.8844],
    [105.8844, 145.9156],
    [145.9156, 197.0521],
  ],
}
const anglesOf: Record<string, number[]> = {
  'D1.1, a U': [90, 90],
  'D1.2, an S': [90, 90],
  'D1.3': [90, 90],
  'D1.5, an offset': [45, 45],
  'D1.6': [38.6598, 57.9995, 48.5409],
}

const runsOf = (points: readonly Vec3[], r = radius, od = diameter): PlaneRun[] => {
  const pieces = roundCorners(points, r)
  if (!pieces.ok) throw new Error(JSON.stringify(pieces.faults))
  return planeRuns(pieces.value, od)
}
const long = (a: Flat, b: Flat) => Math.hypot(a[0] - b[0], a[1] - b[1])

test.each(Object.entries(d1))(
  '%s: planes, straights, angles and corners as in the checks',
  (name, { points, runs, turns }) => {
    const found = runsOf(points)
    expect(found.map(({ bends }) => bends.map(({ number }) => number))).toEqual(runs)
    expect(found.map(({ bends }) => bends.map((bend) => bend.turns))).toEqual(turns)
    expect(found.map(({ straights }) => straights.map(({ from, to }) => long(from, to)))).toEqual(
      straightsOf[name].map((run) => run.map((mm) => expect.closeTo(mm, 3))),
    )
    expect(found.flatMap(({ bends }) => bends.map(({ angle }) => angle))).toEqual(
      anglesOf[name].map((angle) => expect.closeTo(angle, 3)),
    )
    for (const { bends } of found)
      bends.forEach((bend, k) => {
        const corner = cornerOf(bend)
        // The corners of the path, told from the lines on the paper alone.
        const next = bends[k + 1]
        if (next)
          expect(long(corner, cornerOf(next))).toBeCloseTo(distance(points[bend.number], points[next.number]), 6)
        expect(bend.radius).toBe(radius)
      })
    expect(found[0].begins).toBe(true)
    expect(found.at(-1)?.ends).toBe(true)
    if (found.length > 1) expect([found[0].ends, found[1].begins]).toEqual([false, false])
  },
)

/** Where the ways into and out of a bend cross. */
function cornerOf({ tangents: [a, b] }: PlaneRun['bends'][number]): Flat {
  const [dx, dy] = [b.at[0] - a.at[0], b.at[1] - a.at[1]]
  const t = (dx * b.way[1] - dy * b.way[0]) / (a.way[0] * b.way[1] - a.way[1] * b.way[0])
  return [a.at[0] + t * a.way[0], a.at[1] + t * a.way[1]]
}

/** Least distance from a point to the exact middle line: straights and arcs as the run tells them. */
function off(p: Flat, { straights, bends }: PlaneRun): number {
  const toStraight = straights.map(({ from, to }) => {
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
    const t = Math.min(1, Math.max(0, ((p[0] - from[0]) * dx + (p[1] - from[1]) * dy) / (dx * dx + dy * dy)))
    return long(p, [from[0] + t * dx, from[1] + t * dy])
  })
  const toBend = bends.flatMap(({ centre, radius: r, tangents: [a, b] }) => {
    const ahead = (p[0] - a.at[0]) * a.way[0] + (p[1] - a.at[1]) * a.way[1] >= -1e-6
    const behind = (p[0] - b.at[0]) * b.way[0] + (p[1] - b.at[1]) * b.way[1] <= 1e-6
    return ahead && behind ? [Math.abs(long(p, centre) - r)] : []
  })
  return Math.min(...toStraight, ...toBend)
}

test('both sides lie half the outside diameter off the middle line, their chords within 0.005 mm (seed 31)', () => {
  const random = seeded(31)
  for (let round = 0; round < 40; round++) {
    const od = random.real(15, 80)
    const r = od * random.real(1, 3)
    const points: Vec3[] = [[0, 0, 0]]
    for (let k = 0; k < 4; k++) points.push(along(points[k], random.unit(), random.real(8, 14) * r))
    const pieces = roundCorners(points, r)
    if (!pieces.ok) continue
    for (const run of planeRuns(pieces.value, od))
      for (const side of [run.left, run.right]) {
        expect(Math.max(...side.map((p) => Math.abs(off(p, run) - od / 2)))).toBeLessThan(1e-6)
        const middles = side.slice(1).map((p, k): Flat => [(p[0] + side[k][0]) / 2, (p[1] + side[k][1]) / 2])
        expect(Math.max(...middles.map((p) => Math.abs(off(p, run) - od / 2)))).toBeLessThan(0.0051)
      }
  }
})

/**
 * A bender at work, written apart from the bend table: the beginning goes first along +X through a die at the origin, which
 * swings whatever is beyond it towards +Y; between bends the tube is fed, and turned right-handed about the way that it is fed.
 */
function bent(rows: readonly { length: number; rotation?: number; angle?: number; radius?: number }[]): Vec3[] {
  let tube: Vec3[] = [[0, 0, 0]]
  const turnAbout = (axis: Vec3, at: Vec3, degrees: number) => {
    const [s, c] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)]
    tube = tube.map((p) => {
      const v = sub(p, at)
      const held = scale(axis, dot(axis, v) * (1 - c))
      return add(at, add(add(scale(v, c), scale(cross(axis, v), s)), held))
    })
  }
  for (const { length, rotation = 0, angle, radius: r = 0 } of rows) {
    tube = tube.map((p) => add(p, [length, 0, 0]))
    if (angle === undefined) break
    turnAbout([1, 0, 0], [0, 0, 0], rotation)
    // What is beyond the die swings about its centre; the bend's own corner then lies a setback in front of the die.
    turnAbout([0, 0, 1], [0, r, 0], angle)
    tube = [...tube, [r * Math.tan((angle * Math.PI) / 360), 0, 0]]
  }
  return [...tube, [0, 0, 0]]
}

test('a tube fed with its beginning first, and turned as the drawn convention says, comes out as the path (D1.3 to D1.7)', () => {
  const paths: Vec3[][] = [
    d1['D1.3'].points,
    [
      [0, 0, 0],
      [300, 0, 0],
      [300, 300, 0],
      [300, 300, -300],
    ],
    d1['D1.6'].points,
    [
      [0, 0, 0],
      [300, 0, 0],
      [300, 300, 0],
      [150, 300, 259.8076],
    ],
  ]
  for (const points of paths) {
    const run = bendTable(points, radius)
    if (!run.ok) throw new Error('a table')
    const made = bent(run.value.table)
    expect(made).toHaveLength(points.length)
    for (let i = 0; i < points.length; i++)
      for (let j = 0; j < i; j++) expect(distance(made[i], made[j])).toBeCloseTo(distance(points[i], points[j]), 6)
    // Not its mirror image.
    const hand = (p: readonly Vec3[]) => dot(cross(unit(sub(p[1], p[0])), unit(sub(p[2], p[1]))), unit(sub(p[3], p[2])))
    expect(Math.abs(hand(points))).toBeGreaterThan(0.1)
    expect(hand(made)).toBeCloseTo(hand(points), 9)
  }
})
