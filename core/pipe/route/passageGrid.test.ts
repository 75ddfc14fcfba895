import { expect, test } from 'vitest'
import { gridPassage } from '../../../test/kit/gridPassage.ts'
import { bumpyMesh } from '../../../test/kit/meshes.ts'
import { plainRoute } from '../../../test/kit/plainRouter.ts'
import { seeded } from '../../../test/kit/random.ts'
import { block, meshed, obstacle, problemOf, turnedBlock, wall } from '../../../test/kit/routeProblems.ts'
import { solidFrom } from '../../shape/solid.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { passageOf } from './passage.ts'
import type { RouteObstacle, RouteProblem } from './problem.ts'
import { proveRoute } from './proofs.ts'
import { Work } from './work.ts'

const box = { min: [-260, -160, -160] as Vec3, max: [260, 160, 160] as Vec3 }

/** A room with a cluttered middle; its ends stand free. A slender tube: ⌀ 24 keeping 5 mm. */
function clutter(seed: number): RouteProblem {
  const random = seeded(seed)
  const things: RouteObstacle[] = Array.from({ length: 9 }, (_, i) => {
    const centre: Vec3 = [random.real(-80, 80), random.real(-150, 150), random.real(-150, 150)]
    if (random.chance(0.3)) {
      const to = random.unit().map((x, k) => centre[k] + 150 * x) as unknown as Vec3
      const body = { kind: 'cylinder' as const, from: centre, to, radius: random.real(5, 40) }
      return obstacle(`c${i}`, solidFrom([{ form: 'convex', body }]))
    }
    const size: Vec3 = [random.real(10, 120), random.real(20, 200), random.real(20, 200)]
    return turnedBlock(`b${i}`, centre, size, random.turn())
  })
  const rest = { radius: 12, bendRadius: 30, leastStraight: 10, box }
  // Every other one has a plate across with a window of up to 70 mm, and what is in the way of it.
  const [y, z, half] = [random.real(-80, 80), random.real(-80, 80), random.real(12, 35)]
  const plate = [
    block('p1', [-4, -200, -200], [4, y - half, 200]),
    block('p2', [-4, y + half, -200], [4, 200, 200]),
    block('p3', [-4, y - half, -200], [4, y + half, z - half]),
    block('p4', [-4, y - half, z + half], [4, y + half, 200]),
  ]
  return problemOf(
    [
      [-240, 0, 0],
      [1, 0, 0],
    ],
    [
      [240, 0, 0],
      [-1, 0, 0],
    ],
    [...things, ...(seed % 2 === 0 ? plate : []), wall('floor', [0, 0, -170], [0, 0, 1])],
    rest,
  )
}

test('seeds 1 to 16: the passage lies between what brute force over a grid allows', () => {
  const widths: number[] = []
  let closed = 0
  for (let seed = 1; seed <= 16; seed++) {
    const problem = clutter(seed)
    const { passage, ...proof } = passageOf(problem, new Work(() => null))
    const grid = gridPassage(problem, 12, 75)
    if (!passage) {
      // Wider than six radii.
      expect(grid.atMost).toBeGreaterThan(72)
      continue
    }
    expect(passage.spareAtMost, `seed ${seed}`).toBeGreaterThanOrEqual(grid.atLeast - 1e-6)
    expect(passage.spareAtLeast, `seed ${seed}`).toBeLessThanOrEqual(grid.atMost + 1e-6)
    expect(passage.spareAtLeast).toBeLessThanOrEqual(passage.spareAtMost)
    if (proof.closed) {
      closed++
      expect(grid.atLeast).toBeLessThan(0)
    } else {
      // A diameter to spare is ample.
      const share = passage.spareAtMost > 24 ? 0.201 : 0.0101
      widths.push(passage.spareAtMost - passage.spareAtLeast - share * passage.spareAtMost)
    }
  }
  expect(closed).toBeGreaterThan(2)
  expect(closed).toBeLessThan(12)
  // Open ones are narrowed down to what is promised, nearly all.
  expect(widths.filter((width) => width < 0.02).length).toBeGreaterThan(0.8 * widths.length)
})

test('seeds 1 to 24: where a plain search finds a route, nothing that it refutes was proved', () => {
  let [found, closed] = [0, 0]
  for (let seed = 1; seed <= 24; seed++) {
    const problem = { ...clutter(seed), selfNeed: -1e3 }
    const proof = proveRoute(problem)
    if (proof.closed) closed++
    const route = plainRoute(problem, { seed, samples: proof.closed ? 60 : 150, first: true })
    if (!route) continue
    found++
    expect(proof.closed, `seed ${seed}`).toBe(false)
    expect(proof.fewestBends, `seed ${seed}`).toBeLessThanOrEqual(route.corners.length)
    expect(proof.lengthAtLeast, `seed ${seed}`).toBeLessThanOrEqual(route.cost - 100 * route.corners.length + 1e-6)
  }
  expect(found).toBeGreaterThan(5)
  expect(closed).toBeGreaterThan(2)
})

test('a passage between two skins of triangles is as wide as brute force says', () => {
  const mesh = bumpyMesh(24, 24, 5)
  const problem = problemOf(
    [
      [-240, 0, 60],
      [1, 0, 0],
    ],
    [
      [240, 0, 60],
      [-1, 0, 0],
    ],
    [meshed('skin', mesh), wall('roof', [0, 0, 130], [0, 0, -1])],
    { radius: 12, bendRadius: 30, leastStraight: 10, box },
  )
  const { passage } = passageOf(problem, new Work(() => null))
  const grid = gridPassage(problem, 12, 75)
  expect(passage?.spareAtMost).toBeGreaterThanOrEqual(grid.atLeast - 1e-6)
  expect(passage?.spareAtLeast).toBeLessThanOrEqual(grid.atMost + 1e-6)
})
