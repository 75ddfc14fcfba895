import { describe, expect, it } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { routeRoom } from '../../../test/kit/routeRooms.ts'
import { box, cornerScene, freeScene, wall } from '../../../test/kit/routeScenes.ts'
import { cross, distance, dot, length, sub, unit, type Vec3 } from '../../shape/vec.ts'
import { ledger } from '../../verdict/ledger.ts'
import { certify } from './certify.ts'
import { polish } from './polish.ts'
import type { Corners, RouteProblem } from './problem.ts'
import { routeProblem } from './setUp.ts'
import { withRoute } from './withRoute.ts'

const noMeshes = new Map()

describe('a route and the ledger', () => {
  it('say the same of any corners, and what is polished clears: 60 random rooms, seed 11', () => {
    const random = seeded(11)
    const said = { valid: 0, clears: 0, short: 0, none: 0 }
    for (let k = 0; k < 60; k++) {
      const { bay, pipe, start } = routeRoom(random)
      const made = routeProblem(bay, undefined, pipe, noMeshes)
      if (!made.ok) throw new Error(JSON.stringify(made.faults))
      const polished = polish(made.value, start, { bendWeight: 100, stop: () => null })
      if (!polished) said.none++
      for (const corners of polished ? [start, polished] : [start]) {
        const certificate = certify(made.value, corners)
        if (certificate.reasons.some(({ kind }) => kind === 'rounding')) continue
        const route = { path: corners, bendRadius: made.value.bendRadius }
        const told = ledger(withRoute(bay, bay.candidates[0].id, pipe, route), undefined, noMeshes)
        if (!told.ok) throw new Error(JSON.stringify(told.faults))
        const rows = told.value.pairs.filter((pair) => pair.part === 'pipe-run' || pair.keepOut === 'pipe-run')
        const least = rows.reduce((a, b) => (a.margin <= b.margin ? a : b))
        expect(certificate.leastMargin).toBeCloseTo(least.margin, 7)
        const clears = rows.every(({ verdict }) => verdict === 'clears')
        expect(certificate.reasons.every(({ kind }) => kind !== 'clearance')).toBe(clears)
        if (corners === polished) {
          expect(certificate.valid).toBe(true)
          said.valid++
        }
        if (clears) said.clears++
        else said.short++
      }
    }
    expect(said.valid).toBeGreaterThan(18)
    expect(said.none).toBeGreaterThan(3)
    expect(said.short).toBeGreaterThan(18)
  })
})

/** Rings of the tube's skin about its middle, rebuilt from the corners by turning, not by the program's own pieces. */
function skin(points: readonly Vec3[], bendRadius: number, radius: number, step: number): Vec3[] {
  const out: Vec3[] = []
  const ring = (at: Vec3, way: Vec3) => {
    const side = unit(cross(way, Math.abs(way[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]))
    const up = cross(way, side)
    for (let k = 0; k < 96; k++) {
      const [c, s] = [radius * Math.cos((k * Math.PI) / 48), radius * Math.sin((k * Math.PI) / 48)]
      out.push(at.map((x, i) => x + c * side[i] + s * up[i]) as unknown as Vec3)
    }
  }
  let at = points[0]
  for (let i = 1; i < points.length; i++) {
    const way = unit(sub(points[i], points[i - 1]))
    const next = i + 1 < points.length ? unit(sub(points[i + 1], points[i])) : way
    const angle = Math.acos(Math.min(1, Math.max(-1, dot(way, next))))
    const setback = bendRadius * Math.tan(angle / 2)
    const end = points[i].map((x, k) => x - setback * way[k]) as unknown as Vec3
    const straight = distance(at, end)
    const n = Math.ceil(straight / step)
    for (let k = 0; k <= n; k++) ring(at.map((x, j) => x + (k / n) * (end[j] - x)) as unknown as Vec3, way)
    if (!(angle > 0)) continue
    const axis = unit(cross(way, next))
    const inward = cross(axis, way)
    const parts = Math.ceil((bendRadius * angle) / step)
    for (let k = 0; k <= parts; k++) {
      const a = (k / parts) * angle
      const here = end.map(
        (x, j) => x + bendRadius * ((1 - Math.cos(a)) * inward[j] + Math.sin(a) * way[j]),
      ) as unknown as Vec3
      ring(here, way.map((x, j) => Math.cos(a) * x + Math.sin(a) * inward[j]) as unknown as Vec3)
    }
    at = points[i].map((x, k) => x + setback * next[k]) as unknown as Vec3
  }
  return out
}

describe('the certificate', () => {
  it('bounds the gap of points all over the tube, and is as good as they are near: 30 routes among boxes', () => {
    const random = seeded(12)
    let near = 0
    for (let k = 0; k < 30; k++) {
      const blocks = Array.from({ length: 3 }, () => {
        const low: Vec3 = [random.real(50, 400), random.real(-250, 150), random.real(-250, 150)]
        return { low, high: low.map((x) => x + random.real(40, 150)) as unknown as Vec3 }
      })
      const problem: RouteProblem = {
        ...freeScene(600, 150),
        bendRadius: 60,
        obstacles: [...blocks.map(({ low, high }, i) => box(`b${i}`, low, high)), wall('w', [0, 0, -150], [0, 0, 1])],
      }
      const corners: Corners = [
        [150, 0, 0],
        random.point(150).map((x, i) => x + [300, 60, 0][i]) as unknown as Vec3,
        [450, 150, 0],
      ]
      const { leastMargin, reasons } = certify(problem, corners)
      if (reasons.some(({ kind }) => kind === 'rounding')) continue
      const points = skin([problem.from.at, ...corners, problem.to.at], 60, problem.radius, 1.5)
      const gap = Math.min(
        ...points.map((p) =>
          Math.min(
            p[2] + 150,
            ...blocks.map(({ low, high }) => Math.hypot(...p.map((x, i) => Math.max(low[i] - x, 0, x - high[i])))),
          ),
        ),
      )
      expect(leastMargin).toBeLessThanOrEqual(Math.max(0, gap) - 5 + 1e-9)
      // Rings of 96 points 1.5 mm apart lie within 0.05 mm of the skin; an edge between two rings may be nearer.
      if (gap > 0.5) {
        near++
        expect(leastMargin).toBeGreaterThan(gap - 5 - 0.1)
      }
    }
    expect(near).toBeGreaterThan(8)
  })

  const problem: RouteProblem = { ...freeScene(600, 150), obstacles: [] }
  const codes = (corners: Corners, change: Partial<RouteProblem> = {}) =>
    certify({ ...problem, ...change }, corners).reasons.map(({ kind }) => kind)

  it('names what is too short, too sharp or askew, with what is missing', () => {
    const good: Corners = [
      [150, 0, 0],
      [450, 150, 0],
    ]
    expect(certify(problem, good)).toMatchObject({ valid: true, leastMargin: Infinity, obstacle: null, bends: 2 })
    const setback = 90 * Math.tan(Math.atan2(150, 300) / 2)
    const straight = length([300, 150, 0]) - 2 * setback
    const tooShort = certify({ ...problem, leastStraight: straight + 2 }, good)
    expect(tooShort.reasons).toHaveLength(1)
    expect(tooShort.reasons[0].kind).toBe('straight')
    expect(tooShort.reasons[0].missing).toBeCloseTo(2, 9)
    const end = { ...problem.from, leastStraight: 150 - setback + 0.5 }
    expect(certify({ ...problem, from: end }, good).reasons).toMatchObject([{ kind: 'end-straight' }])
    expect(certify({ ...problem, from: end }, good).reasons[0].missing).toBeCloseTo(0.5, 9)
    const sharp = certify({ ...problem, largestAngle: (25 * Math.PI) / 180 }, good)
    expect(sharp.reasons.map(({ kind }) => kind)).toEqual(['angle', 'angle'])
    expect(sharp.reasons[0].missing).toBeCloseTo((Math.atan2(150, 300) * 180) / Math.PI - 25, 9)
    expect(codes([[150, 10, 0], good[1]])).toEqual(['direction'])
    expect(codes([good[0], [450, 150, 5]])).toEqual(['direction'])
    expect(codes([[-400, 0, 0], [-400, 500, 0], [450, 500, 0], good[1]])).toContain('direction')
    expect(codes([good[0], [160, 0, 0], [160, 20, 0], good[1]])).toEqual(['rounding'])
  })

  it('counts a corner that turns nothing for none', () => {
    const straight: RouteProblem = { ...problem, to: { ...problem.to, at: [600, 0, 0] } }
    expect(certify(straight, [[300, 0, 0]])).toMatchObject({ valid: true, bends: 0, length: 600 })
  })

  it('tells how short each obstacle is that falls short', () => {
    const { reasons, valid, leastMargin, obstacle } = certify(cornerScene(-10), [
      [-140, 30, 0],
      [232, 30, 0],
      [232, 400, 0],
    ])
    expect(valid).toBe(false)
    const short = reasons.filter(({ kind }) => kind === 'clearance')
    expect(short.length).toBeGreaterThan(0)
    expect(Math.max(...short.map(({ missing }) => missing))).toBe(-leastMargin)
    expect(short.find(({ missing }) => missing === -leastMargin)?.obstacle).toBe(obstacle)
  })
})

describe('a pipe and itself', () => {
  const problem: RouteProblem = {
    ...freeScene(0, 0),
    from: { at: [0, 0, 0], direction: [1, 0, 0], leastStraight: 0 },
    leastStraight: 0,
    largestAngle: Math.PI,
    bendRadius: 60,
    radius: 25,
    selfNeed: 5,
    obstacles: [],
  }
  /** Out, up by `apart`, and back over itself. */
  const hairpin = (apart: number, need: number) =>
    certify({ ...problem, selfNeed: need, to: { at: [0, apart, 0], direction: [1, 0, 0], leastStraight: 0 } }, [
      [300, 0, 0],
      [300, apart, 0],
    ])

  it('keeps between the legs of a hairpin what is asked, and no less', () => {
    expect(hairpin(130, 79.8)).toMatchObject({ valid: true })
    expect(hairpin(130, 80.1).reasons).toMatchObject([{ kind: 'self' }])
    expect(hairpin(130, 80.1).reasons[0].missing).toBeGreaterThan(0.1)
    expect(hairpin(130, 80.1).reasons[0].missing).toBeLessThan(0.1 + 0.002 * 60)
  })

  it('does not hold one bend against itself, nor legs that only pass on', () => {
    const to = { at: [400, 400, 0] as Vec3, direction: [0, -1, 0] as Vec3, leastStraight: 0 }
    expect(certify({ ...problem, selfNeed: 60, to }, [[400, 0, 0]])).toMatchObject({ valid: true })
    const wave: Corners = [
      [150, 0, 0],
      [250, 120, 0],
      [400, 120, 0],
      [500, 0, 0],
    ]
    const far = { at: [700, 0, 0] as Vec3, direction: [-1, 0, 0] as Vec3, leastStraight: 0 }
    expect(certify({ ...problem, selfNeed: 40, to: far }, wave).reasons).toEqual([])
  })

  it('is refused where it winds round into itself', () => {
    const to = { at: [100, -200, 0] as Vec3, direction: [0, 1, 0] as Vec3, leastStraight: 0 }
    const loop: Corners = [
      [300, 0, 0],
      [300, 200, 0],
      [100, 200, 0],
    ]
    const { reasons } = certify({ ...problem, to }, loop)
    expect(reasons).toMatchObject([{ kind: 'self' }])
    // The middles cross: all of two radii and the clearance is missing.
    expect(reasons[0].missing).toBeCloseTo(55, 6)
    const aside = loop.map(([x, y], k): Vec3 => [x, y, k === 0 ? 0 : 60])
    expect(certify({ ...problem, to: { ...to, at: [100, -200, 60] } }, aside).reasons).toEqual([])
  })
})
