import { expect, test } from 'vitest'
import { block, meshed, obstacle, problemOf, turnedBlock, wall } from '../../../test/kit/routeProblems.ts'
import { bumpyMesh } from '../../../test/kit/meshes.ts'
import { seeded } from '../../../test/kit/random.ts'
import { solidOf } from '../../shape/solid.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { Cell } from './cell.ts'
import { CellRoom } from './cellRoom.ts'
import { emptyPointDistance, pointToBody } from './distancePoint.ts'
import { excusedInBlocks, keepersOf, type RoomKeeper } from './keepers.ts'
import type { RouteObstacle } from './problem.ts'

const ends = [
  [
    [-400, 0, 0],
    [1, 0, 0],
  ],
  [
    [400, 0, 0],
    [-1, 0, 0],
  ],
] as const

const keepersFor = (obstacles: readonly RouteObstacle[]): readonly RoomKeeper[] =>
  excusedInBlocks(keepersOf(problemOf(ends[0], ends[1], obstacles)), ({ at }) => ({ min: at, max: at }))

const there = emptyPointDistance()

/** Straight from the distances, without any bound. */
const roomAt = (keepers: readonly RoomKeeper[], [x, y, z]: Vec3): number =>
  Math.min(
    ...keepers.map(({ body, keep }) => {
      pointToBody(body, x, y, z, Infinity, there)
      return Math.max(there.atLeast, 0) - keep
    }),
  )

const tube = (name: string, path: [number, number, number][]): RouteObstacle => {
  const solid = solidOf({ kind: 'tube', path, radius: 12, bendRadius: 40 }, { meshes: new Map() })
  if (!solid.ok) throw new Error(JSON.stringify(solid.faults))
  return obstacle(name, solid.value)
}

test('seed 31: no point of a cell has more room than its bound says, beside anything', () => {
  const random = seeded(31)
  let [sharper, checked] = [0, 0]
  for (let scene = 0; scene < 30; scene++) {
    const keepers = keepersFor([
      ...Array.from({ length: 6 }, (_, i) =>
        turnedBlock(
          `b${i}`,
          random.point(120),
          [random.real(5, 90), random.real(5, 90), random.real(5, 90)],
          random.turn(),
        ),
      ),
      wall('floor', [0, 0, -130], random.unit()),
      meshed('skin', bumpyMesh(12, 12, scene)),
      tube('tube', [
        [-100, -60, random.real(-80, 80)],
        [20, -40, 0],
        [60, 90, random.real(-80, 80)],
      ]),
    ])
    const all = Int32Array.from(keepers, (_, i) => i)
    const room = new CellRoom(keepers, 200)
    for (let i = 0; i < 40; i++) {
      const [x, y, z] = random.point(120)
      const cell: Cell = { x, y, z, hx: random.size(0.05, 30), hy: random.size(0.05, 30), hz: random.size(0.05, 30) }
      room.measure(cell, all, Infinity, -Infinity)
      const reach = Math.hypot(cell.hx, cell.hy, cell.hz)
      if (room.bound < room.middle + reach - 1e-9) sharper++
      checked++
      const { bound, near } = room
      // What is left to matter is as good as all.
      room.measure(cell, near, Infinity, -Infinity)
      expect(room.bound).toBeCloseTo(bound, 9)
      for (let k = 0; k < 30; k++) {
        const side = () => (random.chance(0.3) ? Math.sign(random.real(-1, 1)) : random.real(-1, 1))
        const point: Vec3 = [x + cell.hx * side(), y + cell.hy * side(), z + cell.hz * side()]
        expect(roomAt(keepers, point)).toBeLessThanOrEqual(bound + 1e-9)
      }
    }
  }
  // The pieces say more than the diagonal most of the time.
  expect(sharper / checked).toBeGreaterThan(0.5)
})

test('between two walls the bound is exact, whatever the size of the cell and wherever it lies', () => {
  const keepers = keepersFor([
    block('low', [-200, -200, -200], [200, -20, 200]),
    block('high', [-200, 22, -200], [200, 200, 200]),
  ])
  const room = new CellRoom(keepers, 200)
  for (const half of [1, 5, 15])
    for (const y of [-8, -1, 1, 6]) {
      room.measure({ x: 3, y, z: 4, hx: half, hy: half, hz: half }, Int32Array.of(0, 1), 0, -99)
      const holdsMiddle = Math.abs(y - 1) <= half
      // 42 mm apart, 30 mm kept from both.
      if (holdsMiddle) expect(room.bound).toBeCloseTo(-9, 9)
      else expect(room.bound).toBeLessThan(-9)
      if (Math.abs(y - 1) < half) expect([room.first, room.second].toSorted()).toEqual([0, 1])
    }
})
