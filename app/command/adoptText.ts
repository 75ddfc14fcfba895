import type { Candidate } from '../../core/bay/schema.ts'
import { listed } from '../wording/plainWords.ts'

/** What was written, and what `check` will say of it. */
export function adoptedText(file: string, { id }: Candidate, unrouted: readonly string[]): string {
  const written = `Wrote ${file}: candidate ${id} stands first in it, so it is the one that is meant where none is named.`
  if (unrouted.length === 0) return written
  const pipes = listed(unrouted.map((pipe) => `pipe ${pipe}`))
  const [has, is] = unrouted.length === 1 ? ['has no path yet', 'it is'] : ['have no path yet', 'they are']
  return `${written} There ${pipes} ${has}: check finds that core, tanks and stubs clear, and calls the whole unproved until ${is} routed.`
}
