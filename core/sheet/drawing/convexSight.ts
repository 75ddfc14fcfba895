import type { Polytope } from '../../shape/form.ts'
import { vertexAt } from '../../shape/polytope.ts'
import { dot, type Vec3 } from '../../shape/vec.ts'
import { type Frame, frameOf, type Seen, seen, type AnyView } from './view.ts'

/** A convex body as a picture meets it: something that may stand before a line. */
export interface SightBlock {
  /** Planes in the picture's own directions: nu, nv, nw, offset after each other, n·x ≤ offset inside. */
  readonly planes: Float64Array
  readonly frame: Frame
  /** How near its nearest point is. */
  readonly nearest: number
  /** What lies less deep in it than this is not hidden by it, mm: what its facets may be off by. */
  readonly slack: number
}

/** Part of a line from 0 to 1. */
export type Share = readonly [from: number, to: number]

/** Nothing hides what only touches it, mm. */
export const touching = 1e-5

export function sightBlock({ vertices, planes, faces }: Polytope, view: AnyView): SightBlock {
  const points = Array.from({ length: vertices.length / 3 }, (_, i) => seen(view, vertexAt({ vertices }, i)))
  const told = new Float64Array(planes.length)
  for (let f = 0; f < faces.length; f++) {
    const normal: Vec3 = [planes[4 * f], planes[4 * f + 1], planes[4 * f + 2]]
    told.set([dot(normal, view.right), dot(normal, view.up), dot(normal, view.eye), planes[4 * f + 3]], 4 * f)
  }
  return { planes: told, frame: frameOf(points), nearest: nearestOf(points), slack: touching }
}

export const nearestOf = (points: readonly Seen[]): number =>
  points.reduce((most, [, , w]) => Math.max(most, w), -Infinity)

/**
 * The part of a straight line that a convex body hides.
 *
 * A point of the line is hidden where some point before it, towards the eye, lies in the body. With t along the line and s
 * towards the eye, each plane of the body is a straight line in (t, s); the body cuts a convex polygon out of the strip
 * 0 ≤ t ≤ 1, 0 ≤ s, and its shadow on t is the answer. Exact but for rounding.
 *
 * @param from, to in the picture's directions, mm
 * @returns null where it hides nothing; what lies in its surface, or less than its slack below, is not hidden
 */
export function hiddenByConvex(block: SightBlock, from: Seen, to: Seen): Share | null {
  const reach = block.nearest - Math.min(from[2], to[2])
  if (reach <= block.slack) return null
  let polygon: Flat2[] = [
    [0, 0],
    [1, 0],
    [1, reach],
    [0, reach],
  ]
  const along = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
  const { planes, slack } = block
  for (let i = 0; i < planes.length; i += 4) {
    const room = planes[i + 3] - slack - (planes[i] * from[0] + planes[i + 1] * from[1] + planes[i + 2] * from[2])
    const perT = planes[i] * along[0] + planes[i + 1] * along[1] + planes[i + 2] * along[2]
    polygon = cut(polygon, perT, planes[i + 2], room)
    if (polygon.length < 3) return null
  }
  const shares = polygon.map(([t]) => t)
  const share: Share = [Math.max(0, Math.min(...shares)), Math.min(1, Math.max(...shares))]
  return share[1] > share[0] ? share : null
}

type Flat2 = readonly [number, number]

/** What of a convex polygon lies where a·t + b·s ≤ room. */
function cut(polygon: readonly Flat2[], a: number, b: number, room: number): Flat2[] {
  const kept: Flat2[] = []
  for (let i = 0; i < polygon.length; i++) {
    const here = polygon[i]
    const next = polygon[(i + 1) % polygon.length]
    const [over, overNext] = [a * here[0] + b * here[1] - room, a * next[0] + b * next[1] - room]
    if (over <= 0) kept.push(here)
    if (over < 0 !== overNext < 0 && over !== overNext && over !== 0 && overNext !== 0) {
      const share = over / (over - overNext)
      kept.push([here[0] + share * (next[0] - here[0]), here[1] + share * (next[1] - here[1])])
    }
  }
  return kept
}
