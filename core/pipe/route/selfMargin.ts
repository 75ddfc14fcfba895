import { segmentSegment, segmentTriangleSize } from '../../clearance/segmentTriangle.ts'
import type { ArcPiece, Piece } from '../../shape/form.ts'
import { pointAlong } from '../../shape/centreline.ts'
import type { RouteProblem } from './problem.ts'

/** Arcs are cut into parts of at most this, radians. */
const part = (5 * Math.PI) / 180
/** Two places of a pipe face each other only where it turns at least this much between them, radians. */
const facing = (120 * Math.PI) / 180

/**
 * What is left between a pipe and itself beyond `selfNeed`, surface to surface, mm; a lower bound, by less than 0.1 % of
 * the bend radius. Infinity where it turns too little to come back to itself.
 *
 * Two places count where the pipe turns by 120° or more between them, neighbours that fold back included: between places
 * that face each other a curve turns by 180° at least, and what turns less stays apart by half its length or is near
 * itself only because it is one pipe. One tight bend is not held against itself: what its own radius cannot give is not
 * asked.
 */
export function selfMargin(
  { radius, bendRadius, selfNeed }: Pick<RouteProblem, 'radius' | 'bendRadius' | 'selfNeed'>,
  centreline: readonly Piece[],
): number {
  const parts = centreline.flatMap(partsOf)
  const turned = runningTurn(parts)
  const asked = Math.min(2 * radius + selfNeed, 1.7 * bendRadius)
  const out = new Float64Array(segmentTriangleSize)
  let least = Infinity
  for (let j = 1; j < parts.length; j++) {
    const b = parts[j]
    for (let i = 0; i < j; i++) {
      const a = parts[i]
      // Turn from the end of the one to the beginning of the other.
      if (turned[j] - turned[i + 1] < facing) break
      const [p, q, r, s] = [a.from, a.to, b.from, b.to]
      const squared = segmentSegment(p[0], p[1], p[2], q[0], q[1], q[2], r[0], r[1], r[2], s[0], s[1], s[2], out)
      least = Math.min(least, Math.sqrt(squared) - a.slack - b.slack)
    }
  }
  return least - asked
}

interface Part {
  readonly from: readonly [number, number, number]
  readonly to: readonly [number, number, number]
  /** How far the pipe's line may stray from the segment, mm. */
  readonly slack: number
  readonly turn: number
}

function partsOf(piece: Piece): Part[] {
  if (piece.kind === 'straight') return [{ from: piece.from, to: piece.to, slack: 0, turn: 0 }]
  const count = Math.ceil(piece.angle / part)
  const points = Array.from({ length: count + 1 }, (_, k) => pointAlong(piece, k / count).point)
  const slack = rise(piece, count)
  const turn = piece.angle / count
  return points.slice(1).map((to, k) => ({ from: points[k], to, slack, turn }))
}

const rise = ({ radius, angle }: ArcPiece, count: number): number => radius * (1 - Math.cos(angle / count / 2))

/** Turn up to the beginning of each part, and to the end of the last. */
function runningTurn(parts: readonly Part[]): number[] {
  const turned = [0]
  for (const { turn } of parts) turned.push(turned[turned.length - 1] + turn)
  return turned
}
