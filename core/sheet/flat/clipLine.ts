import type { Paper } from '../figure/figure.ts'

/** Upright rectangle on paper, mm. */
export interface Window {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/**
 * What of a line lies within a rectangle, rim included, as lines that run the same way.
 * Source: Y.-D. Liang, B. A. Barsky, parametric clipping of segments, 1984 (from memory).
 */
export function clipLine(points: readonly Paper[], closed: boolean, window: Window): Paper[][] {
  const all = closed && points.length > 0 ? [...points, points[0]] : points
  const runs: Paper[][] = []
  let run: Paper[] = []
  const end = () => {
    if (run.length > 1) runs.push(run)
    run = []
  }
  for (let k = 1; k < all.length; k++) {
    const inside = clipSegment(all[k - 1], all[k], window)
    if (!inside) {
      end()
      continue
    }
    const [from, to, whole] = inside
    if (run.length === 0) run.push(from)
    run.push(to)
    if (!whole) end()
  }
  end()
  return runs
}

/** The part within, and whether it reaches the segment's own end; null where there is none. */
function clipSegment(a: Paper, b: Paper, { x, y, width, height }: Window): readonly [Paper, Paper, boolean] | null {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  let [t0, t1] = [0, 1]
  const sides = [
    [-dx, a[0] - x],
    [dx, x + width - a[0]],
    [-dy, a[1] - y],
    [dy, y + height - a[1]],
  ]
  for (const [way, room] of sides) {
    if (way === 0) {
      if (room < 0) return null
    } else if (way < 0) t0 = Math.max(t0, room / way)
    else t1 = Math.min(t1, room / way)
  }
  if (t0 > t1) return null
  const at = (t: number): Paper => (t === 0 ? a : t === 1 ? b : [a[0] + t * dx, a[1] + t * dy])
  return [at(t0), at(t1), t1 === 1]
}
