import type { Bay, Pipe } from '../../../core/bay/schema.ts'

type Point = [number, number, number]

/**
 * Where a new corner starts: half-way between its neighbours, whole millimetres. At the ends of the path the neighbour
 * is the bay's port where the pipe has one there, otherwise the corner beside is carried a little further.
 */
export function newCorner(bay: Bay, pipe: Pipe, index: number): Point {
  const before = pipe.path[index - 1] ?? portAt(bay, pipe.from)
  const after = pipe.path[index] ?? portAt(bay, pipe.to)
  if (before && after) return rounded(before.map((x, k) => (x + after[k]) / 2) as Point)
  const beside = before ?? after ?? [0, 0, 0]
  const further = before ? pipe.path[index - 2] : pipe.path[index + 1]
  const way = further ? beside.map((x, k) => (x - further[k]) / 2) : [2 * pipe.bendRadius, 0, 0]
  return rounded(beside.map((x, k) => x + way[k]) as Point)
}

const portAt = (bay: Bay, name: string): Point | undefined => bay.ports?.find(({ id }) => id === name)?.at
const rounded = (point: Point): Point => point.map((x) => Math.round(x) + 0) as Point
