import { describe, expect, test } from 'vitest'
import { cornerCorridor, slotCorridor } from '../../../test/kit/corridors.ts'
import { block, problemOf, rectangle, surface, wall } from '../../../test/kit/routeProblems.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { certify } from './certify.ts'
import { passageOf } from './passage.ts'
import { closedPassage } from './proofs.ts'
import type { RouteObstacle, RouteProblem } from './problem.ts'
import { routeProblem } from './setUp.ts'
import { Work } from './work.ts'

const prove = (problem: RouteProblem, budget?: number) => passageOf(problem, new Work(() => null), budget)

/** ⌀ 50 keeping 5 mm: the middle keeps 30 mm. */
const keep = 30

describe('a flat slot needs two radii and twice the clearance', () => {
  test.each([0.1, 0.01, -0.01, -0.1, -5])('%s mm to spare', (spare) => {
    const { bay, candidate, pipe } = slotCorridor(spare)
    const problem = routeProblem(bay, candidate, pipe, new Map())
    if (!problem.ok) throw new Error()
    const { passage, closed, everywhere } = prove(problem.value)
    expect(passage?.spareAtMost).toBeCloseTo(spare / 2, 6)
    expect(passage?.spareAtLeast).toBeLessThanOrEqual(spare / 2)
    expect(passage?.spareAtLeast).toBeGreaterThan(spare / 2 - 0.06)
    expect(passage?.between.toSorted()).toEqual(['lower', 'upper'])
    expect({ closed, everywhere }).toEqual({ closed: spare < 0, everywhere: spare < 0 })
    if (spare > 0) expect(passage?.spareAtLeast).toBeGreaterThanOrEqual(0)
  })
})

test('a corridor too narrow for the bend only is no closed passage', () => {
  // Floor and roof leave 0.1 mm: that is the narrowest all along.
  const { bay, candidate, pipe } = cornerCorridor(-0.1)
  const problem = routeProblem(bay, candidate, pipe, new Map())
  if (!problem.ok) throw new Error()
  const { passage, closed } = prove(problem.value)
  expect(closed).toBe(false)
  expect(passage?.spareAtMost).toBeCloseTo(0.1, 6)
  expect(passage?.spareAtLeast).toBeGreaterThanOrEqual(0.08)
  expect(passage?.between.toSorted()).toEqual(['floor', 'roof'])
})

const west: readonly [Vec3, Vec3] = [
  [-250, 0, 0],
  [1, 0, 0],
]
const east: readonly [Vec3, Vec3] = [
  [250, 0, 0],
  [-1, 0, 0],
]
const around: RouteObstacle[] = [
  wall('left', [0, -300, 0], [0, 1, 0]),
  wall('right', [0, 300, 0], [0, -1, 0]),
  wall('floor', [0, 0, -300], [0, 0, 1]),
  wall('roof', [0, 0, 300], [0, 0, -1]),
  wall('front', [-400, 0, 0], [1, 0, 0]),
  wall('rear', [400, 0, 0], [-1, 0, 0]),
]

/** A plate of four blocks across the room, with a window whose middle lies off everything's axes. */
function plate(width: number, height: number, [y, z]: readonly [number, number] = [61, -47]): RouteObstacle[] {
  return [
    block('beside-left', [-5, -320, -320], [5, y - width / 2, 320]),
    block('beside-right', [-5, y + width / 2, -320], [5, 320, 320]),
    block('under', [-5, y - width / 2, -320], [5, y + width / 2, z - height / 2]),
    block('over', [-5, y - width / 2, z + height / 2], [5, y + width / 2, 320]),
  ]
}

describe('a window in a plate', () => {
  test.each([
    [120, 200, 'beside-left beside-right'],
    [200, 90, 'over under'],
    [61, 300, 'beside-left beside-right'],
    [200, 59.9, 'over under'],
    [40, 300, 'beside-left beside-right'],
  ])('of %s by %s mm spares half its lesser side less what the middle keeps', (width, height, between) => {
    const { passage, closed, everywhere } = prove(problemOf(west, east, [...around, ...plate(width, height)]))
    const spare = Math.min(width, height) / 2 - keep
    expect(passage?.spareAtMost).toBeGreaterThanOrEqual(spare - 1e-9)
    expect(passage?.spareAtLeast).toBeLessThanOrEqual(spare + 1e-9)
    if (spare > -1) expect((passage?.spareAtMost ?? 0) - (passage?.spareAtLeast ?? 0)).toBeLessThan(0.02 + 0.02 * spare)
    expect({ closed, everywhere }).toEqual({ closed: spare < 0, everywhere: spare < 0 })
    expect(passage?.between.toSorted().join(' ')).toBe(between)
    expect(Math.abs(passage?.at[0] ?? 99)).toBeLessThan(8)
  })

  test('is where the passage is, also when the work is short: bounds hold whatever it is', () => {
    const problem = problemOf(west, east, [...around, ...plate(120, 200)])
    for (const budget of [0, 300, 3000, 10_000, 30_000]) {
      const { passage } = prove(problem, budget)
      expect(passage?.spareAtMost ?? Infinity).toBeGreaterThanOrEqual(30 - 1e-9)
      expect(passage?.spareAtLeast ?? -30).toBeLessThanOrEqual(30 + 1e-9)
    }
  })

  test('broken off at once it has proved nothing, and the same twice is the same', () => {
    const problem = problemOf(west, east, [...around, ...plate(50, 200)])
    const { passage, closed } = passageOf(problem, new Work(() => 'cancelled'))
    expect(closed && (passage?.spareAtMost ?? 0) >= 0).toBe(false)
    expect(prove(problem)).toEqual(prove(problem))
  })
})

/** An open shell about a point, of zero thickness, with a square hole in its −X side; walls in squares of `step`. */
function shellWithHole(centre: Vec3, half: number, hole: number, step: number) {
  const [x, y, z] = centre
  const triangles: (readonly [Vec3, Vec3, Vec3])[] = []
  const patch = (at: (u: number, v: number) => Vec3, u0: number, u1: number, v0: number, v1: number) => {
    const [nu, nv] = [Math.ceil((u1 - u0) / step), Math.ceil((v1 - v0) / step)]
    const point = (i: number, j: number) => at(u0 + ((u1 - u0) * i) / nu, v0 + ((v1 - v0) * j) / nv)
    for (let i = 0; i < nu; i++)
      for (let j = 0; j < nv; j++)
        triangles.push(...rectangle(point(i, j), point(i + 1, j), point(i + 1, j + 1), point(i, j + 1)))
  }
  for (const side of [-half, half]) {
    patch((u, v) => [x + u, y + side, z + v], -half, half, -half, half)
    patch((u, v) => [x + u, y + v, z + side], -half, half, -half, half)
  }
  patch((u, v) => [x + half, y + u, z + v], -half, half, -half, half)
  const front = (u: number, v: number): Vec3 => [x - half, y + u, z + v]
  const h = hole / 2
  if (h === 0) patch(front, -half, half, -half, half)
  else {
    patch(front, -half, -h, -half, half)
    patch(front, h, half, -half, half)
    patch(front, -h, h, -half, -h)
    patch(front, -h, h, h, half)
  }
  return surface('shell', triangles)
}

describe('a shell of triangles about one port', () => {
  const inside: readonly [Vec3, Vec3] = [
    [60, 20, -10],
    [0, 0, 1],
  ]
  test.each([
    [80, 400],
    [70, 60],
    [60.2, 400],
    [59.8, 400],
    [59.8, 70],
    [50, 80],
    [0, 50],
  ])('with a hole of %s mm in walls of squares of %s mm', (hole, step) => {
    const problem = problemOf(west, inside, [shellWithHole([60, 20, -10], 130, hole, step)])
    const spare = hole / 2 - keep
    const { passage, closed, everywhere } = prove(problem)
    expect({ closed, everywhere }).toEqual({ closed: spare < 0, everywhere: spare < 0 })
    expect(passage?.spareAtMost).toBeGreaterThanOrEqual(spare - 1e-9)
    expect(passage?.spareAtLeast).toBeLessThanOrEqual(spare + 1e-9)
    if (spare > 0) expect(passage?.spareAtLeast).toBeGreaterThanOrEqual(0)
    expect(passage?.between).toEqual(['shell'])
  })
})

describe('a room closed off by three slabs that overlap', () => {
  const slabs = (gap: number) => [
    block('slab-left', [20, -400, -400], [40, -90, 400]),
    block('slab-middle', [45, -100 + gap, -400], [65, 100, 400]),
    block('slab-right', [20, 90, -400], [40, 400, 400]),
  ]
  test('is closed, everywhere, and opens as one slab is moved aside by what the tube needs', () => {
    const shut = prove(problemOf(west, east, [...around, ...slabs(0)]))
    expect(shut).toMatchObject({ closed: true, everywhere: true })
    expect(shut.passage?.spareAtLeast).toBeGreaterThanOrEqual(-keep)
    // Edge to edge the way is √((gap − 10)² + 5²) wide: the slabs' edges are 5 mm apart in X.
    const wide = (gap: number) => Math.hypot(gap - 10, 5) / 2 - keep
    for (const gap of [65, 69, 70.5, 90]) {
      const { passage, closed } = prove(problemOf(west, east, [...around, ...slabs(gap)]))
      expect(closed).toBe(wide(gap) < 0)
      expect(passage?.spareAtMost).toBeGreaterThanOrEqual(wide(gap) - 1e-9)
      expect(passage?.spareAtLeast).toBeLessThanOrEqual(wide(gap) + 1e-9)
      expect(passage?.between.toSorted()).toEqual(['slab-left', 'slab-middle'])
    }
  })

  test('without side walls it is closed within the search box only', () => {
    const flat = around.filter(({ name }) => name === 'floor' || name === 'roof')
    const proof = prove(
      problemOf(west, east, [...flat, ...slabs(0)], { box: { min: [-300, -290, -270], max: [300, 290, 270] } }),
    )
    expect(proof).toMatchObject({ closed: true, everywhere: false })
  })
})

test('where nothing stands there is no narrowest place', () => {
  expect(prove(problemOf(west, east, []))).toMatchObject({ passage: null, closed: false })
})

describe('a port on a part', () => {
  const flush: readonly [Vec3, Vec3] = [
    [-250, 0, 0],
    [1, 0, 0],
  ]
  const part = (exempt: number) => ({
    ...block('part', [-320, -80, -80], [-250, 80, 80]),
    exempt: { from: exempt, to: 0 },
  })

  test('closes the way itself unless it is exempt there', () => {
    const shut = closedPassage(problemOf(flush, east, [part(0)]), new Work(() => null))
    // The pipe begins on it, 5 mm nearer than asked; what its end may deviate is taken off.
    expect(shut.closedBy).toMatchObject({ between: ['part'], everywhere: true })
    expect(shut.closedBy?.shortBy).toBeLessThanOrEqual(5)
    expect(shut.closedBy?.shortBy).toBeGreaterThan(4.8)
    const exempt = closedPassage(problemOf(flush, east, [part(75)]), new Work(() => null))
    expect({ closed: exempt.closed, by: exempt.closedBy }).toEqual({ closed: false, by: undefined })
  })

  test.each([30, 75, 200])(
    'exempt over %s mm, it does not close the way that the exact check finds clear',
    (exempt) => {
      // The middle keeps 31 mm, and the end straight, 30 mm long, ends nearer than that: but before the part's face.
      const problem = problemOf(flush, east, [{ ...part(exempt), need: 6 }])
      expect(certify(problem, []).valid).toBe(true)
      expect(closedPassage(problem, new Work(() => null)).closedBy).toBeUndefined()
    },
  )

  test('exempt, it still closes the way elsewhere', () => {
    // A tank that the port sits in the bottom of, open towards +X by 59 mm only.
    const cup = [
      block('cup-low', [-260, -300, -300], [0, -29.5, 300]),
      block('cup-high', [-260, 29.5, -300], [0, 300, 300]),
      ...around,
    ].map((each) => ({ ...each, exempt: { from: 75, to: 0 } }))
    const { closed, passage } = prove(problemOf(flush, east, cup))
    expect(closed).toBe(true)
    expect(passage?.spareAtMost).toBeCloseTo(-0.5, 6)
  })
})
