import type { FigureDimension, Paper } from './figure.ts'
import { arrowsOutside, dimensionSizes, outsideRun } from './lanes.ts'
import { textWidth } from './textWidth.ts'

/** Strokes that a dimension is drawn with on paper. */
export interface DimensionStrokes {
  readonly lines: readonly (readonly [Paper, Paper])[]
  /** Filled arrow heads. */
  readonly heads: readonly (readonly Paper[])[]
}

/** Extension lines begin this far off what is measured, and run on past the dimension line, mm. Source: ISO 129-1, from memory. */
const gap = 1
const overshoot = 2
/** Arrow heads of 15°. Source: ISO 129-1, from memory. */
const headHalf = dimensionSizes.arrow * Math.tan((7.5 * Math.PI) / 180)

/** Extension lines, dimension line and arrows; the arrows point from outside where there is no room between the ends. */
export function dimensionStrokes({
  from,
  to,
  line,
  text,
  textAt,
  textSize,
  leader,
}: FigureDimension): DimensionStrokes {
  const [start, end] = line
  const long = Math.hypot(end[0] - start[0], end[1] - start[1])
  const way: Paper = long > 0 ? [(end[0] - start[0]) / long, (end[1] - start[1]) / long] : [1, 0]
  const outside = arrowsOutside(long)
  const run = outside ? outsideRun : 0
  const along = (p: Paper) => (p[0] - start[0]) * way[0] + (p[1] - start[1]) * way[1]
  const half = textWidth(text, textSize) / 2
  const at = along(textAt)
  // A text beside its arrows stands on the line that runs on below it.
  const beside = leader === undefined && (at - half < 0 || at + half > long)
  const low = Math.min(-run, beside ? at - half : 0)
  const high = Math.max(long + run, beside ? at + half : long)
  const side = outside ? -1 : 1
  return {
    lines: [
      ...extension(from, start),
      ...extension(to, end),
      [moved(start, way, low), moved(start, way, high)],
      ...(leader ? pieces(leader) : []),
    ],
    heads: [head(start, [way[0] * side, way[1] * side]), head(end, [-way[0] * side, -way[1] * side])],
  }
}

const moved = ([x, y]: Paper, [dx, dy]: Paper, by: number): Paper => [x + by * dx, y + by * dy]
const pieces = (points: readonly Paper[]): [Paper, Paper][] => points.slice(1).map((p, i) => [points[i], p])

function extension(from: Paper, to: Paper): [Paper, Paper][] {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1])
  if (long <= gap) return []
  const way: Paper = [(to[0] - from[0]) / long, (to[1] - from[1]) / long]
  return [[moved(from, way, gap), moved(to, way, overshoot)]]
}

/** @param way unit: from the tip into the head */
const head = (tip: Paper, way: Paper): Paper[] => {
  const foot = moved(tip, way, dimensionSizes.arrow)
  const square: Paper = [-way[1], way[0]]
  return [tip, moved(foot, square, headHalf), moved(foot, square, -headHalf)]
}
