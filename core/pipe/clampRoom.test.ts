import { describe, expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { rolled } from '../bay/joints.ts'
import type { ClampPlace } from '../bay/joints.ts'
import type { Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, cross, scale, unit } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { RoomObstacle } from './clampObstacles.ts'
import { clampRoom } from './clampRoom.ts'
import { holds } from './openRolls.ts'

/** Hose of 50 along +Y about the origin; the screw stands 29 from the axis, its tool 10 thick and 100 long. */
const place = (change: Partial<ClampPlace> = {}): ClampPlace => ({
  on: 'pipe',
  clamp: {
    id: 'worm',
    name: 'Worm drive',
    least: 40,
    most: 60,
    band: 9,
    height: 8,
    tool: { diameter: 8, length: 100 },
  },
  at: [0, 0, 0],
  axis: [0, 1, 0],
  screw: null,
  closesOn: 50,
  hoseDiameter: 50,
  along: 10,
  ...change,
})

const ball = (centre: Vec3, radius: number): Solid =>
  solidFrom([
    // A short thick cylinder whose sampled distance is as easy as a ball's.
    {
      form: 'convex',
      body: { kind: 'cylinder', from: add(centre, [0, -radius, 0]), to: add(centre, [0, radius, 0]), radius },
    },
  ])
const obstacle = (name: string, solid: Solid, change: Partial<RoomObstacle> = {}): RoomObstacle => ({
  name,
  solid,
  need: 0,
  comesOff: false,
  ...change,
})
const wall = (point: Vec3, normal: Vec3): Solid => solidFrom([{ form: 'halfSpace', point, normal }])

describe('a tool at a clamp', () => {
  test('nothing near: all round', () => {
    expect(clampRoom(place(), [])).toEqual({ reach: [[0, 360]], closedBy: [], takenOff: [], within: [], probes: 36 })
  })

  test('a clamp that names no tool is not judged', () => {
    const { tool: _, ...clamp } = place().clamp
    expect(clampRoom(place({ clamp }), [])).toBeNull()
  })

  test('a floor below leaves the rolls whose tool stays above it', () => {
    // Hand-worked: roll r puts the screw at angle r from +Z. The tool runs level at r = 0; with its far end 100 on it
    // meets a floor at Z −40 where 29 cos r − 100 sin r − 4 (cos r) falls to −40, on the side that points down.
    const room = clampRoom(place(), [obstacle('floor', wall([0, 0, -40], [0, 0, 1]))])
    expect(room?.closedBy).toEqual(['floor'])
    // With the screw at the side the tool can point up: free. With the screw below, 29 + 4 lie above −40: the tool is
    // level and free too, and between the two it always has a side that points up.
    expect(room?.reach).toEqual([[0, 360]])
  })

  test('between two walls, only level tools fit', () => {
    const walls = [obstacle('floor', wall([0, 0, -40], [0, 0, 1])), obstacle('roof', wall([0, 0, 40], [0, 0, -1]))]
    const room = clampRoom(place(), walls)
    // Level at roll 0: 33 of 40. Tilted by t downwards from there the underside's far end is lowest:
    // 25 cos t − 100 sin t = −40 is t = 36.6° + …: solved by hand as t = asin(40/103.08) + atan(25/100) = 36.87°.
    const lowest = (Math.asin(40 / Math.hypot(100, 25)) + Math.atan(25 / 100)) * (180 / Math.PI)
    // Tilted upwards the upper far end is highest: 33 cos t + 100 sin t = 40.
    expect(room?.reach).toHaveLength(2)
    const [second, first] = room?.reach ?? []
    expect(first[1] - first[0]).toBeLessThanOrEqual(2 * lowest + 1e-6)
    expect(first[1] - first[0]).toBeGreaterThan(2 * lowest - 2.5)
    expect((first[0] + first[1]) / 2).toBeCloseTo(360, -1)
    expect((second[0] + second[1]) / 2).toBeCloseTo(180, -1)
  })

  test('closed all round: none, and what closes it', () => {
    const ring = [0, 60, 120, 180, 240, 300].map((roll) => {
      const up = rolled([0, 1, 0], roll)
      return obstacle(`wall-${roll}`, wall(scale(up, 60), scale(up, -1)))
    })
    const room = clampRoom(place(), ring)
    expect(room?.reach).toEqual([])
    expect(room?.closedBy.length).toBeGreaterThan(2)
    expect(room?.closedBy.every((name) => name.startsWith('wall-'))).toBe(true)
  })

  test('the uncertainty of what is near counts', () => {
    const at = (need: number) =>
      clampRoom(place(), [obstacle('roof', wall([0, 0, 40], [0, 0, -1]), { need })], [], 0)?.reach
    expect(at(6.999)).toEqual([[0, 0]])
    expect(at(7.001)).toEqual([])
  })

  test('what comes off is taken off, and said where it must be', () => {
    const lid = wall([0, 0, 20], [0, 0, -1])
    const off = clampRoom(place(), [obstacle('lid', lid, { comesOff: true })], [], 0)
    expect(off).toMatchObject({ reach: [[0, 0]], takenOff: ['lid'] })
    expect(clampRoom(place(), [obstacle('lid', lid, { comesOff: true })])).toMatchObject({
      reach: [[0, 360]],
      takenOff: [],
    })
    expect(clampRoom(place(), [obstacle('lid', lid)], [], 0)).toMatchObject({ reach: [], closedBy: ['lid'] })
  })

  test('a block that the port sits in and the clamp stands in is told, not judged', () => {
    const block = obstacle('turbo', ball([0, 0, 0], 200))
    expect(clampRoom(place(), [block], ['turbo'])).toMatchObject({ reach: [[0, 360]], within: ['turbo'] })
    expect(clampRoom(place(), [block], [])).toMatchObject({ reach: [], within: [] })
    const beside = obstacle('turbo', wall([0, 0, 40], [0, 0, -1]))
    expect(clampRoom(place(), [beside], ['turbo'])?.within).toEqual([])
  })

  test('a tool thicker than the screw stands off begins beside the hose: its own pipe does not stop it', () => {
    const pipe = solidFrom([
      { form: 'convex', body: { kind: 'cylinder', from: [0, -50, 0], to: [0, 300, 0], radius: 24 } },
    ])
    const thick = place({ clamp: { ...place().clamp, tool: { diameter: 40, length: 80 } } })
    expect(clampRoom(thick, [obstacle('pipe', pipe)])?.reach).toEqual([[0, 360]])
  })
})

/** Least sampled distance from a tool's surface and inside to a cylinder along Y: no less than the gap. */
function sampledGap(roll: number, side: 1 | -1, centre: Vec3, radius: number): number {
  const up = rolled([0, 1, 0], roll)
  const way = scale(cross([0, 1, 0], up), side)
  let least = Infinity
  for (let k = 0; k <= 25; k++)
    for (let a = 0; a < 12; a++)
      for (const share of [0, 1]) {
        const across = add(scale(up, Math.cos((a * Math.PI) / 6)), scale([0, 1, 0], Math.sin((a * Math.PI) / 6)))
        const p = add(add(scale(up, 29), scale(way, 4 * k)), scale(across, 4 * share))
        const off = Math.max(0, Math.hypot(p[0] - centre[0], p[2] - centre[2]) - radius)
        const beyond = Math.max(0, Math.abs(p[1] - centre[1]) - radius)
        least = Math.min(least, Math.hypot(off, beyond))
      }
  return least
}
/** From a point of the tool to the nearest sample, mm: 2 along, 1 round the girth or 2 within the ends' discs. */
const sampling = 3

test('held to a plain search by sampled points, among random things (seed 42)', () => {
  const random = seeded(42)
  let [open, closed, claimed] = [0, 0, 0]
  for (let round = 0; round < 15; round++) {
    const things = Array.from({ length: 5 + random.int(4) }, (_, k) => {
      const out = random.real(45, 125)
      const way = unit([random.real(-1, 1), 0, random.real(-1, 1)])
      const centre = add(scale(way, out), [0, random.real(-15, 15), 0])
      return { centre, radius: random.real(5, 20), name: `thing-${k}` }
    })
    const need = random.real(0, 3)
    const room = clampRoom(
      place(),
      things.map(({ centre, radius, name }) => obstacle(name, ball(centre, radius), { need })),
    )
    const reach = room?.reach ?? []
    expect(room?.probes).toBeLessThan(250)
    for (let roll = 0; roll < 360; roll += 5) {
      const gaps = ([1, -1] as const).map((side) =>
        Math.min(...things.map(({ centre, radius }) => sampledGap(roll, side, centre, radius))),
      )
      const best = Math.max(...gaps)
      if (holds(reach, roll, roll)) {
        claimed++
        expect(best).toBeGreaterThanOrEqual(need - 1e-9)
      }
      if (roll % 10 === 0 && best > need + sampling) {
        open++
        expect(holds(reach, roll, roll)).toBe(true)
      }
      if (best < need) closed++
    }
  }
  expect(open).toBeGreaterThan(100)
  expect(closed).toBeGreaterThan(100)
  expect(claimed).toBeGreaterThan(500)
}, 30_000)
