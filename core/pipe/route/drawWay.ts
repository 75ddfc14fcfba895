import type { Bounds } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { portal } from './cell.ts'
import type { PassageCells } from './passageCells.ts'
import { roomAlong, roomier } from './passageWay.ts'

/** A way that was proved to have some room, and where it has the least. */
export interface Way {
  readonly points: readonly Vec3[]
  /** Lower bound, mm. */
  readonly room: number
  /** Ends of the narrowest straight. */
  readonly narrowest: readonly [Vec3, Vec3]
}

export interface DrawnWay extends Way {
  /** Cells in which the way has less room than was wanted. */
  readonly narrow: ReadonlySet<number>
  /** Distances measured, about. */
  readonly asked: number
}

/**
 * The way through cells that follow each other, from a point of the first to one of the last: through their middles and
 * the middles of the sides they share, each moved to where it has more room.
 * @param upTo room beyond which it is all the same, mm
 * @param wanted, mm
 */
export function drawWay(
  cells: PassageCells,
  [start, goal]: readonly [Vec3, Vec3],
  path: readonly number[],
  upTo: number,
  wanted: number,
): DrawnWay {
  const { keepers } = cells
  const points: Vec3[] = [start]
  const owners: number[] = []
  let asked = 0
  path.forEach((cell, i) => {
    const box = cells.tree.cell(cell)
    const among = Array.from(cells.nearOf(cell), (number) => keepers[number])
    const push = (point: Vec3) => {
      points.push(kept(cells.tree.bounds, roomier(among, point, 2 * box.hx, upTo)))
      owners.push(cell)
    }
    push([box.x, box.y, box.z])
    if (i + 1 < path.length) push(portal(box, cells.tree.cell(path[i + 1])))
    asked += 20 * among.length
  })
  points.push(goal)
  owners.push(path[path.length - 1])
  const narrow = new Set<number>()
  let room = upTo
  let narrowest: readonly [Vec3, Vec3] = [points[0], points[1]]
  owners.forEach((cell, i) => {
    const along = roomAlong(keepers, points[i], points[i + 1], cells.open, upTo, (more) => {
      asked += more
    })
    if (along < wanted) narrow.add(cell)
    if (along >= room) return
    room = along
    narrowest = [points[i], points[i + 1]]
  })
  return { points, room, narrowest, narrow, asked }
}

/** A point, brought back into a box: outside there may be more room, but the passage is one within. */
const kept = ({ min, max }: Bounds, point: Vec3): Vec3 =>
  [0, 1, 2].map((k) => Math.min(max[k], Math.max(min[k], point[k]))) as unknown as Vec3
