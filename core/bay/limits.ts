/** How much of a stranger's bay is read at all. Far above any real bay, low enough that none can hang the program. */
export const bayLimits = {
  /** UTF-16 units of text. */
  text: 20_000_000,
  depth: 24,
  /** Values of any kind, lists and objects included. */
  values: 2_000_000,
  /** Faults told at once. */
  faults: 100,
} as const
