import { describe, expect, it } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { distance, type Vec3 } from '../../shape/vec.ts'
import { Field, fieldOf } from './field.ts'
import type { RouteProblem } from './problem.ts'

const box = { min: [-150, -100, -90], max: [170, 130, 110] } as const

describe('field of a room with balls in it (seed 31)', () => {
  const random = seeded(31)
  const balls = Array.from({ length: 6 }, () => ({ at: random.point(140), radius: random.real(15, 60) }))
  const room = (point: Vec3) => Math.min(...balls.map(({ at, radius }) => distance(point, at) - radius))
  const field = new Field(box, 12, (point, upTo) => Math.min(upTo, room(point)))

  it('says of every cell what it would say if each were asked: free, open, blocked', () => {
    let [free, blocked, open] = [0, 0, 0]
    // In an order that jumps about: what is told without asking depends on it, what it means does not.
    for (let i = 0; i < field.cells; i++) {
      const cell = (i * 7919) % field.cells
      const [told, truth] = [field.margin(cell), room(field.centre(cell))]
      if (truth >= field.reach + 1e-3) {
        expect(told).toBeGreaterThanOrEqual(field.reach - 1e-3)
        expect(told).toBeLessThanOrEqual(truth + 1e-3)
        free++
      } else if (truth < -field.reach - 12) {
        expect(told).toBeLessThan(-field.reach - 5)
        expect(told).toBeGreaterThanOrEqual(truth - 1e-3)
        blocked++
      } else {
        expect(told).toBeCloseTo(truth, 3)
        open++
      }
    }
    for (const count of [free, blocked, open]) expect(count).toBeGreaterThan(100)
    expect(field.asked).toBeLessThan(0.7 * field.cells)
  })

  it('holds each point in the cell that is nearest to it', () => {
    for (let i = 0; i < 500; i++) {
      const point = [0, 1, 2].map((k) => random.real(box.min[k], box.max[k])) as unknown as Vec3
      const cell = field.cellAt(...point)
      expect(distance(field.centre(cell), point)).toBeLessThanOrEqual(field.reach + 1e-9)
    }
    expect(field.cellAt(171, 0, 0)).toBe(-1)
    expect(field.near(0, -101, 0)).toBeLessThan(-500)
  })
})

describe('size of its cells', () => {
  const problem = (radius: number, half: number) =>
    ({ radius, box: { min: [-half, -half, -half], max: [half, half, half] } }) as unknown as RouteProblem

  it('goes with the diameter, 20 mm for a tube of 57 mm, and with the room where there is much of it', () => {
    expect(fieldOf(problem(28.5, 399), () => 0).size).toBeCloseTo(19.95, 9)
    expect(fieldOf(problem(9.5, 100), () => 0).size).toBeGreaterThan(6.4)
    expect(fieldOf(problem(9.5, 100), () => 0).size).toBeLessThan(6.66)
    expect(fieldOf(problem(9.5, 3000), () => 0).cells).toBeLessThan(165_000)
  })

  it('asks in the middle of a room thinner than a cell', () => {
    const flat = new Field({ min: [0, 0, -0.1], max: [100, 100, 0.1] }, 20, ([, , z]) => 1 - Math.abs(z))
    expect(flat.counts).toEqual([5, 5, 1])
    expect(flat.near(50, 50, 0.05)).toBe(1)
  })
})
