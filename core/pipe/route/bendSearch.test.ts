import { describe, expect, it } from 'vitest'
import { type Random, seeded } from '../../../test/kit/random.ts'
import { along, distance, type Vec3 } from '../../shape/vec.ts'
import { Bending, bendFits, bendSearch } from './bendSearch.ts'
import { Field } from './field.ts'
import type { Nodes } from './nodes.ts'
import type { RouteProblem } from './problem.ts'
import { type Roadmap, roadmapOf } from './roadmap.ts'
import { weightsOf } from './weights.ts'
import { Work } from './work.ts'

const problem: RouteProblem = {
  from: { at: [0, 0, 0], direction: [1, 0, 0], leastStraight: 20 },
  to: { at: [500, 200, 60], direction: [-1, 0, 0], leastStraight: 20 },
  radius: 20,
  bendRadius: 40,
  leastStraight: 30,
  largestAngle: 2.2,
  obstacles: [],
  box: { min: [-100, -200, -200], max: [600, 400, 200] },
  selfNeed: 0,
}
const weights = weightsOf({ outsideDiameter: 40, wall: 1, bendRadius: 40 }, {})
const work = new Work(() => null)
const free = new Field(problem.box, 20, () => 80)

const someNodes = (random: Random): Nodes => {
  const { from, to, box } = problem
  const onLine = ({ at, direction }: typeof from) => [0, 1, 2].map(() => along(at, direction, random.real(40, 220)))
  const inner = [0, 1, 2, 3, 4].map(
    () => [0, 1, 2].map((k) => random.real(box.min[k] / 2, box.max[k])) as unknown as Vec3,
  )
  const order = [undefined, undefined, undefined, undefined, ...inner.map((_, k) => k)]
  return { points: [from.at, ...onLine(from), ...inner, ...onLine(to), to.at], free: 4, far: 9, order }
}

/** Every way over a roadmap with at most so many bends, one by one. */
function allWays(map: Roadmap, most: number): { cost: number; bends: number }[] {
  const bending = new Bending(problem, weights, map)
  const ways: { cost: number; bends: number }[] = []
  const goOn = (edge: number, setback: number, cost: number, bends: number) => {
    if (map.ends[edge] === map.goal) ways.push({ cost, bends })
    if (bends === most) return
    const node = map.ends[edge]
    for (let next = map.first[node]; next < map.first[node + 1]; next++)
      if (bending.follows(edge, setback, next)) goOn(next, bending.setback, cost + bending.cost, bends + 1)
  }
  for (let edge = map.first[0]; edge < map.first[1]; edge++) goOn(edge, 0, map.lengths[edge], 0)
  return ways
}

const leastOf = (ways: { cost: number }[]) => Math.min(...ways.map(({ cost }) => cost))

describe('the cheapest way over a roadmap (seed 5)', () => {
  const random = seeded(5)

  it('is mostly the cheapest of all ways, and never more than 3 % dearer', () => {
    let same = 0
    for (let round = 0; round < 60; round++) {
      const map = roadmapOf(problem, free, someNodes(random), false, work)
      const ways = allWays(map, 5)
      expect(ways.length).toBeGreaterThan(0)
      const draft = bendSearch(problem, weights, map, () => false, work)
      const least = leastOf(ways)
      expect(draft?.cost).toBeGreaterThan(least - 1e-9)
      expect(draft?.cost).toBeLessThan(1.03 * least)
      if ((draft?.cost ?? Infinity) < least + 1e-9) same++
      expect(draft?.corners).toHaveLength((draft?.edges.length ?? 0) - 1)
    }
    expect(same).toBeGreaterThan(54)
  })

  it('is the cheapest for each number of bends, onward only', () => {
    let [same, all] = [0, 0]
    for (let round = 0; round < 60; round++) {
      const map = roadmapOf(problem, free, someNodes(random), true, work)
      const ways = allWays(map, 4)
      for (const { cost, corners } of bendFits(problem, weights, map, 4, work)) {
        const least = leastOf(ways.filter(({ bends }) => bends === corners.length))
        expect(cost).toBeGreaterThan(least - 1e-9)
        all++
        if (cost < least + 1e-9) same++
      }
    }
    expect(all).toBeGreaterThan(120)
    expect(same / all).toBeGreaterThan(0.9)
  })

  it('uses no edge that is banned, and says so where there is no other', () => {
    const map = roadmapOf(problem, free, someNodes(random), false, work)
    const draft = bendSearch(problem, weights, map, () => false, work)
    const [, second] = draft?.edges ?? []
    const other = bendSearch(problem, weights, map, (edge) => edge === second, work)
    expect(other?.edges).not.toContain(second)
    expect(bendSearch(problem, weights, map, () => true, work)).toBeNull()
  })

  it('leaves edges out that are blocked when asked exactly', () => {
    // A thin plate that the middles of cells know nothing of.
    const plate = new Field(problem.box, 20, ([x]) => (Math.abs(x - 251) < 6 ? -20 : 5))
    const map = roadmapOf(problem, plate, someNodes(random), false, work)
    expect(map.edges).toBeGreaterThan(10)
    expect(bendSearch(problem, weights, map, () => false, work)).toBeNull()
  })
})

describe('edges of a roadmap', () => {
  it('begin and end on the ports’ lines, and are no shorter than bends need', () => {
    const nodes = someNodes(seeded(6))
    const map = roadmapOf(problem, free, nodes, false, work)
    for (let edge = 0; edge < map.edges; edge++) {
      const [start, end] = [map.starts[edge], map.ends[edge]]
      expect(start === 0).toBe(end > 0 && end < nodes.free)
      expect(end === map.goal).toBe(start >= nodes.far)
      expect(map.lengths[edge]).toBeCloseTo(distance(nodes.points[start], nodes.points[end]), 12)
    }
  })
})
