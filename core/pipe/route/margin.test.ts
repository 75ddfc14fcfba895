import { describe, expect, it } from 'vitest'
import { box, wall } from '../../../test/kit/routeScenes.ts'
import { cubeMesh } from '../../../test/kit/tinyBay.ts'
import { seeded } from '../../../test/kit/random.ts'
import { roundCorners } from '../../shape/centreline.ts'
import { solidFrom } from '../../shape/solid.ts'
import { add, distance, identity, mix, turnMatrix, type Vec3 } from '../../shape/vec.ts'
import { marginAlong, marginAt } from './margin.ts'
import type { RouteObstacle, RouteProblem } from './problem.ts'

const radius = 10
const problemOf = (obstacles: readonly RouteObstacle[], exempt = 0): RouteProblem => ({
  from: { at: [-900, 0, 0], direction: [1, 0, 0], leastStraight: 0 },
  to: { at: [900, 0, 0], direction: [-1, 0, 0], leastStraight: 0 },
  radius,
  bendRadius: 40,
  leastStraight: 0,
  largestAngle: Math.PI,
  obstacles: obstacles.map((obstacle) => ({ ...obstacle, exempt: { from: exempt, to: exempt } })),
  box: { min: [-1000, -1000, -1000], max: [1000, 1000, 1000] },
  selfNeed: 0,
})
const obstacle = (name: string, solid: RouteObstacle['solid'], need = 0): RouteObstacle => ({
  name,
  kind: 'keepOut',
  solid,
  need,
  exempt: { from: 0, to: 0 },
})

/** Signed distance to a box, by cases of a point's sides: I. Quilez's formula, from memory. */
function toBox(p: Vec3, low: Vec3, high: Vec3): number {
  const q = p.map((x, k) => Math.max(low[k] - x, x - high[k]))
  const outside = Math.hypot(...q.map((x) => Math.max(x, 0)))
  return outside + Math.min(Math.max(...q), 0)
}
function toCylinder(p: Vec3, from: Vec3, height: number, r: number): number {
  const across = Math.hypot(p[0] - from[0], p[1] - from[1]) - r
  const along = Math.max(from[2] - p[2], p[2] - from[2] - height)
  return Math.min(Math.max(across, along), 0) + Math.hypot(Math.max(across, 0), Math.max(along, 0))
}

const low: Vec3 = [-40, -30, -20]
const high: Vec3 = [60, 50, 20]
const rod = { from: [150, -40, -60] as Vec3, height: 90, r: 25 }
const cube = { low: [-150, 0, -30] as Vec3, size: 60 }
const bodies = [
  {
    name: 'box',
    solid: box('box', low, high).solid,
    to: (p: Vec3) => toBox(p, low, high),
    middle: [10, 10, 0] as Vec3,
  },
  {
    name: 'wall',
    solid: wall('wall', [0, 0, -90], [0, 0, 1]).solid,
    to: (p: Vec3) => p[2] + 90,
    middle: [0, 0, -90] as Vec3,
  },
  {
    name: 'rod',
    solid: solidFrom([
      {
        form: 'convex',
        body: { kind: 'cylinder', from: rod.from, to: [150, -40, 30], radius: rod.r },
      },
    ]),
    to: (p: Vec3) => toCylinder(p, rod.from, rod.height, rod.r),
    middle: [150, -40, -15] as Vec3,
  },
  {
    name: 'mesh',
    solid: solidFrom([
      { form: 'mesh', mesh: cubeMesh([-10, -20, -30], 60), pose: { turn: identity, at: [-140, 20, 0] } },
    ]),
    to: (p: Vec3) => toBox(p, cube.low, cube.low.map((x) => x + cube.size) as unknown as Vec3),
    middle: [-120, 30, 0] as Vec3,
  },
] as const

describe('room at a point', () => {
  it.each(bodies)(
    'is the signed distance to a $name less need and radius, 500 points, seed 3',
    ({ name, solid, to, middle }) => {
      const random = seeded(3)
      const problem = problemOf([obstacle(name, solid, 4)])
      let inside = 0
      for (let i = 0; i < 500; i++) {
        const p = i % 2 ? random.point(250) : add(middle, random.point(60))
        const exact = to(p) - 4 - radius
        const { atLeast, atMost } = marginAt(problem, p)
        expect(atLeast).toBeLessThanOrEqual(exact + 1e-9)
        expect(atMost).toBeGreaterThanOrEqual(exact - 1e-9)
        expect(atMost - atLeast).toBeLessThan(1e-8)
        if (to(p) < 0) inside++
      }
      expect(inside).toBeGreaterThan(20)
      expect(inside).toBeLessThan(300)
    },
  )

  it('of all obstacles is the least, and names it', () => {
    const random = seeded(4)
    const problem = problemOf(bodies.map(({ name, solid }, k) => obstacle(name, solid, 3 * k)))
    const decided = new Set<number>()
    for (let i = 0; i < 500; i++) {
      const p = random.point(250)
      const all = bodies.map(({ to }, k) => to(p) - 3 * k - radius)
      const { atMost, obstacle: who } = marginAt(problem, p)
      expect(atMost).toBeCloseTo(Math.min(...all), 7)
      expect(all[who]).toBeCloseTo(Math.min(...all), 7)
      decided.add(who)
    }
    expect(decided.size).toBe(4)
  })

  it('beyond what is asked is only told to be beyond', () => {
    const random = seeded(5)
    const problem = problemOf(bodies.map(({ name, solid }) => obstacle(name, solid)))
    let far = 0
    for (let i = 0; i < 500; i++) {
      const p = random.point(250)
      const exact = Math.min(...bodies.map(({ to }) => to(p))) - radius
      const { atLeast, atMost } = marginAt(problem, p, 15)
      expect(atLeast).toBeLessThanOrEqual(Math.min(exact, 15) + 1e-9)
      if (exact < 14.9) expect(atMost).toBeCloseTo(exact, 7)
      else if (exact > 15.1) far++
      if (exact > 15.1) expect(atLeast).toBeGreaterThan(14.9)
    }
    expect(far).toBeGreaterThan(100)
  })

  it('of a bent tube holds the distance to points all over it', () => {
    const made = roundCorners(
      [
        [0, 0, -80],
        [0, 0, 60],
        [90, 20, 60],
      ],
      35,
    )
    if (!made.ok) throw new Error('corners')
    const problem = problemOf([obstacle('tube', solidFrom([{ form: 'round', centreline: made.value, radius: 12 }]))])
    const random = seeded(6)
    for (let i = 0; i < 200; i++) {
      const p = random.point(150)
      const { atLeast, atMost } = marginAt(problem, p)
      expect(atLeast).toBeLessThanOrEqual(atMost)
      // The middle of the tube is no nearer than its skin and 12 mm.
      const middle = Math.min(
        ...made.value.flatMap((piece) => [0, 0.25, 0.5, 0.75, 1].map((t) => toPiece(p, piece, t))),
      )
      expect(atMost).toBeLessThanOrEqual(middle - radius + 1e-9)
      expect(atLeast).toBeGreaterThanOrEqual(toLine(p, made.value) - 12 - radius - 1e-3)
    }
  })

  it('does not count what is exempt near a port', () => {
    const near = box('seat', [-940, -50, -50], [-880, 50, 50])
    expect(marginAt(problemOf([near]), [-890, 0, 0]).atMost).toBeLessThan(0)
    expect(marginAt(problemOf([near], 60), [-890, 0, 0])).toEqual({ atLeast: Infinity, atMost: Infinity, obstacle: -1 })
    expect(marginAt(problemOf([near], 60), [-830, 0, 0]).atMost).toBeCloseTo(50 - 5 - radius, 9)
  })
})

type Line = Extract<ReturnType<typeof roundCorners>, { ok: true }>['value']

function toPiece(p: Vec3, piece: Line[number], share: number): number {
  if (piece.kind === 'straight') return distance(p, mix(piece.from, piece.to, share))
  const a = share * piece.angle
  const on = piece.centre.map(
    (c, k) => c + piece.radius * (Math.cos(a) * piece.x[k] + Math.sin(a) * piece.y[k]),
  ) as unknown as Vec3
  return distance(p, on)
}
/** To 2,000 points a piece. */
const toLine = (p: Vec3, line: Line): number =>
  Math.min(...line.flatMap((piece) => Array.from({ length: 2001 }, (_, i) => toPiece(p, piece, i / 2000))))

describe('room along a straight', () => {
  const problem = problemOf(bodies.map(({ name, solid }, k) => obstacle(name, solid, 2 * k)))
  const apartFrom = (p: Vec3) => Math.min(...bodies.map(({ to }, k) => Math.max(0, to(p)) - 2 * k - radius))
  const room = (p: Vec3) => Math.min(...bodies.map(({ to }, k) => to(p) - 2 * k - radius))

  it('is the least at its points where it meets nothing, and bounds it, 200 straights, seed 8', () => {
    const random = seeded(8)
    let met = 0
    for (let i = 0; i < 200; i++) {
      const [a, b] = [random.point(200), random.point(200)]
      const points = Array.from({ length: 801 }, (_, k) => mix(a, b, k / 800))
      const plain = Math.min(...points.map(room))
      const surfaces = Math.min(...points.map((p) => apartFrom(p)))
      const { margin, atLeast } = marginAlong(problem, a, b)
      expect(atLeast).toBeLessThanOrEqual(surfaces + 1e-9)
      if (points.some((p) => bodies.some(({ to }) => to(p) < 0))) {
        met++
        expect(margin).toBeLessThan(-radius + 1e-9)
        continue
      }
      const step = distance(a, b) / 800
      expect(margin).toBeLessThanOrEqual(plain + 1e-9)
      expect(margin).toBeGreaterThan(plain - step)
    }
    expect(met).toBeGreaterThan(40)
    expect(met).toBeLessThan(160)
  })

  it('is the same in a turned and mirrored mesh', () => {
    const pose = { turn: turnMatrix([20, 40, 60]), at: [30, 10, -20] as Vec3 }
    const mirrored = {
      turn: pose.turn.map((x, i) => (i % 3 === 1 ? -x : x)) as unknown as typeof pose.turn,
      at: pose.at,
    }
    const [plain, mirror] = [pose, mirrored].map((each) =>
      problemOf([obstacle('m', solidFrom([{ form: 'mesh', mesh: cubeMesh([-10, -30, -30], 60), pose: each }]))]),
    )
    const random = seeded(9)
    // The cube is symmetric in its own Y, so mirroring it changes nothing.
    for (let i = 0; i < 100; i++) {
      const [a, b] = [random.point(120), random.point(120)]
      expect(marginAlong(mirror, a, b).atLeast).toBeCloseTo(marginAlong(plain, a, b).atLeast, 7)
    }
  })

  it('through an open shell has no room, on either side of it', () => {
    const shell = problemOf([
      obstacle(
        's',
        solidFrom([{ form: 'mesh', mesh: cubeMesh([0, 0, 0], 60, false), pose: { turn: identity, at: [0, 0, 0] } }]),
      ),
    ])
    // Just through the open side: 30 from all others. Through the far one: 5 beyond it.
    expect(marginAlong(shell, [30, 30, -40], [30, 30, 30]).margin).toBeCloseTo(30 - radius, 9)
    expect(marginAlong(shell, [30, 30, 30], [30, 30, 65]).margin).toBeCloseTo(-5 - radius, 9)
    expect(marginAlong(shell, [30, 30, 65], [30, 30, 30]).margin).toBeCloseTo(-5 - radius, 9)
  })
})
