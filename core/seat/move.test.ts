import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { distance, placed, type Vec3 } from '../shape/vec.ts'
import type { Move, SeatPath } from './answer.ts'
import { Motion } from './motion.ts'
import { endOf, poseAt, poseOf, posesOf, reversed, standingOf, startOf } from './move.ts'

const corners: readonly Vec3[] = [
  [0, 0, 0],
  [300, 0, 0],
  [0, 300, 0],
  [0, 0, 300],
]
const apart = (a: ReturnType<typeof poseOf>, b: ReturnType<typeof poseOf>): number =>
  Math.max(...corners.map((corner) => distance(placed(a, corner), placed(b, corner))))

test('a quarter turn about an edge, by hand', () => {
  const start = poseOf({ at: [0, 0, 0], turn: [0, 0, 0] })
  // About +Y what is ahead (−X) goes up (+Z): right-handed.
  const move: Move = { shift: [0, 0, 10], pivot: [50, 0, 0], axis: [0, 2, 0], angle: 90 }
  expect(distance(poseAt(start, move, 1).at, [50, 0, 60])).toBeLessThan(1e-12)
  const half = poseAt(start, move, 0.5)
  expect(distance(half.at, [50 - 50 * Math.SQRT1_2, 0, 5 + 50 * Math.SQRT1_2])).toBeLessThan(1e-12)
  expect(standingOf(half).turn[1]).toBeCloseTo(45, 12)
})

test('standings and poses go into each other, upright ones and those on their nose (seed 3)', () => {
  const random = seeded(3)
  for (let run = 0; run < 300; run++) {
    const pose = { at: random.point(500), turn: random.turn() }
    expect(apart(poseOf(standingOf(pose)), pose)).toBeLessThan(1e-9)
  }
  for (const turn of [
    [0, 90, 0],
    [30, -90, 50],
    [180, 0, -180],
    [0, 89.9999, 20],
  ] as const)
    expect(apart(poseOf(standingOf(poseOf({ at: [1, 2, 3], turn }))), poseOf({ at: [1, 2, 3], turn }))).toBeLessThan(
      1e-6,
    )
})

const somePath = (random: ReturnType<typeof seeded>): SeatPath => ({
  start: { at: random.point(300), turn: random.point(180) },
  moves: Array.from({ length: 3 }, () => ({
    shift: random.point(200),
    pivot: random.point(300),
    axis: random.chance(0.3) ? ([0, 0, 1] as Vec3) : random.unit(),
    angle: random.chance(0.3) ? 0 : random.real(-170, 170),
  })),
})

test('backwards it is the same motion at every moment, and twice backwards the same path (seed 4)', () => {
  const random = seeded(4)
  for (let run = 0; run < 50; run++) {
    const path = somePath(random)
    const back = reversed(path)
    const [there, here] = [posesOf(path), posesOf(back)]
    expect(apart(endOf(back), poseOf(path.start))).toBeLessThan(1e-9)
    for (const [i, move] of path.moves.entries())
      for (const share of [0.25, 0.5, 0.9]) {
        const k = 2 - i
        expect(apart(poseAt(there[i], move, share), poseAt(here[k], back.moves[k], 1 - share))).toBeLessThan(1e-9)
      }
    const twice = reversed(back)
    expect(apart(poseOf(twice.start), poseOf(path.start))).toBeLessThan(1e-9)
    // From where it has to start to end at the seat: from where it does start.
    expect(apart(poseOf(startOf(endOf(path), path.moves)), poseOf(path.start))).toBeLessThan(1e-9)
  }
})

test('a motion places points as its poses do, and none strays from its chord by more than the sagitta (seed 5)', () => {
  const random = seeded(5)
  const points = Float64Array.from(corners.flat())
  const out = new Float64Array(12)
  let close = 0
  for (let run = 0; run < 200; run++) {
    const start = { at: random.point(200), turn: random.turn() }
    const move = somePath(random).moves[0]
    const motion = new Motion(start, move)
    const at = (share: number, p: Vec3): Vec3 => {
      motion.place(share, out)
      return [0, 1, 2].map(
        (k) => out[3 * k] * p[0] + out[3 * k + 1] * p[1] + out[3 * k + 2] * p[2] + out[9 + k],
      ) as unknown as Vec3
    }
    const radius = motion.radiusOf(points, points)
    const [a, b] = [random.real(0, 0.5), random.real(0.5, 1)]
    const sagitta = (radius * (motion.angle * (b - a)) ** 2) / 8
    for (const corner of corners) {
      expect(distance(at(a, corner), placed(poseAt(start, move, a), corner))).toBeLessThan(1e-9)
      const [p, q] = [at(a, corner), at(b, corner)]
      for (const share of [0.2, 0.5, 0.7]) {
        const on: Vec3 = [0, 1, 2].map((k) => p[k] + share * (q[k] - p[k])) as unknown as Vec3
        const stray = distance(at(a + share * (b - a), corner), on)
        expect(stray).toBeLessThanOrEqual(sagitta + 1e-9)
        if (sagitta > 1 && stray > 0.5 * sagitta) close++
      }
    }
  }
  expect(close).toBeGreaterThan(50)
})
