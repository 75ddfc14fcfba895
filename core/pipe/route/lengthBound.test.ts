import { expect, test } from 'vitest'
import { freeRun, shortestRun } from '../../../test/kit/corridors.ts'
import { seeded } from '../../../test/kit/random.ts'
import { block, problemOf } from '../../../test/kit/routeProblems.ts'
import { centrelineLength, pointAt, roundCorners } from '../../shape/centreline.ts'
import { add, distance, scale, sub, unit, type Vec3 } from '../../shape/vec.ts'
import { certify } from './certify.ts'
import { keepersOf } from './keepers.ts'
import { leastArm, lengthBound } from './lengthBound.ts'
import type { RouteProblem } from './problem.ts'
import { routeProblem } from './setUp.ts'
import { Work } from './work.ts'

const boundOf = (problem: RouteProblem) => lengthBound(problem, keepersOf(problem), new Work(() => null))

test('two ports that look at each other: within 0.2 % of the shortest curve there is', () => {
  for (const [ahead, aside] of [
    [600, 150],
    [500, 20],
    [700, 300],
  ] as const) {
    const { bay, candidate, pipe } = freeRun(ahead, aside)
    const problem = routeProblem(bay, candidate, pipe, new Map())
    if (!problem.ok) throw new Error()
    const shortest = shortestRun(ahead, aside)
    const bound = boundOf(problem.value)
    expect(bound).toBeLessThan(shortest)
    expect(bound).toBeGreaterThan(shortest * (1 - 0.002))
  }
})

test('ports in one line: the straight between them, but for what their ends may deviate', () => {
  const bound = boundOf(
    problemOf(
      [
        [0, 0, 0],
        [1, 0, 0],
      ],
      [
        [400, 0, 0],
        [-1, 0, 0],
      ],
      [],
    ),
  )
  expect(bound).toBeLessThanOrEqual(400)
  // 0.1° over 30 mm at each end.
  expect(bound).toBeGreaterThan(400 - 2 * 30 * 0.00175 - 1e-3)
})

test('the point half-way keeps clear too: a wall across makes the bound longer', () => {
  const ends = [
    [
      [-200, 0, 0],
      [1, 0, 0],
    ],
    [
      [200, 0, 0],
      [-1, 0, 0],
    ],
  ] as const
  const free = boundOf(problemOf(ends[0], ends[1], []))
  const walled = problemOf(ends[0], ends[1], [block('wall', [-40, -150, -500], [40, 150, 500])])
  // Half-way it is beside the wall: 180 mm out, or before or behind it, which is farther from one of the ends.
  expect(boundOf(walled)).toBeGreaterThan(free + 5)
  expect(boundOf(walled)).toBeLessThan(2 * Math.hypot(200, 180) + 60)
})

test('behind an end a curve has to come round: a full turn to the point that it started from', () => {
  const arm = { at: [0, 0, 0] as Vec3, direction: [1, 0, 0] as Vec3, bendRadius: 50, slack: 0 }
  // Just beside the turning circle's far side: half a turn.
  expect(leastArm(arm, [0, 101, 0], 0)).toBeGreaterThan(50 * Math.PI - 0.3)
  expect(leastArm(arm, [0, 101, 0], 0)).toBeLessThan(50 * Math.PI + 1)
  // Far behind: more than half a turn and the way back; the tangent from a circle beside the line.
  const behind = leastArm(arm, [-400, 0, 0], 0)
  const turn = Math.PI + 2 * Math.atan(50 / 400)
  expect(behind).toBeGreaterThan(50 * turn + 400 - 1)
  expect(behind).toBeLessThan(50 * turn + 400 + 1e-6)
  // Straight ahead nothing is to be turned, whatever rounding says.
  for (const y of [0, 1e-12, -1e-12, 1e-9]) expect(leastArm(arm, [300, y, 0], 0)).toBeCloseTo(300, 6)
  // Within the circle only the distance is known.
  expect(leastArm(arm, [0, 50, 0], 0)).toBeCloseTo(50, 9)
})

test('seed 8: no curve of straights and arcs is shorter than its own bounds', () => {
  const random = seeded(8)
  let [tried, near] = [0, Infinity]
  for (let i = 0; i < 3000; i++) {
    const count = 3 + random.int(3)
    const points: Vec3[] = [[0, 0, 0]]
    for (let k = 0; k < count; k++) points.push(add(points[k], scale(random.unit(), random.real(60, 300))))
    const bendRadius = random.real(20, 80)
    const rounded = roundCorners(points, bendRadius)
    if (!rounded.ok) continue
    const last = points[points.length - 1]
    const [first, final] = [unit(sub(points[1], points[0])), unit(sub(points[count - 1], last))]
    const whole = centrelineLength(rounded.value)
    // To any point of the curve the arm is no longer than the curve.
    const arm = { at: points[0], direction: first, bendRadius, slack: 0 }
    for (let k = 1; k <= 8; k++) {
      const along = (whole * k) / 8
      const { point } = pointAt(rounded.value, along)
      expect(leastArm(arm, point, 0)).toBeLessThanOrEqual(along + 1e-6)
    }
    if (tried > 60) continue
    tried++
    const problem = problemOf([points[0], first], [last, final], [], {
      bendRadius,
      from: { at: points[0], direction: first, leastStraight: 0 },
      to: { at: last, direction: final, leastStraight: 0 },
      box: { min: [-2000, -2000, -2000], max: [2000, 2000, 2000] },
    })
    const bound = boundOf(problem)
    expect(bound).toBeLessThanOrEqual(whole + 1e-6)
    expect(bound).toBeGreaterThanOrEqual(distance(points[0], last) - 1)
    near = Math.min(near, whole / bound)
  }
  expect(tried).toBeGreaterThan(40)
  // Some of them are nearly as short as can be.
  expect(near).toBeLessThan(1.1)
})

test('ends that deviate as far as they are read as in line are counted in', () => {
  // A bend at once, then straight on: as short as can be. Its way in is 0.099° nearer to its way out than the end's own direction.
  for (const angle of [0.3, 0.8, 1.4]) {
    const off = (0.099 * Math.PI) / 180
    const setback = 60 * Math.tan((angle - off) / 2)
    const corner: Vec3 = [setback * Math.cos(off), setback * Math.sin(off), 0]
    const far: Vec3 = [corner[0] + 400 * Math.cos(angle), corner[1] + 400 * Math.sin(angle), 0]
    const problem = problemOf(
      [
        [0, 0, 0],
        [1, 0, 0],
      ],
      [far, sub(corner, far)],
      [],
      {
        from: { at: [0, 0, 0], direction: [1, 0, 0], leastStraight: 0 },
        to: { at: far, direction: unit(sub(corner, far)), leastStraight: 0 },
      },
    )
    const { valid, length: long } = certify(problem, [corner])
    expect(valid).toBe(true)
    expect(boundOf(problem)).toBeLessThanOrEqual(long)
  }
})
