import type { Vec3 } from '../shape/vec.ts'
import type { Moving } from './advance.ts'
import type { SeatPiece } from './subject.ts'

const kept = new WeakMap<object, Map<number, Moving>>()

/** The part with every piece drawn in by so much on each side of its own box, mm; only for guidance, and to tell by how much a part misses. */
export function insetOf<T extends Moving>(moving: T, by: number): T {
  if (by === 0) return moving
  const known = kept.get(moving) ?? new Map<number, Moving>()
  kept.set(moving, known)
  const there = known.get(by) ?? { ...moving, pieces: moving.pieces.map((piece) => drawnIn(piece, by)) }
  known.set(by, there)
  return there as T
}

function drawnIn(piece: SeatPiece, by: number): SeatPiece {
  const middle = piece.low.map((low, k) => (low + piece.high[k]) / 2)
  const inward = (x: number, k: number) =>
    middle[k] + Math.sign(x - middle[k]) * Math.max(0, Math.abs(x - middle[k]) - by)
  return {
    ...piece,
    points: piece.points.map((x, i) => inward(x, i % 3)),
    low: piece.low.map(inward) as unknown as Vec3,
    high: piece.high.map(inward) as unknown as Vec3,
  }
}
