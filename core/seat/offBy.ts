import { distance, placed, type Pose } from '../shape/vec.ts'
import { turnBetween } from './connect.ts'
import type { SeatSubject } from './subject.ts'

/** How far at most a corner of the part's boxes stands from where it stands at the seat, mm. */
export function offBy({ pieces, seat }: Pick<SeatSubject, 'pieces' | 'seat'>, pose: Pose): number {
  let most = 0
  for (const { low, high } of pieces)
    for (let i = 0; i < 8; i++) {
      const corner = [i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]] as const
      most = Math.max(most, distance(placed(seat, corner), placed(pose, corner)))
    }
  return most
}

/** Between two poses: how far their middles lie apart, and the angle between them. */
export const missBetween = (a: Pose, b: Pose): { readonly millimetres: number; readonly degrees: number } => ({
  millimetres: distance(a.at, b.at),
  degrees: turnBetween(a.turn, b.turn).angle,
})
