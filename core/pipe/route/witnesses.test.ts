import { describe, expect, it } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { routeRoom } from '../../../test/kit/routeRooms.ts'
import { box, freeScene } from '../../../test/kit/routeScenes.ts'
import { centrelineLength, pieceLength, pointAlong, roundCorners } from '../../shape/centreline.ts'
import { distance, type Vec3 } from '../../shape/vec.ts'
import { BentLine, unknownsOf } from './bentLine.ts'
import { certify } from './certify.ts'
import type { RouteProblem } from './problem.ts'
import { routeProblem } from './setUp.ts'
import { WitnessFinder } from './witnesses.ts'

const problem: RouteProblem = { ...freeScene(600, 150), bendRadius: 60 }
const corners = (random: ReturnType<typeof seeded>, between: number): Vec3[] => [
  [random.real(100, 180), 0, 0],
  ...Array.from({ length: between }, (_, k): Vec3 => {
    const [x, y, z] = random.point(60)
    return [190 + (220 * (k + 1)) / (between + 1) + x / 4, 75 + y, z]
  }),
  [600 - random.real(100, 180), 150, 0],
]

describe('a bent line by its unknowns', () => {
  it('is the centreline that its corners round to, piece by piece: 200 lines, seed 21', () => {
    const random = seeded(21)
    const point = new Float64Array(3)
    let laid = 0
    for (let k = 0; k < 200; k++) {
      const points = corners(random, random.int(3))
      const line = new BentLine(problem, points.length).lay(unknownsOf(problem, points))
      expect(line.corners()).toEqual(points)
      const rounded = roundCorners([problem.from.at, ...points, problem.to.at], 60)
      // Lines whose bends want more than there is are for the search only.
      if (!rounded.ok) {
        expect(Math.min(...line.straights)).toBeLessThan(1e-9)
        continue
      }
      laid++
      expect(line.length).toBeCloseTo(centrelineLength(rounded.value), 9)
      expect(rounded.value).toHaveLength(line.pieces)
      rounded.value.forEach((piece, i) => {
        expect(line.pieceLength(i)).toBeCloseTo(pieceLength(piece), 9)
        for (const share of [0, 0.3, 1]) {
          line.pointOn(i, share, point)
          expect(distance([point[0], point[1], point[2]], pointAlong(piece, share).point)).toBeLessThan(1e-9)
        }
      })
    }
    expect(laid).toBeGreaterThan(60)
  })

  it('finds the nearest and the farthest place of an arc, its ends included', () => {
    const random = seeded(22)
    const point = new Float64Array(3)
    const line = new BentLine(problem, 2).lay([150, 150])
    for (let k = 0; k < 200; k++) {
      const [x, y, z] = random.point(300)
      const at = (share: number): number => {
        line.pointOn(1, share, point)
        return Math.hypot(point[0] - x, point[1] - y, point[2] - z)
      }
      const along = (share: number): number => {
        line.pointOn(1, share, point)
        return point[0] * x + point[1] * y + point[2] * z
      }
      const shares = Array.from({ length: 401 }, (_, i) => 0.2 + (0.6 * i) / 400)
      const [near, far] = [line.nearestOnArc(1, x, y, z, 0.2, 0.8), line.farthestOnArc(1, x, y, z, 0.2, 0.8)]
      expect(at(near)).toBeLessThanOrEqual(Math.min(...shares.map(at)) + 1e-9)
      expect(along(far)).toBeGreaterThanOrEqual(Math.max(...shares.map(along)) - 1e-9)
    }
  })

  it('keeps corners of the ends before their ports', () => {
    const x = unknownsOf(problem, [
      [-80, 3, 0],
      [900, 150, 7],
    ])
    expect([...x]).toEqual([6, 6])
  })
})

describe('witnesses', () => {
  const found = (room: RouteProblem, line: BentLine, band = 60) =>
    new WitnessFinder(room).find(line, band, new Float64Array(room.obstacles.length))

  it('have the margin of the exact check as their least: 40 rooms, seed 23', () => {
    const random = seeded(23)
    let compared = 0
    for (let k = 0; k < 40; k++) {
      const { bay, pipe, start } = routeRoom(random)
      const made = routeProblem(bay, undefined, pipe, new Map())
      if (!made.ok) throw new Error(JSON.stringify(made.faults))
      const line = new BentLine(made.value, start.length).lay(unknownsOf(made.value, start))
      const certificate = certify(made.value, start)
      const { least } = found(made.value, line, 200)
      if (certificate.reasons.some(({ kind }) => kind === 'rounding') || certificate.leastMargin > 100) continue
      // Of a pipe through something the depth is a guess, and the check says only that it meets.
      const keep = made.value.obstacles.find(({ name }) => name === certificate.obstacle)?.need ?? 0
      if (certificate.leastMargin < 1 - keep) {
        expect(least).toBeLessThan(1)
        continue
      }
      compared++
      // A bend is seen from its chords, another pipe's bend from some of its own; the ends as if they were round.
      expect(least).toBeLessThan(certificate.leastMargin + 0.3)
      expect(least).toBeGreaterThan(certificate.leastMargin - 0.3)
    }
    expect(compared).toBeGreaterThan(12)
  })

  it('foretell what a small step brings: first order in every unknown, 30 lines among boxes, seed 24', () => {
    const random = seeded(24)
    const room: RouteProblem = {
      ...problem,
      obstacles: [box('a', [200, 60, -100], [300, 130, -20]), box('b', [250, -60, 30], [420, 40, 200])],
    }
    let moved = 0
    for (let k = 0; k < 30; k++) {
      const points = corners(random, 1)
      const x = unknownsOf(room, points)
      const line = new BentLine(room, points.length).lay(x)
      const { near, least } = found(room, line)
      if (least < -25) continue
      const step = 1e-3
      for (let unknown = 0; unknown < x.length; unknown++) {
        const next = x.slice()
        next[unknown] += step
        const there = new BentLine(room, points.length).lay(next)
        const [p, q] = [new Float64Array(3), new Float64Array(3)]
        const foretold = Math.min(
          ...near.map(({ piece, share, nx, ny, nz, margin }) => {
            line.pointOn(piece, share, p)
            there.pointOn(piece, share, q)
            return margin + (q[0] - p[0]) * nx + (q[1] - p[1]) * ny + (q[2] - p[2]) * nz
          }),
        )
        const came = found(room, there).least
        expect(Math.abs(came - foretold)).toBeLessThan(2e-6)
        if (Math.abs(came - least) > 1e-4) moved++
      }
    }
    expect(moved).toBeGreaterThan(30)
  })

  it('count neither what is exempt near a port nor the half of a part that is', () => {
    const seat = box('seat', [-40, -60, -60], [35, 60, 60])
    const line = new BentLine(problem, 2).lay([150, 150])
    const near = (from: number) => {
      const room = { ...problem, obstacles: [{ ...seat, exempt: { from, to: 0 } }] }
      return found(room, line).least
    }
    expect(near(0)).toBeLessThan(-30)
    expect(near(70)).toBeCloseTo(35 - 25 - 5, 9)
    expect(near(90)).toBeCloseTo(55 - 25 - 5, 6)
    expect(near(1e4)).toBe(Infinity)
  })

  it('of a ball are its nearest places, and one through the middle has a way out', () => {
    const finder = new WitnessFinder(problem, [{ centre: [50, 0, 0], radius: 40 }])
    const line = new BentLine(problem, 2).lay([150, 150])
    const { near, least } = finder.find(line, 10, new Float64Array(0))
    expect(least).toBe(-40)
    const [deepest] = [...near].sort((a, b) => a.margin - b.margin)
    expect(Math.hypot(deepest.ny, deepest.nz)).toBeCloseTo(1, 12)
  })
})
