import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bareCandidate, tinyBay } from '../../test/kit/tinyBay.ts'
import type { Bay, Pipe } from '../bay/schema.ts'
import type { Outcome } from '../fault.ts'
import { distance, length, sub, unit, type Vec3 } from '../shape/vec.ts'
import type { BendRow } from './answer.ts'
import { bendTable, reversedTable } from './bendTable.ts'
import { tableInBay, withTable } from './tableInBay.ts'

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults))
  return outcome.value
}
type Point = [number, number, number]

const pipeOf = (path: readonly Vec3[], change: Partial<Pipe> = {}): Pipe => ({
  id: 'hot',
  name: 'Hot',
  from: 'a',
  to: 'b',
  outsideDiameter: 40,
  wall: 1.5,
  bendRadius: 60,
  path: path.map((p): Point => [...p]),
  ...change,
})
/** A bay whose ports lie and face so that a run fits between them. */
const bayFor = (points: readonly Vec3[], pipe: Pipe): Bay => {
  const [last, before] = [points[points.length - 1], points[points.length - 2]]
  const ports = [
    {
      id: 'a',
      name: 'A',
      at: [...points[0]] as Point,
      direction: unit(sub(points[1], points[0])),
      outsideDiameter: 40,
    },
    { id: 'b', name: 'B', at: [...last] as Point, direction: unit(sub(before, last)), outsideDiameter: 40 },
  ].map((port) => ({ ...port, direction: [...port.direction] as Point }))
  return tinyBay([], bareCandidate({ pipes: [pipe] }), ports)
}
const corners: readonly Vec3[] = [
  [0, 0, 0],
  [250, 0, 0],
  [400, 120, 0],
  [420, 300, 160],
  [420, 300, 400],
]
const run = value(bendTable(corners, 60)).table
const put = (rows: readonly BendRow[], fromEnd = false, points = corners) => {
  const pipe = pipeOf([])
  const bay = bayFor(points, pipe)
  return tableInBay(bay, bay.candidates[0], pipe, rows, fromEnd)
}

describe('a table that is the pipe’s', () => {
  test('gives its corners, turned to reach its other end', () => {
    const { points, miss, reaches } = value(put(run))
    points.forEach((p, i) => {
      expect(distance(p, corners[i])).toBeLessThan(1e-6)
    })
    expect(miss.end).toBe('to')
    expect(miss.distance).toBeLessThan(1e-6)
    expect(miss.angle).toBeLessThan(1e-6)
    expect(reaches).toBe(true)
  })

  test('from its end, too: points still run from the beginning', () => {
    const { points, miss } = value(put(reversedTable(run), true))
    points.forEach((p, i) => {
      expect(distance(p, corners[i])).toBeLessThan(1e-6)
    })
    expect(miss.end).toBe('from')
  })

  test('whose end lies on the axis of its beginning is turned by the way that it arrives', () => {
    const over: readonly Vec3[] = [
      [0, 0, 0],
      [200, 0, 0],
      [300, 0, 100],
      [400, 0, 100],
      [400, 0, 0],
    ]
    const { points, reaches } = value(put(value(bendTable(over, 20)).table, false, over))
    expect(reaches).toBe(true)
    points.forEach((p, i) => {
      expect(distance(p, over[i])).toBeLessThan(1e-6)
    })
  })

  test('as rounded on a sheet still reaches (seed 504)', () => {
    const coordinate = fc.integer({ min: -150, max: 150 })
    let reached = 0
    fc.assert(
      fc.property(coordinate, coordinate, coordinate, coordinate, (a, b, c, d) => {
        const points: readonly Vec3[] = [
          [0, 0, 0],
          [250, 0, 0],
          [500, a, b],
          [750, c, d],
          [1000, c, d],
        ]
        const made = bendTable(points, 60)
        if (!made.ok || made.value.corners.length < 3) return
        const rounded = made.value.table.map(
          (row): BendRow => ({
            length: Number(row.length.toFixed(1)),
            ...(row.angle !== undefined && {
              rotation: Number(row.rotation?.toFixed(2)),
              angle: Number(row.angle.toFixed(2)),
              radius: row.radius,
            }),
          }),
        )
        const { miss, reaches } = value(put(rounded, false, points))
        expect(miss.distance).toBeLessThan(1)
        expect(reaches).toBe(true)
        reached++
      }),
      { seed: 504, numRuns: 100 },
    )
    expect(reached).toBeGreaterThan(80)
  })
})

test('another pipe’s table misses, and is told by how much and which way', () => {
  const longer = run.map((row, k) => (k === run.length - 1 ? { length: row.length + 25 } : row))
  const { miss, reaches } = value(put(longer))
  expect(reaches).toBe(false)
  // Turned to come nearest, it can only be nearer than straight on.
  expect(miss.distance).toBeLessThanOrEqual(25 + 1e-9)
  expect(miss.distance).toBeGreaterThan(1)
  expect(length(miss.by)).toBeCloseTo(miss.distance, 9)
})

test('no turn about the first straight brings the end nearer (seed 505)', () => {
  const coordinate = fc.integer({ min: -300, max: 300 })
  fc.assert(
    fc.property(fc.tuple(coordinate, coordinate, coordinate), fc.integer({ min: 1, max: 359 }), ([x, y, z], turn) => {
      const goal: readonly Vec3[] = [
        [0, 0, 0],
        [100, 0, 0],
        [600 + x, y, z],
      ]
      const { points, miss } = value(put(run, false, goal))
      const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)]
      const [px, py, pz] = points[points.length - 1]
      const otherwise: Vec3 = [px, c * py - s * pz, s * py + c * pz]
      expect(distance(otherwise, goal[2])).toBeGreaterThan(miss.distance - 1e-9)
    }),
    { seed: 505, numRuns: 200 },
  )
})

test('faults of the table come through', () => {
  expect(put([])).toMatchObject({ ok: false, faults: [{ code: 'too-few' }] })
})

describe('a pipe that runs by a table', () => {
  const one = pipeOf([[1, 2, 3]])

  test('has its corners and its radius', () => {
    expect(value(withTable(one, run, corners))).toEqual(pipeOf(corners.slice(1, -1)))
    const wider = value(bendTable(corners, 80)).table
    expect(value(withTable(one, wider, corners)).bendRadius).toBe(80)
  })

  test('keeps elbows where corners are as many as before, with a radius of their own', () => {
    const elbows = [{ corner: 1, elbow: 'e' }]
    const rows = value(bendTable(corners, (corner) => (corner === 1 ? 40 : 60))).table
    expect(value(withTable(pipeOf(corners.slice(1, -1), { elbows }), rows, corners)).elbows).toEqual(elbows)
    expect(withTable({ ...one, elbows }, rows, corners)).toMatchObject({
      ok: false,
      faults: [{ code: 'radii-differ' }],
    })
    expect(value(withTable({ ...one, elbows }, run, corners)).elbows).toBeUndefined()
  })

  test('straight, keeps its radius', () => {
    expect(value(withTable(one, [{ length: 10 }], corners.slice(0, 2)))).toEqual(pipeOf([]))
  })
})
