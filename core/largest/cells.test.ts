import { describe, expect, test } from 'vitest'
import { roomOf, type Room } from '../../test/kit/coreRooms.ts'
import { byObstacle } from './branching.ts'
import { byHalving, bySize } from './halving.ts'
import { aimOf, type Cell, childOf, type Problem } from './problem.ts'
import { tiltAt, unknowns } from './unknowns.ts'
import { propagate } from './propagate.ts'
import { Relaxation } from './relaxation.ts'
import { brokenBy, secantRow } from './secant.ts'
import { seeded, type Random } from '../../test/kit/random.ts'
import { emptyRow, wallRow } from './wall.ts'

const holds = ({ low, high }: Cell, x: Float64Array): boolean =>
  x.every((v, j) => v >= low[j] - 1e-8 && v <= high[j] + 1e-8)

/** A cell of any size about a core, with all that is known still open. */
function cellAbout(problem: Problem, root: Cell, x: Float64Array, codes: Int32Array, random: Random): Cell {
  const cell = { ...childOf(root), open: codes }
  for (let j = 0; j < unknowns; j++) {
    const reach = j === tiltAt ? problem.view.half : random.size(0.01, 400)
    cell.low[j] = Math.max(cell.low[j], x[j] - reach * random.real(0, 1))
    cell.high[j] = Math.min(cell.high[j], x[j] + reach * random.real(0, 1))
  }
  return cell
}

/** All that may be done to a cell must leave a core in it that stands clear and beats what is wanted. */
function followed(room: Room, random: Random): { branched: number; tightened: number } {
  const { problem, root, codes, cores } = room
  const relaxation = new Relaxation(problem.view.half > 0)
  const row = emptyRow()
  let branched = 0
  let tightened = 0
  for (const x of cores) {
    const aim = aimOf(problem.shares, x)
    let cell: Cell | undefined = cellAbout(problem, root, x, codes, random)
    // What is wanted lies below the core's own aim, sometimes just below it.
    const wanted = random.chance(0.3) ? -Infinity : aim - random.size(1e-6, 0.5)
    for (let depth = 0; cell && depth < 12; depth++) {
      const before: number = cell.high.reduce((sum, high, j) => sum + high - (cell as Cell).low[j], 0)
      expect(propagate(problem, cell, wanted)).toBe(true)
      expect(holds(cell, x)).toBe(true)
      for (const code of codes) {
        if (!secantRow(problem, cell, code, row)) continue
        expect(row.a.reduce((sum, a, j) => sum + a * x[j], -row.b)).toBeGreaterThan(-1e-9)
      }
      for (const wall of problem.walls) {
        wallRow(wall, problem.view, cell, row)
        expect(row.a.reduce((sum, a, j) => sum + a * x[j], -row.b)).toBeGreaterThan(-1e-7)
      }
      expect(relaxation.run(problem, cell, wanted)).toBe(true)
      expect(cell.bound).toBeGreaterThanOrEqual(aim - 1e-9)
      expect(holds(cell, x)).toBe(true)
      if (cell.high.reduce((sum, high, j) => sum + high - (cell as Cell).low[j], 0) < before - 1e-6) tightened++
      const broken = cell.open.filter((code) => brokenBy(problem, code, relaxation.x) > 0)
      const isClear = random.chance(0.5)
      const children: Cell[] | undefined =
        bySize(problem, cell, relaxation.x, isClear) ??
        (random.chance(0.6) ? byObstacle(problem, cell, broken, wanted) : undefined) ??
        byHalving(problem, cell, relaxation.x, broken)
      if (!children) break
      branched++
      const next: Cell | undefined = children.find((child) => holds(child, x) && sizesAllow(child, x))
      expect(next).toBeDefined()
      cell = next
    }
  }
  return { branched, tightened }
}

const sizesAllow = ({ most, least }: Cell, x: Float64Array): boolean =>
  [0, 1, 2].every((k) => x[3 + k] - x[k] <= most[k] + 1e-8 && x[3 + k] - x[k] >= least[k] - 1e-8)

describe('a core that stands clear and beats what is wanted is never lost: drawing in, secants, bounds, branches', () => {
  test.each(Array.from({ length: 12 }, (_, seed) => seed + 1))('room %d, one tilt', (seed) => {
    const random = seeded(100 + seed)
    const { branched, tightened } = followed(roomOf(random, 0), random)
    expect(branched).toBeGreaterThan(10)
    expect(tightened).toBeGreaterThan(5)
  })

  test.each(Array.from({ length: 8 }, (_, seed) => seed + 1))('room %d, a range of tilts', (seed) => {
    const random = seeded(200 + seed)
    const { branched } = followed(roomOf(random, random.size(0.2, 4)), random)
    expect(branched).toBeGreaterThan(10)
  })
})
