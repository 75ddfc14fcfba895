import type { Bay, Role } from '../../../core/bay/schema.ts'
import type { Ledger } from '../../../core/verdict/answer.ts'
import type { RoleLook, Seeing } from './seeing.ts'

const known = new WeakMap<Bay, ReadonlyMap<string, Role>>()

/** The role of every keep-out by its key: its id, or that of its mirror image. */
export function rolesOf(bay: Bay): ReadonlyMap<string, Role> {
  const before = known.get(bay)
  if (before) return before
  const roles = new Map<string, Role>()
  for (const { id, mirror, role } of bay.keepOuts) {
    roles.set(id, role)
    if (mirror) roles.set(`${id}-mirror`, role)
  }
  known.set(bay, roles)
  return roles
}

/**
 * How a keep-out is drawn, by its role and by how near it is.
 * One whose gap is not known is never taken for a far one: it stays in the drawing.
 * @param key id of a keep-out, or of its mirror image
 * @param gaps least gap of each, mm; see `leastGaps`
 */
export function lookOf(key: string, bay: Bay | null, seeing: Seeing, gaps: ReadonlyMap<string, number>): RoleLook {
  const gap = gaps.get(key)
  if (seeing.within !== null && gap !== undefined && gap > seeing.within) return 'hidden'
  const role = bay && rolesOf(bay).get(key)
  return (role && seeing.roles[role]) ?? 'drawn'
}

const none: ReadonlyMap<string, number> = new Map()
const measured = new WeakMap<Ledger, ReadonlyMap<string, number>>()

/** The least gap of each keep-out to any part of the candidate, mm. */
export function leastGaps(ledger: Ledger | null): ReadonlyMap<string, number> {
  if (!ledger) return none
  const before = measured.get(ledger)
  if (before) return before
  const least = new Map<string, number>()
  for (const { keepOut, between, gap } of ledger.pairs)
    if (!between) least.set(keepOut, Math.min(gap, least.get(keepOut) ?? Infinity))
  measured.set(ledger, least)
  return least
}

/** Keys of all keep-outs with this look at present, in the bay's order. */
export function keysWith(look: RoleLook, bay: Bay | null, seeing: Seeing, ledger: Ledger | null): readonly string[] {
  if (!bay) return []
  const gaps = leastGaps(ledger)
  return [...rolesOf(bay).keys()].filter((key) => lookOf(key, bay, seeing, gaps) === look)
}
