import { segmentSegment, segmentTriangleSize } from '../../clearance/segmentTriangle.ts'
import type { ArcPiece, Piece } from '../../shape/form.ts'
import { pointAlong } from '../../shape/centreline.ts'
import type { RouteProblem } from './problem.ts'

/** Arcs are cut into parts of at most this, radians. */
const part = (2 * Math.PI) / 180
/** Places face each other only where the pipe turns by half a turn between them; a hair less for rounding, radians. */
const facing = Math.PI - 1e-6

/**
 * What is left between a pipe and itself beyond `selfNeed`, surface to surface, mm; a lower bound, by less than 0.2 % of
 * the bend radius. Infinity where it turns too little to come back to itself.
 *
 * Two places count where the pipe turns by 180° or more from the one to the other, neighbours that fold back included:
 * where a curve is nearest to itself the way across is square to it at both ends, and between two such places every curve
 * turns by at least that. What turns less is near itself only because it is one pipe. One bend is not held against itself:
 * its radius is what it is.
 */
export function selfMargin(
  { radius, selfNeed }: Pick<RouteProblem, 'radius' | 'selfNeed'>,
  centreline: readonly Piece[],
): number {
  const parts = centreline.flatMap(partsOf)
  const turned = runningTurn(parts)
  const out = new Float64Array(segmentTriangleSize)
  let least = Infinity
  for (let j = 1; j < parts.length; j++) {
    const b = parts[j]
    for (let i = 0; i < j; i++) {
      const a = parts[i]
      if (turned[j + 1] - turned[i] < facing) break
      if (a.piece === b.piece) continue
      const [p, q, r, s] = [a.from, a.to, b.from, b.to]
      const squared = segmentSegment(p[0], p[1], p[2], q[0], q[1], q[2], r[0], r[1], r[2], s[0], s[1], s[2], out)
      least = Math.min(least, Math.sqrt(squared) - a.slack - b.slack)
    }
  }
  return least - 2 * radius - selfNeed
}

interface Part {
  /** Number of its straight or bend. */
  readonly piece: number
  readonly from: readonly [number, number, number]
  readonly to: readonly [number, number, number]
  /** How far the pipe's line may stray from the segment, mm. */
  readonly slack: number
  readonly turn: number
}

function partsOf(piece: Piece, number: number): Part[] {
  if (piece.kind === 'straight') return [{ piece: number, from: piece.from, to: piece.to, slack: 0, turn: 0 }]
  const count = Math.ceil(piece.angle / part)
  const points = Array.from({ length: count + 1 }, (_, k) => pointAlong(piece, k / count).point)
  const slack = rise(piece, count)
  const turn = piece.angle / count
  return points.slice(1).map((to, k) => ({ piece: number, from: points[k], to, slack, turn }))
}

const rise = ({ radius, angle }: ArcPiece, count: number): number => radius * (1 - Math.cos(angle / count / 2))

/** Turn up to the beginning of each part, and to the end of the last. */
function runningTurn(parts: readonly Part[]): number[] {
  const turned = [0]
  for (const { turn } of parts) turned.push(turned[turned.length - 1] + turn)
  return turned
}
