import type { NearestMiss } from './answer.ts'
import { certify } from './certify.ts'
import { fewMoves } from './fewMoves.ts'
import { insetOf } from './inset.ts'
import { offeredUp } from './move.ts'
import { SeatSearch } from './search.ts'
import { shorten } from './shorten.ts'
import { movesAlong, type Step } from './steps.ts'
import type { SeatSubject } from './subject.ts'
import { planes, tree } from './tree.ts'
import type { Work } from './work.ts'

/** How much the part is drawn in at first, mm a side, and down to what the answer is told apart. */
const tries = [1, 2, 4, 8, 16, 32]
const finest = 0.5

/**
 * How near it is: the least drawing in of the part, on every side, with which a way out is found, and what that way is
 * tightest at. Found by halving; evidence, no proof.
 * @param share work that one try may take
 * @returns null where none was found for the smallest part either, or the work was over
 */
export function nearestMiss(subject: SeatSubject, work: Work, seed: number, share: number): NearestMiss | null {
  const { depth, width, height } = subject.candidate.core
  const attempt = (by: number): Miss | null => {
    const steps = work.isOver() ? null : wayFor(insetOf(subject, by), work, seed, share)
    return steps && { by, steps }
  }
  let low = 0
  let best: Miss | null = null
  for (const by of tries.filter((each) => each < 0.45 * Math.min(depth, width, height))) {
    best = attempt(by)
    if (best) break
    low = by
  }
  while (best && best.by - low > finest && !work.isOver()) {
    const middle: number = (low + best.by) / 2
    const nearer = attempt(middle)
    if (nearer) best = nearer
    else low = middle
  }
  return best && missOf(subject, best)
}

interface Miss {
  readonly by: number
  readonly steps: readonly Step[]
}

function wayFor(subject: SeatSubject, work: Work, seed: number, share: number): readonly Step[] | null {
  const search = new SeatSearch(subject, work)
  const margin = 0.005
  const found = fewMoves(search, margin, work.done + 0.3 * share)
  const way =
    found ??
    planes.reduce<readonly Step[] | null>(
      (made, plane) => made ?? tree(search, { plane, widest: 60, seed, margin, until: work.done + 0.23 * share }),
      null,
    )
  return way && shorten(search, way, margin, work.done + 0.3 * share)
}

function missOf(subject: SeatSubject, { by, steps }: Miss): NearestMiss {
  const path = offeredUp(subject.seat, movesAlong(subject.seat, steps))
  const { part, keepOut, onKeepOut } = certify(insetOf(subject, by), path)
  return { by, part, keepOut, at: onKeepOut, path }
}
