/**
 * The name that an unknown one was probably meant to be, or undefined.
 * Case, spaces, hyphens and underscores do not count (`keep-outs` is `keepOuts`); else a few letters may differ, at most a third of them.
 */
export function nearestName(word: string, names: Iterable<string>): string | undefined {
  const plain = plainly(word).slice(0, 60)
  let best: string | undefined
  let fewest = Math.max(1, Math.floor(plain.length / 3)) + 0.5
  for (const name of names) {
    const changes = changesBetween(plain, plainly(name).slice(0, 60))
    if (changes < fewest) {
      fewest = changes
      best = name
    }
  }
  return best
}

const plainly = (word: string): string => word.toLowerCase().replace(/[\s_-]/g, '')

/** Letters added, dropped, replaced, or swapped with their neighbour (optimal string alignment; common practice). */
function changesBetween(a: string, b: string): number {
  let twoBack: number[] = []
  let back = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const replace = back[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)
      row[j] = Math.min(back[j] + 1, row[j - 1] + 1, replace)
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
      if (swapped) row[j] = Math.min(row[j], twoBack[j - 2] + 1)
    }
    twoBack = back
    back = row
  }
  return back[b.length]
}
