import { carriedFrom, poseAfter, poseOf } from '../../../core/seat/move.ts'
import type { SeatPath } from '../../../core/seat/answer.ts'
import type { Candidate } from '../../../core/bay/schema.ts'
import { identity, type Pose } from '../../../core/shape/vec.ts'
import { candidateIn, type WindowState } from '../state/windowState.ts'

/** How the moving parts stand off their drawn places, and where their outlines are drawn besides. */
export interface Carriage {
  readonly moving: ReadonlySet<string>
  /** Null at the seat. */
  readonly pose: Pose | null
  /** The same array for as long as the way is the same. */
  readonly swept: readonly Pose[]
}

const nothing: readonly Pose[] = []
/** Outlines along one move, and on a whole way: more would be a blur. */
const each = 3
const most = 12

export class Carrier {
  private last: { readonly path: SeatPath; readonly seat: Candidate; readonly swept: readonly Pose[] } | null = null

  /** Null where nothing moves. */
  carriage(state: WindowState): Carriage | null {
    const candidate = candidateIn(state)
    const { motion } = state
    if (!candidate || !motion) return null
    const seat = poseOf(candidate)
    const pose = carriedFrom(seat, poseAfter(motion.path, motion.at))
    return {
      moving: new Set(motion.moving),
      pose: isStill(pose) ? null : pose,
      swept: motion.swept ? this.swept(candidate, motion.path) : nothing,
    }
  }

  private swept(candidate: Candidate, path: SeatPath): readonly Pose[] {
    if (this.last?.path === path && this.last.seat === candidate) return this.last.swept
    const seat = poseOf(candidate)
    const parts = Math.max(1, Math.min(each, Math.floor(most / path.moves.length)))
    const swept = Array.from({ length: parts * path.moves.length }, (_, i) =>
      carriedFrom(seat, poseAfter(path, i / parts)),
    )
    this.last = { path, seat: candidate, swept }
    return swept
  }
}

const isStill = ({ turn, at }: Pose): boolean =>
  at.every((x) => Math.abs(x) < 1e-6) && turn.every((x, i) => Math.abs(x - identity[i]) < 1e-9)
