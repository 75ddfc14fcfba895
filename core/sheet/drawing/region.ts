import { Clipper, FillRule } from 'clipper2-ts'
import type { Flat, Frame } from './view.ts'

/** Loops of points of a picture; outer ones run counter-clockwise, holes clockwise. */
export type Loops = readonly (readonly Flat[])[]

/** Places are held to 10⁻⁵ mm while regions are joined. */
const decimals = 5

/**
 * What any of these loops covers, as loops that do not cross.
 * @param loops closed, without the first point again at the end; may overlap and cross
 * @param rule 'any': a loop covers what lies within it, whichever way round it runs. 'wound': only what lies within more loops
 *   that run counter-clockwise than clockwise, as the rims of surfaces do
 * Error: points are rounded to 10⁻⁵ mm.
 */
export function unionOf(loops: Loops, rule: 'any' | 'wound' = 'any'): Loops {
  if (loops.length === 0) return []
  const paths = loops.map((loop) => loop.map(([x, y]) => ({ x, y })))
  const turned = rule === 'any' ? paths.map((path) => (Clipper.areaD(path) < 0 ? path.reverse() : path)) : paths
  return Clipper.unionD(turned, [], FillRule.Positive, decimals).map((path) => path.map(({ x, y }): Flat => [x, y]))
}

/** What of a region lies within a frame. Error: as of `unionOf`. */
export function withinFrame(loops: Loops, { min, max }: Frame): Loops {
  const paths = loops.map((loop) => loop.map(([x, y]) => ({ x, y })))
  const frame = [min, [max[0], min[1]], max, [min[0], max[1]]].map(([x, y]) => ({ x, y }))
  const found = Clipper.intersectD(paths, [frame], FillRule.NonZero, decimals)
  return found.map((path) => path.map(({ x, y }): Flat => [x, y]))
}

/**
 * What both regions cover.
 * @param a loops, filled whichever way round they run, as `b`
 * Error: points are rounded to 10⁻⁵ mm.
 */
export function sharedOf(a: Loops, b: Loops): Loops {
  const paths = (loops: Loops) => loops.map((loop) => loop.map(([x, y]) => ({ x, y })))
  return Clipper.intersectD(paths(a), paths(b), FillRule.NonZero, decimals).map((path) =>
    path.map(({ x, y }): Flat => [x, y]),
  )
}

/** What of a region another leaves free. Error: as of `unionOf`. */
export function without(loops: Loops, other: Loops): Loops {
  const paths = (all: Loops) => all.map((loop) => loop.map(([x, y]) => ({ x, y })))
  const found = Clipper.differenceD(paths(loops), paths(other), FillRule.NonZero, decimals)
  return found.map((path) => path.map(({ x, y }): Flat => [x, y]))
}

/**
 * Fewer points of a line, first and last kept; no left-out point lies farther than `error` off the piece that stands for it.
 * Source: D. H. Douglas, T. K. Peucker, 1973 (from memory), with distances to pieces and not to the lines that they lie on, so
 * that a line that runs back over itself keeps its ends.
 */
export function simplified(points: readonly Flat[], error: number): Flat[] {
  const kept = new Set([0, points.length - 1])
  const open: [number, number][] = [[0, points.length - 1]]
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to] = span
    let [far, most] = [-1, error]
    for (let i = from + 1; i < to; i++) {
      const by = offPiece(points[i], points[from], points[to])
      if (by > most) [far, most] = [i, by]
    }
    if (far < 0) continue
    kept.add(far)
    open.push([from, far], [far, to])
  }
  return points.filter((_, i) => kept.has(i))
}

function offPiece([x, y]: Flat, [ax, ay]: Flat, [bx, by]: Flat): number {
  const [dx, dy] = [bx - ax, by - ay]
  const long = dx * dx + dy * dy
  const share = long === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / long))
  return Math.hypot(x - ax - share * dx, y - ay - share * dy)
}

/** mm²; holes count against. */
export const areaOf = (loops: Loops): number => loops.reduce((sum, loop) => sum + loopArea(loop), 0)

function loopArea(loop: readonly Flat[]): number {
  let twice = 0
  for (let i = 0; i < loop.length; i++) {
    const [a, b] = [loop[i], loop[(i + 1) % loop.length]]
    twice += a[0] * b[1] - b[0] * a[1]
  }
  return twice / 2
}

/** The convex outline of points of a picture, counter-clockwise. Source: A. M. Andrew's monotone chain, 1979 (from memory). */
export function convexOutline(points: readonly Flat[]): Flat[] {
  const ordered = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const half = (list: readonly Flat[]): Flat[] => {
    const chain: Flat[] = []
    for (const p of list) {
      while (chain.length > 1 && turn(chain[chain.length - 2], chain[chain.length - 1], p) <= 0) chain.pop()
      chain.push(p)
    }
    return chain.slice(0, -1)
  }
  return [...half(ordered), ...half([...ordered].reverse())]
}

const turn = (a: Flat, b: Flat, c: Flat): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
