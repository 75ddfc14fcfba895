import type { SeatPath } from '../../core/seat/answer.ts'
import { motionsOf, type Motion } from '../../core/seat/motion.ts'
import { poseOf, posesFrom } from '../../core/seat/move.ts'
import { pairsFor } from '../../core/seat/onTheWay.ts'
import type { SeatSubject } from '../../core/seat/subject.ts'
import { Sweeps } from '../../core/seat/sweeps.ts'
import { length, sub } from '../../core/shape/vec.ts'

export interface Dense {
  /** Least margin seen, mm: no proof of what lies between two poses. */
  readonly margin: number
  readonly poses: number
}

/**
 * What anybody would do first to know the least margin of a path: look at it pose by pose, no point of the part going
 * farther than `apart` from one to the next, by the same distance queries that the certifier asks. It is given what a
 * careful hand would give it: no query looks farther than the least margin so far.
 * @param apart mm
 */
export function denseMargin(subject: SeatSubject, { start, moves }: SeatPath, apart: number): Dense {
  const sweeps = new Sweeps()
  const pairs = pairsFor(subject)
  const reach = Math.max(...subject.pieces.map(({ low, high }) => length(sub(high, low))))
  const from = poseOf(start)
  let margin = Infinity
  let poses = 0
  for (const motion of motionsOf(posesFrom(from, moves), moves)) {
    const steps = Math.max(1, Math.ceil(farthest(motion, reach, subject) / apart))
    for (let k = 0; k <= steps; k++, poses++)
      for (const { piece, obstacle, asked } of pairs) {
        const cut = margin + asked
        if (!(cut > 0)) continue
        sweeps.load(motion, piece, k / steps, k / steps)
        const gap = sweeps.gap(obstacle, cut)
        if (gap < cut) margin = gap - asked
      }
  }
  return { margin, poses }
}

function farthest(motion: Motion, reach: number, { pieces }: SeatSubject): number {
  if (motion.angle === 0) return motion.travel(reach)
  return Math.max(...pieces.map((piece) => motion.travel(motion.radiusOf(piece, piece.points))))
}
