import { pointAlong } from '../../shape/centreline.ts'
import type { Piece } from '../../shape/form.ts'
import { arcSteps } from '../../shape/arcSteps.ts'
import { contoursOf } from './contours.ts'
import { add, along, cross, distance, dot, length, scale, squareTo, sub, unit, type Vec3 } from '../../shape/vec.ts'
import { nearestOf, type SightBlock, touching } from './convexSight.ts'
import { convexOutline } from './region.ts'
import { type Flat, frameOf, type Seen, seen, type AnyView } from './view.ts'

/** A round sweep as a picture shows it. */
export interface RoundSight {
  readonly blocks: readonly RoundBlock[]
  /** Its ends' circles and the contours along it: points on its surface, joined by straight lines. */
  readonly lines: readonly (readonly Seen[])[]
}

/** A piece of the sweep that is convex, with what it covers of the picture. */
interface RoundBlock extends SightBlock {
  readonly outline: readonly Flat[]
}

interface Disc {
  readonly centre: Vec3
  /** Unit; the way of the centreline. */
  readonly way: Vec3
  /** Unit, square to `way`. */
  readonly across: Vec3
}

/**
 * A tube or cylinder with flat ends, seen from one side. Its contours are where its surface turns away from the eye: at each
 * point of the centreline, square to it and to the eye, a radius to either side. That is the true silhouette of a sweep of
 * discs; only along arcs it is told by chords.
 * @param sag how far a chord may lie off its arc, mm
 */
export function roundSight(pieces: readonly Piece[], radius: number, view: AnyView, sag: number): RoundSight {
  const centreline = pieces.filter((piece) => piece.kind === 'arc' || distance(piece.from, piece.to) > 0)
  const discs = discsOf(centreline, radius, sag)
  const sides = Math.max(16, 4 * Math.ceil(arcSteps(2 * Math.PI, radius, sag) / 4))
  const rims = discs.map((disc) => rimOf(disc, radius, sides))
  const told = rims.map((rim) => rim.map((p) => seen(view, p)))
  const blocks = discs.slice(1).map((disc, i) => blockBetween(discs[i], disc, rims[i], told.slice(i, i + 2), view, sag))
  const closed = (rim: readonly Seen[]): Seen[] => [...rim, rim[0]]
  return {
    blocks,
    lines: [closed(told[0]), closed(told[told.length - 1]), ...contoursOf(centreline, radius, view, sag)],
  }
}

function discsOf(centreline: readonly Piece[], radius: number, sag: number): Disc[] {
  const first = pointAlong(centreline[0], 0)
  const discs: Disc[] = [{ centre: first.point, way: first.direction, across: squareTo(first.direction)[0] }]
  for (const piece of centreline) {
    const steps = piece.kind === 'straight' ? 1 : Math.max(2, arcSteps(piece.angle, piece.radius + radius, sag))
    for (let i = 1; i <= steps; i++) {
      const { point, direction } = pointAlong(piece, i / steps)
      discs.push({ centre: point, way: direction, across: turnedOver(discs[discs.length - 1], direction) })
    }
  }
  return discs
}

/** The same turn about the arc's axis takes way to way and across to across, so that facets between two discs are flat. */
function turnedOver({ way, across }: Disc, next: Vec3): Vec3 {
  const axis = cross(way, next)
  const sin = length(axis)
  if (sin < 1e-12) return across
  const k = scale(axis, 1 / sin)
  const cos = dot(way, next)
  const turned = add(add(scale(across, cos), scale(cross(k, across), sin)), scale(k, dot(k, across) * (1 - cos)))
  return unit(sub(turned, scale(next, dot(turned, next))))
}

function rimOf({ centre, way, across }: Disc, radius: number, sides: number): Vec3[] {
  const other = cross(way, across)
  return Array.from({ length: sides }, (_, i) => {
    const a = (2 * Math.PI * i) / sides
    return along(along(centre, across, radius * Math.cos(a)), other, radius * Math.sin(a))
  })
}

/**
 * Between two discs of one straight or arc all lines from rim to rim are parallel, so the piece is a prism cut off by two
 * planes: convex. On the inside of a bend its chords reach out of the tube by the sag, which its slack takes back.
 */
function blockBetween(
  from: Disc,
  to: Disc,
  rim: readonly Vec3[],
  told: readonly (readonly Seen[])[],
  view: AnyView,
  sag: number,
): RoundBlock {
  const planes: number[] = []
  const push = (normal: Vec3, point: Vec3) => {
    const n = unit(normal)
    planes.push(dot(n, view.right), dot(n, view.up), dot(n, view.eye), dot(n, point))
  }
  push(scale(from.way, -1), from.centre)
  push(to.way, to.centre)
  const chord = sub(to.centre, from.centre)
  rim.forEach((p, i) => {
    const side = sub(rim[(i + 1) % rim.length], p)
    const out = cross(side, chord)
    push(dot(out, sub(p, from.centre)) < 0 ? scale(out, -1) : out, p)
  })
  const points = told.flat()
  const isBent = dot(from.way, to.way) < 1 - 1e-12
  return {
    planes: Float64Array.from(planes),
    frame: frameOf(points),
    outline: convexOutline(points.map(([u, v]): Flat => [u, v])),
    nearest: nearestOf(points),
    slack: isBent ? 2 * sag : touching,
  }
}
