import { BoundQueue } from '../../clearance/boundQueue.ts'
import { along } from '../../shape/vec.ts'
import { BendCell, type EndLine } from './bendCell.ts'
import { certify, inLineRad } from './certify.ts'
import { clearStraight } from './endStraights.ts'
import type { Keeper } from './keepers.ts'
import type { Corners, RouteEnd, RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** Cells looked at. */
const usualCells = 20_000
/** Cells of half sides below this are not cut again, mm. */
const smallest = 1e-3
/** Middles of cells that looked clear, tried as routes by the exact check. */
const mostTrials = 40
/** Bends beyond this are not looked at, radians: their corners would lie eleven radii out. */
const sharpest = (170 * Math.PI) / 180

export interface TwoBends {
  /** Proved: no route of two bends, within the search box. */
  readonly excluded: boolean
  /** Corners of one that was found on the way, by the exact check. */
  readonly found: Corners | null
}

/**
 * Whether a route of exactly two bends can be.
 *
 * Its first corner lies on the line of the one end, its second on that of the other: two lengths say all, and their square
 * is searched to the end. A cell of it is dropped when every route in it fails for the same reason: a straight is too short,
 * an angle too large, the line leaves the box, or a point of the route through the cell's middle is too near to something by
 * more than that point can move within the cell.
 * Bends of up to 170°. Ends may deviate by the 0.1° that are read as in line. Proved up to rounding (1e-7 mm).
 * Source: exhaustive subdivision, common practice; the ways that points can move: derived (see `BendCell`).
 */
export function twoBends(problem: RouteProblem, keepers: readonly Keeper[], work: Work, most = usualCells): TwoBends {
  const largestAngle = Math.min(problem.largestAngle, sharpest)
  const from = lineOf(problem, problem.from, 'from', largestAngle)
  const to = lineOf(problem, problem.to, 'to', largestAngle)
  const none = { excluded: true, found: null }
  if (!(from.longest > problem.from.leastStraight) || !(to.longest > problem.to.leastStraight)) return none
  const cell = new BendCell({ ...problem, largestAngle }, keepers, from, to)
  const queue = new BoundQueue()
  const cells: (readonly [number, number, number, number])[] = []
  const push = (a0: number, a1: number, b0: number, b1: number, bound: number) => {
    cells.push([a0, a1, b0, b1])
    queue.push(bound, cells.length - 1, 0)
  }
  push(problem.from.leastStraight, from.longest, problem.to.leastStraight, to.longest, 0)
  let trials = 0
  for (let looked = 0; queue.take(); looked++) {
    if (looked >= most || work.ends(50)) return { excluded: false, found: null }
    const [a0, a1, b0, b1] = cells[queue.first]
    if (cell.fails(a0, a1, b0, b1)) continue
    const corners = [
      along(problem.from.at, from.direction, (a0 + a1) / 2),
      along(problem.to.at, to.direction, (b0 + b1) / 2),
    ]
    if (cell.lacking <= 0 && trials < mostTrials) {
      trials++
      work.ends(2000)
      if (certify(problem, corners).valid) return { excluded: false, found: corners }
    }
    if (Math.max(a1 - a0, b1 - b0) < 2 * smallest) return { excluded: false, found: null }
    const [s, t] = [(a0 + a1) / 2, (b0 + b1) / 2]
    if (a1 - a0 >= b1 - b0) {
      push(a0, s, b0, b1, cell.lacking)
      push(s, a1, b0, b1, cell.lacking)
    } else {
      push(a0, a1, b0, t, cell.lacking)
      push(a0, a1, t, b1, cell.lacking)
    }
  }
  return none
}

function lineOf(problem: RouteProblem, end: RouteEnd, name: 'from' | 'to', largestAngle: number): EndLine {
  const { at, direction } = end
  const clear = Math.min(wayOut(problem, end), clearStraight(problem, name, wayOut(problem, end)))
  return { at, direction, clear, longest: clear + problem.bendRadius * Math.tan(largestAngle / 2) }
}

/** Where the line of an end has left the box, whatever its deviation, mm. */
function wayOut({ box }: RouteProblem, { at, direction }: RouteEnd): number {
  let out = Infinity
  for (let k = 0; k < 3; k++) {
    const room = direction[k] > 0 ? box.max[k] - at[k] : at[k] - box.min[k]
    // It may lean into the box by the deviation.
    const rate = Math.abs(direction[k]) - inLineRad
    if (rate > 0) out = Math.min(out, Math.max(0, room) / rate)
  }
  return out
}
