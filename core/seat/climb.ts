import { length, sub, type Pose } from '../shape/vec.ts'
import { turnBetween } from './connect.ts'
import { poseAt } from './move.ts'
import type { SeatSearch } from './search.ts'
import { shorten } from './shorten.ts'
import { movesAlong, posesAlong, type Step } from './steps.ts'
import { type Plane, planes, tree } from './tree.ts'
import { tune, type Tuned } from './tune.ts'

const rounds = 12
const failures = 3

/**
 * More margin than tuning finds: a new tree near the way that is known, asked for more; shortened and tuned; until that
 * fails. It may take more moves.
 * @param share of the work that one tree may take
 */
export function climb(
  search: SeatSearch,
  from: Tuned,
  { seed, ceiling, until, share }: { seed: number; ceiling: number; until: number; share: number },
): Tuned {
  const { work } = search
  let best = from
  let step = Math.max(0.5, 0.5 * (ceiling - best.margin))
  let failed = 0
  for (let round = 0; round < rounds && failed < failures && step > 0.2; round++) {
    if (best.margin >= ceiling - 0.3 || work.isOver(until)) break
    const margin = Math.min(best.margin + step, ceiling - 0.2)
    const guides = posesOn(search, best.steps)
    const plane = planeOf(search, guides)
    const grown =
      guides.length > 0 &&
      tree(search, {
        seed: 31 * seed + round,
        margin,
        until: Math.min(work.done + share, until),
        guides,
        widest: 60,
        ...(plane && { plane }),
      })
    const tuned = grown && shortenedAndTuned(search, grown, { seed: seed + round, margin, ceiling, until })
    if (tuned && tuned.margin > best.margin) best = tuned
    else {
      failed++
      step *= 0.5
    }
  }
  return best
}

function shortenedAndTuned(
  search: SeatSearch,
  steps: readonly Step[],
  { seed, margin, ceiling, until }: { seed: number; margin: number; ceiling: number; until: number },
): Tuned {
  const shorter = shorten(search, steps, margin, until)
  return tune(search, shorter, { seed, margin, trials: 300, ceiling, until })
}

/** Poses along the way, without the last push. */
function posesOn({ subject }: SeatSearch, steps: readonly Step[]): Pose[] {
  const poses = posesAlong(subject.seat, steps)
  const moves = movesAlong(subject.seat, steps)
  return moves.slice(0, -1).flatMap((move, i) => [1, 2, 3, 4, 5, 6].map((k) => poseAt(poses[i], move, k / 6)))
}

/** The view that all the poses lie in, if there is one. */
function planeOf({ subject }: SeatSearch, poses: readonly Pose[]): Plane | undefined {
  const { seat } = subject
  return planes.find(({ square }) =>
    poses.every(({ at, turn }) => {
      const { axis, angle } = turnBetween(seat.turn, turn)
      const own = [0, 0, 0]
      own[square] = axis[square]
      const odd = length(sub(axis, [own[0], own[1], own[2]]))
      return Math.abs(at[square] - seat.at[square]) < 1e-6 && (angle < 1e-6 || odd < 1e-6)
    }),
  )
}
