import { marginAt } from '../../core/pipe/route/margin.ts'
import type { RouteProblem } from '../../core/pipe/route/problem.ts'
import { along, distance, type Vec3 } from '../../core/shape/vec.ts'

/**
 * The widest way by brute force, to hold proofs against: equal cells over the whole box, each asked at its middle, and the
 * best of all ways through cells that share a side (`atLeast`) or touch at all (`atMost`).
 *
 * Room changes by no more than one goes: a straight between middles `size` apart has at least the lesser room there less
 * size/2; and a cell has at most its middle's and half the diagonal. Cells within `leftOut` of the ends are as wide as can be
 * for `atMost`.
 */
export function gridPassage(
  problem: RouteProblem,
  size: number,
  leftOut: number,
): { readonly atLeast: number; readonly atMost: number } {
  const { min, max } = problem.box
  const counts = [0, 1, 2].map((k) => Math.ceil((max[k] - min[k]) / size))
  const middle = (c: readonly number[]): Vec3 => [
    min[0] + (c[0] + 0.5) * size,
    min[1] + (c[1] + 0.5) * size,
    min[2] + (c[2] + 0.5) * size,
  ]
  const ends = [problem.from, problem.to].map(({ at, direction, leastStraight }) => along(at, direction, leastStraight))
  const rooms = new Float64Array(counts[0] * counts[1] * counts[2])
  const isNear = new Uint8Array(rooms.length)
  const number = (c: readonly number[]) => (c[2] * counts[1] + c[1]) * counts[0] + c[0]
  for (let z = 0; z < counts[2]; z++)
    for (let y = 0; y < counts[1]; y++)
      for (let x = 0; x < counts[0]; x++) {
        const at = middle([x, y, z])
        rooms[number([x, y, z])] = marginAt(problem, at).atMost
        isNear[number([x, y, z])] = ends.some((end) => distance(end, at) < leftOut) ? 1 : 0
      }
  const cellOf = (p: Vec3) => p.map((x, k) => Math.min(counts[k] - 1, Math.max(0, Math.floor((x - min[k]) / size))))
  const [start, goal] = ends.map(cellOf)
  const widest = (value: (cell: number) => number, corners: boolean): number => {
    // The greatest least: cells joined in order of their room until both ends hang together.
    const order = Array.from(rooms.keys()).sort((a, b) => value(b) - value(a))
    const group = new Int32Array(rooms.length).fill(-1)
    const root = (cell: number): number => {
      let at = cell
      while (group[at] !== at) at = group[at] = group[group[at]]
      return at
    }
    for (const cell of order) {
      group[cell] = cell
      const c = [cell % counts[0], Math.floor(cell / counts[0]) % counts[1], Math.floor(cell / (counts[0] * counts[1]))]
      for (const step of corners ? touching : sharing) {
        const next = c.map((x, k) => x + step[k])
        if (next.some((x, k) => x < 0 || x >= counts[k]) || group[number(next)] < 0) continue
        group[root(number(next))] = root(cell)
      }
      if (group[number(start)] >= 0 && group[number(goal)] >= 0 && root(number(start)) === root(number(goal)))
        return value(cell)
    }
    return -Infinity
  }
  const half = (size * Math.sqrt(3)) / 2
  return {
    // The ends are not at the middles of their cells.
    atLeast: Math.min(
      widest((cell) => rooms[cell], false) - size / 2,
      ...ends.map((end) => marginAt(problem, end).atMost - half),
    ),
    atMost: widest((cell) => (isNear[cell] ? Infinity : rooms[cell] + half), true),
  }
}

const steps = [-1, 0, 1]
const touching = steps.flatMap((x) => steps.flatMap((y) => steps.map((z) => [x, y, z] as const)))
const sharing = touching.filter(([x, y, z]) => Math.abs(x) + Math.abs(y) + Math.abs(z) === 1)
