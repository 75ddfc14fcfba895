import { triangleAt } from '../../clearance/meshSearch.ts'
import { segmentSegment, segmentTriangle, segmentTriangleSize } from '../../clearance/segmentTriangle.ts'
import { spanStride } from '../../clearance/tubeSpans.ts'
import { placed } from '../../shape/vec.ts'
import type { MeshBody, TubeBody } from './distanceBodies.ts'
import { type PointDistance, pointToBody } from './distancePoint.ts'
import type { Keeper } from './keepers.ts'

/**
 * A convex part of a body with what is kept from it. The distance to a convex set is a convex function, so that over a box
 * it is greatest at a corner: that is what bounds on passages rest on.
 */
export class ConvexPiece {
  keeper!: Keeper
  private kind: 'body' | 'triangle' | 'rod' = 'body'
  /** Corners of a triangle, or ends of a rod, bay frame, mm. */
  private readonly points = new Float64Array(9)
  private rodRadius = 0
  private readonly near = new Float64Array(segmentTriangleSize)

  get obstacle(): number {
    return this.keeper.obstacle
  }

  /**
   * Becomes the piece of a body that a point found nearest.
   * @param element as `PointDistance` names it
   * @returns false where the body has no convex part there (next to the flat end of a bent tube)
   */
  take(keeper: Keeper, element: number): boolean {
    this.keeper = keeper
    const { body } = keeper
    if (body.kind === 'mesh') this.takeTriangle(body, element)
    else if (body.kind === 'tube') return this.takeRod(body, element)
    else this.kind = 'body'
    return true
  }

  private takeTriangle({ tree, form }: MeshBody, triangle: number): void {
    this.kind = 'triangle'
    triangleAt(tree, triangle, this.points)
    const { centre } = tree
    for (let i = 0; i < 9; i += 3) {
      const p = this.points
      p.set(placed(form.pose, [p[i] + centre[0], p[i + 1] + centre[1], p[i + 2] + centre[2]]), i)
    }
  }

  /**
   * What lies within radius − slack of a span's segment lies within the radius of the tube's line, so in the tube, unless
   * it stands out of a flat end: a straight there is taken less its last radius, a bend within two radii of one not at all.
   */
  private takeRod({ tube, spans }: TubeBody, span: number): boolean {
    const at = spanStride * span
    const n = tube.spans
    const p = this.points
    this.kind = 'rod'
    this.rodRadius = tube.radius - n[at + 7] - tube.rounding
    for (let k = 0; k < 6; k++) p[k] = n[at + k]
    const first = span === spans[0]
    const last = span === spans[spans.length - 1]
    if (tube.isStraight(span)) return this.shorten(first ? tube.radius : 0, last ? tube.radius : 0)
    const isFar = (end: number) => this.isFarFrom(n[end], n[end + 1], n[end + 2], 2.1 * tube.radius)
    return this.rodRadius > 0 && isFar(spanStride * spans[0]) && isFar(spanStride * spans[spans.length - 1] + 3)
  }

  private shorten(first: number, last: number): boolean {
    const p = this.points
    const way = [p[3] - p[0], p[4] - p[1], p[5] - p[2]]
    const length = Math.hypot(way[0], way[1], way[2])
    if (!(length > first + last)) return false
    for (let k = 0; k < 3; k++) {
      p[k] += (way[k] * first) / length
      p[3 + k] -= (way[k] * last) / length
    }
    return this.rodRadius > 0
  }

  private isFarFrom(x: number, y: number, z: number, reach: number): boolean {
    const p = this.points
    return segmentSegment(x, y, z, x, y, z, p[0], p[1], p[2], p[3], p[4], p[5], this.near) > reach * reach
  }

  /** Room for the centreline beside this piece alone at a point, mm: at least −keep, which is in the piece. Convex. */
  room(x: number, y: number, z: number, scratch: PointDistance): number {
    const { body, keep } = this.keeper
    const p = this.points
    if (this.kind === 'body') {
      pointToBody(body, x, y, z, Infinity, scratch)
      return Math.max(scratch.atMost, 0) - keep
    }
    if (this.kind === 'triangle') return Math.sqrt(segmentTriangle(x, y, z, x, y, z, p, Infinity, this.near)) - keep
    const squared = segmentSegment(x, y, z, x, y, z, p[0], p[1], p[2], p[3], p[4], p[5], this.near)
    return Math.max(Math.sqrt(squared) - this.rodRadius, 0) - keep
  }
}
