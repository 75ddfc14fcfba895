import { describe, expect, it } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import {
  cornerScene,
  cornerStart,
  doubleScene,
  doubleStart,
  freeScene,
  sLength,
  slotScene,
  slotStart,
} from '../../../test/kit/routeScenes.ts'
import { distance, type Vec3 } from '../../shape/vec.ts'
import { certify } from './certify.ts'
import { meetingCorner, polish, type PolishOptions, routeCost } from './polish.ts'
import type { Corners, RouteProblem } from './problem.ts'

const options: PolishOptions = { bendWeight: 100, stop: () => null }

const shaken = (corners: Corners, by: number, seed: number): Vec3[] => {
  const random = seeded(seed)
  return corners.map((p) => p.map((x) => x + random.real(-by, by)) as unknown as Vec3)
}

function found(problem: RouteProblem, start: Corners) {
  const corners = polish(problem, start, options)
  if (!corners) return null
  const certificate = certify(problem, corners)
  expect(certificate.reasons).toEqual([])
  expect(certificate.valid).toBe(true)
  return { corners, cost: routeCost(certificate, options), ...certificate }
}

/** Costs of corridors: the least of long runs of other methods, mm (a trial's figures, no source). */
const corridors = [
  { name: 'a corner', scene: cornerScene, start: cornerStart, bends: 3, cost: 1540.24 },
  { name: 'two corners', scene: doubleScene, start: doubleStart, bends: 4, cost: 1822.86 },
  { name: 'a slot', scene: slotScene, start: () => slotStart, bends: 4, cost: 1056.7 },
]

describe('corridors of known needed width', () => {
  it.each(corridors)('$name, 0.1 mm wider than needed: passed as cheaply as known', ({ scene, start, bends, cost }) => {
    const route = found(scene(0.1), start(0.1))
    expect(route?.bends).toBe(bends)
    expect(route?.cost).toBeLessThan(cost + 0.05)
    expect(route?.cost).toBeGreaterThan(cost - 1)
    // What is not needed is not kept: there is less than 0.1 mm for it anyway.
    expect(route?.leastMargin).toBeLessThan(0.051)
  })

  it.each(corridors)('$name, 0.1 mm narrower: never passed, from 12 rough starts', ({ scene, start }) => {
    for (let seed = 1; seed <= 12; seed++)
      expect(polish(scene(-0.1), shaken(start(-0.1), 2 * seed, seed), options)).toBeNull()
  })

  it('is found from starts that are off by some 10 mm', () => {
    let passed = 0
    for (let seed = 1; seed <= 8; seed++) if (found(cornerScene(0.1), shaken(cornerStart(0.1), 10, seed))) passed++
    expect(passed).toBeGreaterThanOrEqual(6)
  })
})

describe('with nothing in the way', () => {
  it.each([
    [600, 150],
    [800, 60],
    [520, 220],
  ])('the route is the shortest curve, straight, curve: ports %d ahead, %d aside', (ahead, aside) => {
    const problem = freeScene(ahead, aside)
    for (const start of [
      [
        [0.2 * ahead, 10, 5],
        [0.8 * ahead, aside, -8],
      ],
      [
        [0.2 * ahead, 10, 5],
        [0.4 * ahead, 0.3 * aside, 20],
        [0.6 * ahead, 0.6 * aside, -30],
        [0.8 * ahead, aside, -8],
      ],
    ] as Vec3[][]) {
      const route = found(problem, start)
      expect(route?.bends).toBe(2)
      expect(Math.abs((route?.length ?? 0) - sLength(problem))).toBeLessThan(1e-5)
    }
  })

  it('ports that face each other in line are joined by a straight, whatever it began with', () => {
    const problem = freeScene(500, 0)
    expect(polish(problem, [], options)).toEqual([])
    const start: Vec3[] = [
      [100, 20, 0],
      [250, 60, 30],
      [400, 10, 0],
    ]
    const corners = polish(problem, start, options)
    expect(corners && certify(problem, corners)).toMatchObject({ valid: true, bends: 0, length: 500 })
  })

  it('ports whose lines meet are joined by one bend there', () => {
    const problem: RouteProblem = {
      ...freeScene(500, 0),
      to: { at: [400, 500, 0], direction: [0, -1, 0], leastStraight: 30 },
    }
    expect(meetingCorner(problem)).toEqual([400, 0, 0])
    expect(polish(problem, [[1, 2, 3]], options)).toEqual([[400, 0, 0]])
    const start: Vec3[] = [
      [200, 0, 0],
      [390, 150, 10],
      [400, 350, 0],
    ]
    // Two bends cut the corner, and are worth it where a bend costs little.
    expect(found(problem, start)?.bends).toBe(2)
    expect(polish(problem, start, { ...options, bendWeight: 400 })).toEqual([[400, 0, 0]])
    const aside: RouteProblem = { ...problem, to: { ...problem.to, at: [400, 500, 9] } }
    expect(meetingCorner(aside)).toBeNull()
    expect(polish(aside, [[400, 0, 0]], options)).toBeNull()
    // Behind the port is no way.
    expect(meetingCorner({ ...problem, to: { ...problem.to, at: [-400, 500, 0] } })).toBeNull()
  })
})

describe('polishing', () => {
  it('comes to the same numbers again', () => {
    const [a, b] = [1, 2].map(() => polish(cornerScene(0.1), cornerStart(0.1), options))
    expect(a).not.toBeNull()
    expect(b).toEqual(a)
  })

  it('keeps the line out of balls', () => {
    const problem = freeScene(600, 150)
    const start: Vec3[] = [
      [150, 0, 0],
      [300, 75, 60],
      [450, 150, 0],
    ]
    const ball = { centre: [300, 75, 0] as Vec3, radius: 57 }
    const corners = polish(problem, start, { ...options, balls: [ball] })
    expect(corners).toHaveLength(3)
    const { centreline, valid } = certify(problem, corners ?? [])
    expect(valid).toBe(true)
    const nearest = Math.min(
      ...centreline.flatMap((piece) =>
        Array.from({ length: 401 }, (_, i) => {
          if (piece.kind === 'straight')
            return distance(ball.centre, piece.from.map((x, k) => x + (i / 400) * (piece.to[k] - x)) as unknown as Vec3)
          const a = (i / 400) * piece.angle
          const on = piece.centre.map(
            (c, k) => c + piece.radius * (Math.cos(a) * piece.x[k] + Math.sin(a) * piece.y[k]),
          )
          return distance(ball.centre, on as unknown as Vec3)
        }),
      ),
    )
    // Balls part routes, they are no part of the certificate: the search's own accuracy is enough.
    expect(nearest).toBeGreaterThan(57 - 0.05)
    expect(nearest).toBeLessThan(57.5)
  })

  it('is broken off where it is told to', () => {
    let asked = 0
    const stop = () => (++asked > 3 ? 'cancelled' : null)
    expect(polish(cornerScene(0.1), cornerStart(0.1), { ...options, stop })).toBeNull()
    expect(asked).toBeLessThan(6)
  })

  it('takes the bends apart where sharp ones cost more', () => {
    const problem: RouteProblem = {
      ...freeScene(500, 0),
      to: { at: [600, 300, 0], direction: [0, -1, 0], leastStraight: 30 },
    }
    const start: Vec3[] = [
      [300, 0, 0],
      [600, 150, 0],
    ]
    const sharpest = (weight: number) => {
      const corners = polish(problem, start, { ...options, ofBend: (angle) => weight * angle * angle }) ?? []
      const { centreline } = certify(problem, corners)
      return centreline.reduce((most, piece) => (piece.kind === 'arc' ? Math.max(most, piece.angle) : most), 0)
    }
    expect(sharpest(0)).toBeGreaterThan(1)
    expect(sharpest(1000)).toBeLessThan(sharpest(0) - 0.1)
  })

  it('respects the bender: no straight shorter, no angle larger, and never by rounding', () => {
    const problem: RouteProblem = { ...freeScene(420, 260), leastStraight: 120, largestAngle: Math.PI / 3 }
    const start: Vec3[] = [
      [150, 0, 0],
      [250, 260, 0],
    ]
    const route = found(problem, start)
    if (!route) throw new Error('no route')
    for (const piece of route.centreline) if (piece.kind === 'arc') expect(piece.angle).toBeLessThanOrEqual(Math.PI / 3)
    const [, , middle] = route.centreline
    expect(middle.kind === 'straight' && distance(middle.from, middle.to)).toBeGreaterThanOrEqual(120 - 1e-9)
  })
})
