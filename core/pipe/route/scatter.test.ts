import { describe, expect, it } from 'vitest'
import { distance } from '../../shape/vec.ts'
import { Field } from './field.ts'
import { alike } from './likeness.ts'
import type { RouteProblem } from './problem.ts'
import { scattered } from './scatter.ts'
import { weightsOf } from './weights.ts'
import { Work } from './work.ts'

const problem: RouteProblem = {
  from: { at: [0, 0, 0], direction: [1, 0, 0], leastStraight: 20 },
  to: { at: [500, 200, 60], direction: [0, -1, 0], leastStraight: 30 },
  radius: 20,
  bendRadius: 40,
  leastStraight: 30,
  largestAngle: 2.2,
  obstacles: [],
  box: { min: [-100, -250, -200], max: [650, 400, 200] },
  selfNeed: 0,
}
const weights = weightsOf({ outsideDiameter: 40, wall: 1, bendRadius: 40 }, {})
/** A wall with a hole round Y −100, between the ports. */
const wall = () =>
  new Field(problem.box, 20, ([x, y, z]) => Math.max(Math.abs(x - 250) - 40, 50 - Math.hypot(y + 100, z)))
const starts = (fewest: number) => [...scattered(problem, weights, wall(), fewest, new Work(() => null))]

describe('scattered starts', () => {
  const all = starts(2)

  it('have two to five bends, the fewest first, some of each', () => {
    const bends = all.map((corners) => corners.length)
    expect(bends).toEqual([...bends].sort((a, b) => a - b))
    expect(new Set(bends)).toEqual(new Set([2, 3, 4, 5]))
    expect(starts(4).every((corners) => corners.length >= 4)).toBe(true)
  })

  it('begin and end on the ports’ lines, beyond the straights that are needed there', () => {
    for (const corners of all) {
      const [first, last] = [corners[0], corners[corners.length - 1]]
      expect(first.slice(1)).toEqual([0, 0])
      expect(first[0]).toBeGreaterThanOrEqual(20)
      expect([last[0], last[2]]).toEqual([500, 60])
      expect(last[1]).toBeLessThanOrEqual(170)
    }
  })

  it('are different ways, and the first of three bends goes near the hole', () => {
    const three = all.filter((corners) => corners.length === 3)
    const lines = three.map((corners) => [problem.from.at, ...corners, problem.to.at])
    expect(lines.length).toBeGreaterThan(3)
    for (const [i, line] of lines.entries())
      for (const other of lines.slice(0, i)) expect(alike(line, other, 1)).toBe(false)
    const [, middle] = three[0]
    expect(distance(middle, [250, -100, 0])).toBeLessThan(200)
  })

  it('are the same again, and end where the search is broken off', () => {
    expect(JSON.stringify(starts(2))).toBe(JSON.stringify(all))
    expect([...scattered(problem, weights, wall(), 2, new Work(() => 'cancelled'))].length).toBeLessThan(all.length)
  })
})
