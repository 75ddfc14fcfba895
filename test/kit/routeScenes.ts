import type { RouteObstacle, RouteProblem } from '../../core/pipe/route/problem.ts'
import { boxPolytope } from '../../core/shape/polytope.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import { along, type Vec3 } from '../../core/shape/vec.ts'

/** Corridors of known needed width, and the free case. A tube of 50 mm that keeps 5 mm off everything, bent on 60 mm. */
const radius = 25
const need = 5
const bendRadius = 60
/** What the centreline keeps: radius and clearance. */
const keep = radius + need

const counted = { exempt: { from: 0, to: 0 }, need, kind: 'keepOut' as const }

export function box(name: string, low: Vec3, high: Vec3): RouteObstacle {
  const middle: Vec3 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2]
  const made = boxPolytope(middle, [high[0] - low[0], high[1] - low[1], high[2] - low[2]])
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return { name, ...counted, solid: solidFrom([{ form: 'convex', body: made.value }]) }
}

export const wall = (name: string, point: Vec3, normal: Vec3): RouteObstacle => ({
  name,
  ...counted,
  solid: solidFrom([{ form: 'halfSpace', point, normal }]),
})

interface Room {
  readonly obstacles: readonly RouteObstacle[]
  readonly from: readonly [at: Vec3, direction: Vec3]
  readonly to: readonly [at: Vec3, direction: Vec3]
  readonly low: Vec3
  readonly high: Vec3
}

const problemIn = ({ obstacles, from, to, low, high }: Room, change: Partial<RouteProblem> = {}): RouteProblem => ({
  from: { at: from[0], direction: from[1], leastStraight: 30 },
  to: { at: to[0], direction: to[1], leastStraight: 30 },
  radius,
  bendRadius,
  leastStraight: 40,
  largestAngle: (120 * Math.PI) / 180,
  obstacles,
  box: { min: low, max: high },
  selfNeed: need,
  ...change,
})

/**
 * Width that a 90° bend of radius R needs between straight walls for a line that keeps ρ ≤ R off them: the arc's middle
 * passes the inner corner at ρ while both its ends keep ρ off the outer walls. Derived: ρ + R − (R − ρ)/√2.
 */
export const bendWidth = keep + bendRadius - (bendRadius - keep) / Math.SQRT2

/** Floor and roof 0.1 mm farther apart than the tube needs. */
const flat = (half: number): RouteObstacle[] => [
  wall('floor', [0, 0, -half], [0, 0, 1]),
  wall('roof', [0, 0, half], [0, 0, -1]),
]

/** One 90° bend in a corridor that is `spare` wider than it needs; the ports stand in rooms beside its ends. */
export function cornerScene(spare: number): RouteProblem {
  const w = bendWidth + spare
  const x = 200
  const y = w + 200
  const h = keep + 0.1
  return problemIn({
    obstacles: [
      ...flat(h),
      box('outer-right', [0, -1000, -h], [x + w + 60, 0, h]),
      box('outer-rear', [x + w, -1000, -h], [x + w + 1000, y, h]),
      box('inner', [0, w, -h], [x, y, h]),
      box('beside', [-1000, w + 60, -h], [1, y, h]),
    ],
    from: [
      [-140, -250, 0],
      [0, 1, 0],
    ],
    to: [
      [x + w + 250, y + 140, 0],
      [-1, 0, 0],
    ],
    low: [-260, -380, -h],
    high: [x + w + 350, y + 320, h],
  })
}

/** A rough way through it. */
export function cornerStart(spare: number): Vec3[] {
  const w = bendWidth + spare
  return [
    [-140, w / 2, 0],
    [200 + w / 2, w / 2, 0],
    [200 + w / 2, w + 340, 0],
  ]
}

/** Two 90° bends, one after the other, the other way round. */
export function doubleScene(spare: number): RouteProblem {
  const w = bendWidth + spare
  const x = 180
  const y = 2 * w + 160
  const h = keep + 0.1
  return problemIn({
    obstacles: [
      ...flat(h),
      box('low', [0, -1000, -h], [x + w + 180, 0, h]),
      box('first', [0, w, -h], [x, y, h]),
      box('second', [x + w, 0, -h], [x + w + 180, y - w, h]),
      box('high', [0, y, -h], [x + w + 180, y + 1000, h]),
    ],
    from: [
      [-140, -250, 0],
      [0, 1, 0],
    ],
    to: [
      [x + w + 320, y + 260, 0],
      [0, -1, 0],
    ],
    low: [-260, -380, -h],
    high: [x + w + 440, y + 380, h],
  })
}

export function doubleStart(spare: number): Vec3[] {
  const w = bendWidth + spare
  const y = 2 * w + 160
  return [
    [-140, w / 2, 0],
    [180 + w / 2, w / 2, 0],
    [180 + w / 2, y - w / 2, 0],
    [180 + w + 320, y - w / 2, 0],
  ]
}

/** A flat slot between two blocks, `spare` wider than the tube and its clearance, in a closed box. */
export function slotScene(spare: number): RouteProblem {
  const half = keep + spare / 2
  return problemIn({
    obstacles: [
      box('block-a', [0, -300, -300], [120, -half, 300]),
      box('block-b', [0, half, -300], [120, 300, 300]),
      wall('left', [0, -280, 0], [0, 1, 0]),
      wall('right', [0, 280, 0], [0, -1, 0]),
      wall('under', [0, 0, -280], [0, 0, 1]),
      wall('over', [0, 0, 280], [0, 0, -1]),
    ],
    from: [
      [-230, 120, 40],
      [1, 0, 0],
    ],
    to: [
      [350, -110, -60],
      [-1, 0, 0],
    ],
    low: [-260, -280, -280],
    high: [380, 280, 280],
  })
}

export const slotStart: Vec3[] = [
  [-150, 120, 40],
  [-60, 3, 20],
  [180, -2, -20],
  [270, -110, -60],
]

/** Nothing in the way: parallel ports, `aside` apart. */
export const freeScene = (ahead: number, aside: number): RouteProblem =>
  problemIn(
    {
      obstacles: [],
      from: [
        [0, 0, 0],
        [1, 0, 0],
      ],
      to: [
        [ahead, aside, 0],
        [-1, 0, 0],
      ],
      low: [-100, -200, -200],
      high: [ahead + 100, aside + 200, 200],
    },
    { bendRadius: 90, leastStraight: 50 },
  )

/**
 * Shortest curve–straight–curve between the ends of both least straights of a problem with ports in one plane that turns
 * one way and back, mm: an arc, the inner tangent of two circles, an arc. Source: the tangent construction of L. E. Dubins
 * (1957), written out for an S between parallel ports.
 */
export function sLength({ from, to, bendRadius: R }: RouteProblem): number {
  const a = along(from.at, from.direction, from.leastStraight)
  const b = along(to.at, to.direction, to.leastStraight)
  // In the frame of the first port, the second one ahead and aside.
  const ahead = b[0] - a[0]
  const aside = Math.abs(b[1] - a[1])
  // Centres of the circles: (0, R) and (ahead, aside − R).
  const apart = Math.hypot(ahead, aside - 2 * R)
  const straight = Math.sqrt(apart * apart - 4 * R * R)
  const turn = Math.atan2(aside - 2 * R, ahead) + Math.atan2(2 * R, straight)
  return from.leastStraight + to.leastStraight + 2 * R * turn + straight
}
