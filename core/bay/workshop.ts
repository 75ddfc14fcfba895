/**
 * Keeps what was built, by content: an edit rebuilds only what it changed, and what did not change stays the very same
 * object, so that later stages (trees, gaps) can tell by identity that their own results still hold.
 * Content and not identity is the key because undo and reading a file again bring equal bays that are new objects.
 */
export class Workshop {
  private readonly shelf = new Map<string, { readonly made: unknown; round: number }>()
  private readonly numbers = new WeakMap<object, number>()
  private numbered = 0
  private round = 0
  private readonly keptRounds: number

  /** @param keptRounds how many rounds something may lie unused: undo within them is as quick as the edit was */
  constructor(keptRounds = 12) {
    this.keptRounds = keptRounds
  }

  /** What `build` makes; made once for each key. `parts` must say all that the result depends on: JSON values, or objects kept by `numberOf`. */
  make<T>(kind: string, parts: readonly unknown[], build: () => T): T {
    const key = `${kind}:${JSON.stringify(parts)}`
    const kept = this.shelf.get(key)
    if (kept) {
      kept.round = this.round
      return kept.made as T
    }
    const made = build()
    this.shelf.set(key, { made, round: this.round })
    return made
  }

  /** A number that stands for this very object (a mesh), for use in a key. */
  numberOf(thing: object): number {
    const number = this.numbers.get(thing) ?? ++this.numbered
    this.numbers.set(thing, number)
    return number
  }

  /** Ends a round of work: what was not asked for in the last rounds is thrown away. */
  clear(): void {
    this.round++
    for (const [key, kept] of this.shelf) if (this.round - kept.round > this.keptRounds) this.shelf.delete(key)
  }

  get size(): number {
    return this.shelf.size
  }
}
