import { describe, expect, it } from 'vitest'
import type { Vec3 } from '../../shape/vec.ts'
import type { PassSide } from './answer.ts'
import { fewerBends } from './fewerBends.ts'
import { pointsAlong } from './likeness.ts'
import { bentAlong, type FoundRoute, Pool } from './pool.ts'
import type { Corners, RouteProblem } from './problem.ts'
import { weightsOf } from './weights.ts'

const problem: RouteProblem = {
  from: { at: [0, 0, 0], direction: [1, 0, 0], leastStraight: 20 },
  to: { at: [600, 100, 0], direction: [-1, 0, 0], leastStraight: 20 },
  radius: 20,
  bendRadius: 40,
  leastStraight: 30,
  largestAngle: 2,
  obstacles: [],
  box: { min: [0, -300, -300], max: [600, 300, 300] },
  selfNeed: 0,
}
const weights = weightsOf({ outsideDiameter: 40, wall: 1, bendRadius: 40 }, {})

/** Out to a height and back. */
const over = (height: number): Corners => [
  [100, 0, 0],
  [250, 50, height],
  [400, 50, height],
  [500, 100, 0],
]

function found(corners: Corners, sides: Record<string, PassSide>, cost?: number): FoundRoute {
  const bent = bentAlong(problem, weights, corners)
  if (!bent) throw new Error('cannot be rounded')
  const judged = { least: { margin: 1, keepOut: 'a' }, passes: [], sides: new Map(Object.entries(sides)) }
  return { ...bent, judged, points: pointsAlong(bent.pieces), ...(cost !== undefined && { cost }) }
}

describe('figures of a route', () => {
  it('are those of one bend, by hand: a quarter on 40 mm, 100 mm for it', () => {
    const to = { ...problem.to, at: [300, 200, 0] as Vec3, direction: [0, -1, 0] as Vec3 }
    const bent = bentAlong({ ...problem, to }, weights, [[300, 0, 0]])
    expect(bent?.bends).toBe(1)
    expect(bent?.length).toBeCloseTo(260 + 160 + 20 * Math.PI, 9)
    expect(bent?.cost).toBeCloseTo(100 + (bent?.length ?? 0), 9)
  })

  it('are none where the corners cannot be rounded', () => {
    expect(
      bentAlong(problem, weights, [
        [10, 0, 0],
        [20, 90, 0],
      ]),
    ).toBeNull()
  })
})

describe('pool of routes', () => {
  it('keeps the cheaper of two that are the same way', () => {
    const pool = new Pool(40)
    pool.add(found(over(100), {}, 900))
    pool.add(found(over(110), {}, 880))
    pool.add(found(over(105), {}, 890))
    expect(pool.offered(5).map(({ cost }) => cost)).toEqual([880])
    expect([pool.size, pool.best]).toEqual([1, 880])
    expect(pool.isFresh(found(over(120), {}).points)).toBe(false)
    expect(pool.isFresh(found(over(200), {}).points)).toBe(true)
  })

  it('offers first what differs in words, and lists by cost', () => {
    const pool = new Pool(40)
    pool.add(found(over(0), { can: 'below', tray: 'above' }, 800))
    pool.add(found(over(60), { can: 'below' }, 820))
    pool.add(found(over(120), { can: 'above', tray: 'above' }, 850))
    pool.add(found(over(180), { can: 'left' }, 900))
    expect(pool.counts()).toEqual({ different: 4, inWords: 3 })
    expect(pool.offered(3).map(({ cost }) => cost)).toEqual([800, 850, 900])
    expect(pool.offered(4).map(({ cost }) => cost)).toEqual([800, 820, 850, 900])
    expect(pool.offered(1).map(({ cost }) => cost)).toEqual([800])
  })

  it('offers none that is alike to a cheaper one, also where it came between two others', () => {
    const pool = new Pool(40)
    pool.add(found(over(0), { can: 'below' }, 800))
    pool.add(found(over(75), { can: 'above' }, 850))
    // Alike to both: it takes the place of the first that it is cheaper than, and the other is then no other way.
    pool.add(found(over(38), { can: 'above' }, 790))
    expect(pool.offered(5).map(({ cost }) => cost)).toEqual([790])
  })
})

describe('leaving corners out', () => {
  const corners: Corners = [
    [100, 0, 0],
    [200, 40, 50],
    [300, 50, -20],
    [400, 60, 50],
    [500, 100, 0],
  ]

  it('goes on while it grows cheaper, and keeps the corners on the ports’ lines', () => {
    const fewer = fewerBends(problem, weights, corners, 0, (each) => each)
    expect(fewer).toEqual([corners[0], corners[4]])
  })

  it('stops where no fewer are possible, or nothing comes of it', () => {
    const asked: number[] = []
    const polish = (each: Corners) => {
      asked.push(each.length)
      return each
    }
    expect(fewerBends(problem, weights, corners, 4, polish)).toHaveLength(4)
    expect(Math.min(...asked)).toBe(4)
    expect(fewerBends(problem, weights, corners, 0, () => null)).toBe(corners)
  })

  it('keeps a bend that saves more than it costs', () => {
    // Straight between the outer corners is longer by far: what is left out comes back with a detour.
    const dear = (each: Corners) => (each.length < 5 ? [each[0], [250, 280, 280], ...each.slice(1)] : each) as Corners
    expect(fewerBends(problem, weights, corners, 0, dear)).toEqual(corners)
  })
})
