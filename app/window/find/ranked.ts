/** What can be searched: a name, and words beside it that count less. */
export interface Searched {
  readonly label: string
  readonly detail: string
  /** Other words for it, which are not shown. */
  readonly also?: string
}

/** Letters as they are compared: without case, accents and the dashes and dots between words. */
export const folded = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/ø/g, 'o')
    .replace(/æ/g, 'ae')
    .replace(/ł/g, 'l')

const wordsOf = (text: string): string[] =>
  folded(text)
    .split(/[^\p{L}\p{N}+]+/u)
    .filter((word) => word !== '')

/** How well one typed word is met: whole words before beginnings before insides, the name before what stands beside it. */
function met(typed: string, name: readonly string[], beside: readonly string[]): number {
  const in_ = (list: readonly string[], at: number): number => {
    if (list.includes(typed)) return at + 3
    if (list.some((word) => word.startsWith(typed))) return at + 2
    // One letter inside a word is no sign of anything.
    return typed.length > 1 && list.some((word) => word.includes(typed)) ? at : 0
  }
  return in_(name, 4) || in_(beside, 1)
}

/**
 * What a few typed words mean: entries in which each of them is found, in any order; best first, and else in the order given.
 * Nothing typed finds everything.
 */
export function ranked<T extends Searched>(entries: readonly T[], typed: string): T[] {
  const wanted = wordsOf(typed)
  if (wanted.length === 0) return [...entries]
  const rated = entries.flatMap((entry, i) => {
    const [name, beside] = [wordsOf(entry.label), wordsOf(`${entry.detail} ${entry.also ?? ''}`)]
    const marks = wanted.map((word) => met(word, name, beside))
    if (marks.includes(0)) return []
    // Of two names that hold all that was typed the one with less beside it is more likely meant.
    const sum = marks.reduce((a, b) => a + b, 0) / wanted.length - name.length / 50
    const begins = folded(entry.label).startsWith(folded(typed.trim())) ? 1 : 0
    return [{ entry, i, sum: sum + begins }]
  })
  return rated.sort((a, b) => b.sum - a.sum || a.i - b.i).map(({ entry }) => entry)
}
