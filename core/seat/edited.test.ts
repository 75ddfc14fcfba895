import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { distance, placed, placedBack, type Vec3 } from '../shape/vec.ts'
import type { SeatPath, Standing } from './answer.ts'
import { editedPath, endingAt, gripped } from './edited.ts'
import { gripAt, gripsOf } from './grips.ts'
import { carriedFrom, endOf, poseAfter, poseOf, posesOf, startOf } from './move.ts'

const seat: Standing = { at: [60, 10, 200], turn: [0, 12, 0] }
const own: Vec3[] = [
  [0, 0, 0],
  [45, 300, 100],
  [-45, -300, 100],
]
const apart = (a: ReturnType<typeof poseOf>, b: ReturnType<typeof poseOf>) =>
  Math.max(...own.map((point) => distance(placed(a, point), placed(b, point))))

function randomPath(random: ReturnType<typeof seeded>): SeatPath {
  const moves = Array.from({ length: 1 + random.int(4) }, () => ({
    shift: random.point(100),
    pivot: random.point(300),
    axis: [0, 1, 0.2] as const,
    angle: random.chance(0.3) ? 0 : random.real(-30, 30),
  }))
  return { start: startOf(poseOf(seat), moves), moves }
}

test('nothing changed is the same path again; and every change still ends at the seat (seed 61)', () => {
  const random = seeded(61)
  for (let run = 0; run < 100; run++) {
    const path = randomPath(random)
    const again = editedPath(seat, path, (moves) => moves)
    for (const [n, pose] of posesOf(again).entries()) expect(apart(pose, posesOf(path)[n])).toBeLessThan(1e-6)
    const changed = editedPath(seat, path, ([first, ...rest]) => [{ ...first, shift: [1, 2, 3], angle: 9 }, ...rest])
    expect(apart(endOf(changed), poseOf(seat))).toBeLessThan(1e-6)
    const shorter = editedPath(seat, path, (moves) => moves.slice(1))
    expect(apart(endOf(shorter), poseOf(seat))).toBeLessThan(1e-6)
  }
})

test('a later move that is changed moves what comes before, and the edge that is turned about stays that edge', () => {
  const path: SeatPath = {
    start: { at: [60, 10, 0], turn: [0, 0, 0] },
    moves: [
      { shift: [0, 0, 100], pivot: [105, 10, 100], axis: [0, 1, 0], angle: 12 },
      { shift: [0, 0, 50], pivot: [0, 0, 0], axis: [0, 1, 0], angle: 0 },
    ],
  }
  const end = { at: endOf(path).at, turn: [0, 12, 0] as const }
  const changed = editedPath(end, path, ([first, last]) => [first, { ...last, shift: [0, 0, 80] }])
  // By hand: 30 mm more in the last move, so that all before begins 30 mm lower.
  expect(changed.start.at.map((x) => Number(x.toFixed(6)))).toEqual([60, 10, -30])
  expect(changed.moves[0].pivot.map((x) => Number(x.toFixed(6)))).toEqual([105, 10, 70])
  expect(gripped(changed)[0].grip.map((x) => Number(x.toFixed(6)))).toEqual([45, 0, 100])
})

test('the seat gone elsewhere takes the path along; without moves there is the seat', () => {
  const path = randomPath(seeded(7))
  const there: Standing = { at: [0, -40, 230], turn: [3, 12, 0] }
  expect(apart(endOf(endingAt(there, gripped(path))), poseOf(there))).toBeLessThan(1e-6)
  expect(endingAt(there, [])).toEqual({ start: there, moves: [] })
})

test('a moment of the path: beginnings, ends, and what is carried along', () => {
  const path = randomPath(seeded(8))
  const poses = posesOf(path)
  for (const [n, pose] of poses.entries()) expect(apart(poseAfter(path, n), pose)).toBe(0)
  expect(poseAfter(path, -1)).toEqual(poses[0])
  expect(poseAfter(path, 99)).toEqual(poses[poses.length - 1])
  const now = poseAfter(path, 0.4)
  const carried = carriedFrom(poseOf(seat), now)
  for (const point of own) {
    const atSeat = placed(poseOf(seat), point)
    expect(distance(placed(carried, atSeat), placed(now, placedBack(poseOf(seat), atSeat)))).toBeLessThan(1e-9)
  }
})

test('the edges of a core along an axis, known again wherever along it the pivot lies', () => {
  const grips = gripsOf({ depth: 90, width: 600, height: 300 }, 1)
  expect(grips.map(({ at }) => at)).toEqual([
    [0, 0, 0],
    [45, 0, 150],
    [-45, 0, 150],
    [45, 0, -150],
    [-45, 0, -150],
  ])
  expect(gripAt(grips, 1, [45.04, 123, 149.98])?.side).toEqual([1, 0, 1])
  expect(gripAt(grips, 1, [44, 123, 150])).toBe(null)
  expect(gripsOf({ depth: 90, width: 600, height: 300 }, 2)[1].at).toEqual([45, 300, 0])
})
