import type { Entry } from './bayView.ts'
import { nearestName } from './nearest.ts'
import type { Trouble } from './trouble.ts'

export function duplicateIds(ids: readonly Entry<string>[]): Trouble[] {
  const seen = new Set<string>()
  return ids.flatMap(({ path, item: id }) => {
    if (!seen.has(id)) {
      seen.add(id)
      return []
    }
    return [{ code: 'duplicate-id', path, expected: 'an id of its own in this list', got: id }]
  })
}

/** A reference to something that is not there. */
export function unknownName(
  code: string,
  path: Trouble['path'],
  got: string,
  known: readonly string[],
  what: string,
): Trouble {
  const nearest = nearestName(got, known)
  const list = known.length === 0 ? ', of which there is none' : known.length <= 12 ? `: ${known.join(', ')}` : ''
  return { code, path, expected: what + list, got, ...(nearest !== undefined && { nearest }) }
}
