import { describe, expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { add, along, distance, dot, scale, squareTo, type Vec3 } from '../shape/vec.ts'
import { type FastenerRoom, roomLeft } from './fastenerRoom.ts'

const axis: Vec3 = [0, 0, 1]

describe('where a fastener may stand', () => {
  test('a round hole: 1 mm of clearance less how far it is off; the way along the axis does not count', () => {
    const room: FastenerRoom = { axis, round: 1, travels: [] }
    expect(roomLeft(room, [0.3, 0.4, 7]).by).toBeCloseTo(0.5, 12)
    expect(roomLeft(room, [3, 4, 0]).by).toBeCloseTo(-4, 12)
    expect(roomLeft(room, [3, 4, 0]).towards.map((x) => Math.round(x * 10) / 10)).toEqual([-0.6, -0.8, 0])
  })

  test('a slot: along it nothing is lost up to its free travel', () => {
    const room: FastenerRoom = { axis, round: 1, travels: [[4, 0, 0]] }
    expect(roomLeft(room, [3.9, 0, 0]).by).toBeCloseTo(1, 12)
    expect(roomLeft(room, [4.5, 0, 0]).by).toBeCloseTo(0.5, 12)
    expect(roomLeft(room, [1, 0.25, 0]).by).toBeCloseTo(0.75, 12)
  })

  test('a slot across a slot leaves a rectangle, and what is round about it', () => {
    const room: FastenerRoom = {
      axis,
      round: 1,
      travels: [
        [4, 0, 0],
        [0, 2, 0],
      ],
    }
    expect(roomLeft(room, [0, 0, 0]).by).toBeCloseTo(3, 12)
    expect(roomLeft(room, [3.5, 0, 0]).by).toBeCloseTo(1.5, 12)
    expect(roomLeft(room, [4.3, 2.4, 0]).by).toBeCloseTo(0.5, 12)
  })

  test('two slots the same way make a longer one', () => {
    const room: FastenerRoom = {
      axis,
      round: 1,
      travels: [
        [4, 0, 0],
        [-2, 0, 0],
      ],
    }
    expect(roomLeft(room, [6, 0, 0]).by).toBeCloseTo(1, 12)
    expect(roomLeft(room, [7, 0, 0]).by).toBeCloseTo(0, 12)
  })

  test('against trying fastener places one by one: never more than is there, and all of it (seed 31)', () => {
    const random = seeded(31)
    let inside = 0
    for (let round = 0; round < 300; round++) {
      const way = random.unit()
      const [e1, e2] = squareTo(way)
      const flat = (reach: number): Vec3 => along(scale(e1, random.real(-reach, reach)), e2, random.real(-reach, reach))
      const travels = [flat(4), flat(4)].slice(0, random.pick([0, 1, 2, 2, 2]))
      const room: FastenerRoom = { axis: way, round: random.real(0.1, 2), travels }
      const offset = flat(4)
      const { by, towards } = roomLeft(room, offset)
      // The nearest place on what the travels span, on a fine grid: within half a step of the true one.
      const steps = 60
      const span: Vec3[] = [[0, 0, 0]]
      for (const travel of travels)
        span.splice(
          0,
          span.length,
          ...span.flatMap((at) =>
            Array.from({ length: 2 * steps + 1 }, (_, k) => add(at, scale(travel, k / steps - 1))),
          ),
        )
      const outside = Math.min(...span.map((at) => distance(at, offset)))
      if (by < room.round) expect(Math.abs(room.round - by - outside)).toBeLessThan(0.15)
      else {
        inside++
        expect(outside).toBeLessThan(0.15)
      }
      // A step the way that gains fastest gains the whole step, up to the middle.
      if (by < room.round - 1e-6) {
        const step = Math.min(0.01, room.round - by)
        expect(roomLeft(room, along(offset, towards, step)).by).toBeCloseTo(by + step, 9)
        expect(Math.abs(dot(towards, way))).toBeLessThan(1e-9)
      }
    }
    expect(inside).toBeGreaterThan(20)
  })
})
