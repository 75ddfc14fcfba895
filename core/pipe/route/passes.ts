import type { Vec3 } from '../../shape/vec.ts'
import { sub } from '../../shape/vec.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import type { PassSide, Route } from './answer.ts'

/** What is farther from the pipe is not told of, mm. */
const near = 140

/**
 * On which side a pipe passes what is near it, the nearest first: the axis along which the way from the nearest point of
 * the keep-out to the pipe is longest. What the pipe is joined to is not passed.
 * @param rows of the pipe's ledger
 * @param part the pipe's name in the ledger
 * @param joined names of what it is joined to, its couplers and clamps among them
 */
export function passesOf(rows: readonly LedgerPair[], part: string, joined: ReadonlySet<string>): Route['passes'] {
  return rows
    .map((row) => {
      const isPart = row.part === part
      const keepOut = isPart ? row.keepOut : row.part
      const way = isPart ? sub(row.onPart, row.onKeepOut) : sub(row.onKeepOut, row.onPart)
      return { keepOut, gap: row.gap, side: sideOf(way) }
    })
    .flatMap(({ keepOut, gap, side }) => (side && gap < near && !joined.has(keepOut) ? [{ keepOut, side, gap }] : []))
    .sort((a, b) => a.gap - b.gap || (a.keepOut < b.keepOut ? -1 : 1))
}

const sides: readonly (readonly [PassSide, PassSide])[] = [
  ['front', 'behind'],
  ['left', 'right'],
  ['below', 'above'],
]

/** The side of an obstacle towards which a way leads; the first axis of those that are equal; null for none. */
function sideOf(way: Vec3): PassSide | null {
  const sizes = way.map(Math.abs)
  const most = Math.max(...sizes)
  if (!(most > 0)) return null
  const axis = sizes.indexOf(most)
  return sides[axis][way[axis] < 0 ? 0 : 1]
}
