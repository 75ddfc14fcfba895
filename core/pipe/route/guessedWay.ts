import { BoundQueue } from '../../clearance/boundQueue.ts'
import { distance } from '../../shape/vec.ts'
import { drawWay, type Way } from './drawWay.ts'
import { endSlack, freeFrom, type Keeper } from './keepers.ts'
import { PassageCells } from './passageCells.ts'
import type { RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

const rounds = 8
/** Cells are cut down to this share of the least that is kept. */
const finest = 0.15
const mostCells = 30_000

/**
 * Where it is closed: a way with as little missing as a quick look finds, to show the place. Through cells in the order of the
 * room at their middles; those in which the way is too narrow are cut, and it is drawn anew.
 * @returns the best one; its room, negative, is proved for this way
 */
export function guessedWay(problem: RouteProblem, keepers: readonly Keeper[], most: number, work: Work): Way | null {
  const cells = new PassageCells(problem, keepers, most)
  const finestSide = finest * Math.min(...keepers.map(({ keep }) => keep))
  let best: Way | null = null
  for (let round = 0; round < rounds; round++) {
    const path = widestPath(problem, cells, work)
    if (!path) return best
    const drawn = drawWay(cells, [freeFrom(problem.from), freeFrom(problem.to)], path, 0, 0)
    if (work.ends(drawn.asked)) return best
    if (!best || drawn.room > best.room) best = drawn
    const coarse = [...drawn.narrow].filter((cell) => cells.tree.canSplit(cell) && cells.tree.sideOf(cell) > finestSide)
    if (coarse.length === 0 || cells.tree.count > mostCells) return best
    for (const cell of coarse) cells.split(cell)
  }
  return best
}

/** Leaves from one end to the other, those with the most room at their middles first; null where the work was broken off. */
function widestPath({ from, to }: RouteProblem, cells: PassageCells, work: Work): number[] | null {
  const { tree } = cells
  const goal = freeFrom(to)
  const via = new Map<number, number>()
  const queue = new BoundQueue()
  const push = (cell: number, before: number) => {
    if (via.has(cell)) return
    via.set(cell, before)
    cells.boundOf(cell, -Infinity, Infinity)
    const { x, y, z } = tree.cell(cell)
    // Among equals, as all that is blocked is, the one nearer to the goal.
    queue.push(-cells.middleOf(cell) + 1e-6 * distance([x, y, z], goal), cell, 0)
  }
  for (const cell of tree.leavesAt(freeFrom(from), endSlack(from))) push(cell, -1)
  const beside: number[] = []
  while (queue.take()) {
    if (work.ends(cells.takeAsked())) return null
    const cell = queue.first
    if (tree.comesWithin(cell, goal, endSlack(to))) {
      const path: number[] = []
      for (let at = cell; at >= 0; at = via.get(at) ?? -1) path.push(at)
      return path.reverse()
    }
    const count = tree.neighbours(cell, beside)
    for (let i = 0; i < count; i++) push(beside[i], cell)
  }
  return null
}
