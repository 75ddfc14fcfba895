import { describe, expect, it } from 'vitest'
import { distance, type Vec3 } from '../../shape/vec.ts'
import { corridor, medialPoints, turnCorners } from './corridor.ts'
import { Field } from './field.ts'
import { Work } from './work.ts'

const box = { min: [-200, -200, -100], max: [200, 200, 100] } as const
const work = () => new Work(() => null)

/** A wall across X = 0, 60 mm thick for the centreline, with a square door of half width `half` about Y = 100. */
const doorAt =
  (half: number) =>
  ([x, y, z]: Vec3): number => {
    const wall = Math.abs(x) - 30
    const door = half - Math.max(Math.abs(y - 100), Math.abs(z))
    return Math.max(wall, door)
  }

describe('corridor', () => {
  const ends: [Vec3, Vec3] = [
    [-150, -100, 0],
    [150, -100, 0],
  ]

  it('leads through the door', () => {
    const field = new Field(box, 10, doorAt(30))
    const way = corridor(field, ...ends, 10, work())
    expect(way).not.toBeNull()
    const atWall = (way ?? []).filter(([x]) => Math.abs(x) < 10)
    expect(atWall.length).toBeGreaterThan(0)
    for (const [, y, z] of atWall) {
      expect(Math.abs(y - 100)).toBeLessThanOrEqual(30)
      expect(Math.abs(z)).toBeLessThanOrEqual(30)
    }
    expect(distance(way?.[0] ?? [0, 0, 0], ends[0])).toBeLessThan(field.reach + 1e-9)
  })

  it('asks only about cells that it comes to', () => {
    const field = new Field(box, 10, () => 40)
    corridor(field, ...ends, 10, work())
    expect(field.asked).toBeGreaterThan(5)
    expect(field.asked).toBeLessThan(field.cells / 10)
  })

  it('is none where there is no door, or where an end lies outside of the box', () => {
    expect(corridor(new Field(box, 10, doorAt(-1000)), ...ends, 10, work())).toBeNull()
    expect(corridor(new Field(box, 10, () => 40), [-300, 0, 0], ends[1], 10, work())).toBeNull()
  })

  it('is none where it is broken off', () => {
    const field = new Field(box, 4, () => 0)
    const stopped = new Work(() => 'cancelled')
    expect(corridor(field, ...ends, 10, stopped)).toBeNull()
    expect(stopped.ended).toBe('cancelled')
  })
})

describe('points pushed to where there is room', () => {
  it('come to the middle between two walls, from wherever they are', () => {
    // Room up to 2 mm in the middle of a slot about Y = 3.3.
    const field = new Field(box, 20, ([, y]) => 2 - Math.abs(y - 3.3))
    const way = Array.from({ length: 12 }, (_, i): Vec3 => [20 * i - 120, i % 2 === 0 ? -8 : 12, 0])
    const points = medialPoints(field, way, 10, work())
    expect(points).toHaveLength(12)
    expect(points[0]).toEqual(way[0])
    for (const [, y] of points.slice(1)) expect(Math.abs(y - 3.3)).toBeLessThan(0.1)
  })

  it('stay where there is room enough', () => {
    const way = Array.from({ length: 100 }, (_, i): Vec3 => [i, 0, 0])
    const points = medialPoints(new Field(box, 20, () => 50), way, 10, work())
    expect(points).toHaveLength(30)
    for (const point of points) expect(way).toContainEqual(point)
  })
})

describe('corners outside of a turn', () => {
  it('stand where the straights before and after it meet', () => {
    // Round a quarter of 80 mm; the straights meet at (80, 0).
    const quarter = Array.from({ length: 7 }, (_, i): Vec3 => {
      const a = (i * Math.PI) / 12
      return [80 * Math.sin(a), 80 - 80 * Math.cos(a), 0]
    })
    const points: Vec3[] = [[-90, 0, 0], [-60, 0, 0], [-30, 0, 0], ...quarter, [80, 110, 0], [80, 140, 0], [80, 170, 0]]
    const corners = turnCorners({ bendRadius: 60, radius: 25 } as never, points)
    expect(Math.min(...corners.map(({ at }) => distance(at, [80, 0, 0])))).toBeLessThan(1e-9)
    expect(corners.every(({ order }) => order > 0 && order < points.length)).toBe(true)
  })

  it('are none along a straight', () => {
    const points = Array.from({ length: 20 }, (_, i): Vec3 => [10 * i, 0.01 * (i % 2), 0])
    expect(turnCorners({ bendRadius: 60, radius: 25 } as never, points)).toEqual([])
  })
})
