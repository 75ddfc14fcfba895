import type { Outcome } from '../fault.ts'
import { good } from '../fault.ts'
import { viewOf } from './bayView.ts'
import { meaningTroubles } from './meaning.ts'
import { checkBay } from './read.ts'
import { baySchema } from './schema.ts'
import type { Bay } from './schema.ts'

/** Lists whose items are sound or not by themselves, whatever stands beside them. */
const lists = ['keepOuts', 'openings', 'ports', 'fixings', 'candidates', 'benders'] as const

/**
 * `checkBay` for a bay that was edited: items that are the same objects as before are not looked at again, only how they
 * go together. That is what a drag or a stepped number has time for.
 * @param after  any value that was made of `before`
 * @param before a bay that passes `checkBay`
 * @returns the edited bay itself, or the same faults as `checkBay`
 */
export function checkEdited(after: Bay, before: Bay): Outcome<Bay> {
  if (isSoundBeside(after, before)) return good(after)
  const checked = checkBay(after)
  return checked.ok ? good(after) : checked
}

function isSoundBeside(after: Bay, before: Bay): boolean {
  if (lists.some((name) => (after[name]?.length ?? 0) > (before[name]?.length ?? 0))) return false
  const news = withoutKnown(after, before)
  return (
    baySchema.safeParse(news).success && meaningTroubles(news, viewOf(news, true), viewOf(after, true)).length === 0
  )
}

/** The edited bay with those items only that were not in the one before. */
function withoutKnown(after: Bay, before: Bay): Bay {
  const fresh = lists.flatMap((name): [string, readonly unknown[]][] => {
    const [was, is] = [before[name], after[name]]
    if (!Array.isArray(was) || !Array.isArray(is)) return []
    const known = new Set<unknown>(was)
    return [[name, is.filter((item) => !known.has(item))]]
  })
  return { ...after, ...Object.fromEntries(fresh) }
}
