import type { Candidate } from '../bay/schema.ts'
import type { Vec3 } from '../shape/vec.ts'
import { Asker, type Asked } from './asking.ts'
import { extentOf } from './extent.ts'
import { guard, Obstacles, SeenObstacles } from './obstacles.ts'
import { PartPieces } from './partPieces.ts'
import type { Cell, Problem } from './problem.ts'
import type { Sizes } from './sizes.ts'
import { View } from './view.ts'
import { centreWalls, halfSpaceWalls, type Region, regionWalls, symmetryWalls } from './wallsOf.ts'

/** All that a search for the largest core depends on. */
export interface CoreQuestion {
  readonly candidate: Candidate
  readonly asked: readonly Asked[]
  readonly shares: readonly [number, number, number]
  readonly sizes: readonly [Sizes, Sizes, Sizes]
  readonly within?: Region
}

/** The axes are turned about this point: on the car's centre line, beside the candidate. */
export const pivotOf = ({ at }: Candidate): Vec3 => [at[0], 0, at[2]]

export function viewOf({ candidate }: CoreQuestion, tilt: number, halfDegrees = 0): View {
  return new View(pivotOf(candidate), [candidate.turn[0], candidate.turn[2]], tilt, halfDegrees)
}

/** Half-spaces, region and symmetry as walls of a view. */
export function wallsIn({ candidate, asked, within }: CoreQuestion, view: View) {
  const { centre, symmetric } = candidate.limits ?? {}
  return [
    ...(centre ? centreWalls(centre) : []),
    ...(symmetric ? symmetryWalls() : []),
    ...(within ? regionWalls(candidate, within, view) : []),
    ...halfSpaceWalls(candidate, asked, view, guard.proved - guard.bound),
  ]
}

/** The search's problem in a view; undefined where walls and sizes leave no core at all. */
export function problemIn(question: CoreQuestion, view: View): { problem: Problem; root: Cell } | undefined {
  const { candidate, shares, sizes, asked } = question
  const walls = wallsIn(question, view)
  const extent = extentOf(walls, sizes, view)
  if (!extent) return undefined
  const parts = new PartPieces(candidate)
  const obstacles = new Obstacles()
  const asker = new Asker(candidate, parts, obstacles, asked, view)
  const problem: Problem = {
    view,
    shares,
    sizes,
    pieces: parts.pieces,
    obstacles,
    seen: new SeenObstacles(view, obstacles, guard.proved),
    walls,
    ...extent,
    ask: (faces, at, ignore, extra) => asker.ask(faces, at, ignore, extra),
  }
  const root: Cell = {
    low: extent.low.slice(),
    high: extent.high.slice(),
    most: Float64Array.from(sizes, (size) => size.most),
    least: Float64Array.from(sizes, (size) => size.least),
    bound: Infinity,
    open: new Int32Array(0),
    heard: 0,
    rest: 0,
    depth: 0,
  }
  return { problem, root }
}
