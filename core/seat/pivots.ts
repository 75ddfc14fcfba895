import type { Vec3 } from '../shape/vec.ts'
import type { SeatPiece } from './subject.ts'

/** Points of the part, its own frame, that a person would turn it about: middle, ends, edges. */
export function pivotsOf(pieces: readonly SeatPiece[]): Vec3[] {
  const low = [0, 1, 2].map((k) => Math.min(...pieces.map((piece) => piece.low[k])))
  const high = [0, 1, 2].map((k) => Math.max(...pieces.map((piece) => piece.high[k])))
  const [x, y, z] = [0, 1, 2].map((k) => (low[k] + high[k]) / 2)
  return [
    [x, y, z],
    [x, low[1], z],
    [x, high[1], z],
    ...[low[2], high[2]].flatMap((edge): Vec3[] => [
      [low[0], y, edge],
      [high[0], y, edge],
    ]),
    ...[low[1], high[1]].flatMap((edge): Vec3[] => [
      [low[0], edge, z],
      [high[0], edge, z],
    ]),
  ]
}
