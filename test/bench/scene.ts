/** One way of answering a scene's question; ways of one scene answer the same and are timed in the same run. */
export interface Way {
  readonly name: string
  /** The others' ratios are counted against this one; of several so marked, against the quickest as measured. */
  readonly baseline?: boolean
  /** Answers for input i; a number that goes into the result's hash. */
  run(i: number): number | Promise<number>
  /** At most so many runs: for ways that take seconds. */
  readonly most?: number
  /** So slow that the times of its only answers have to do: one, or as many as `most` says. */
  readonly once?: boolean
  /** Times that were taken elsewhere, ms: in a page, where this program's clock does not stand. */
  readonly taken?: readonly number[]
  /** Which answers are successes; they are counted beside the times. */
  readonly found?: (answer: number) => boolean
  /** Agreement asked for with the first way that is not a baseline; undefined: another question, not compared. */
  readonly within?: number
}

export interface Scene {
  readonly name: string
  /** What is put in: sizes, gaps, how they spread. */
  readonly inputs: string
  /** How many different inputs there are. */
  readonly count: number
  readonly ways: readonly Way[]
  /** What is to be reached; told beside what was. */
  readonly aims?: readonly Aim[]
}

/**
 * A way is to be so many times as quick as every way whose name begins with `than`, to take no longer than `ms` (in the median,
 * or in so large a `share` of its runs), to answer no more than a share `above` the way `like`: costs; or to be successful in a
 * share `found` of its inputs.
 */
export type Aim =
  | { readonly way: string; readonly than: string; readonly times: number }
  | { readonly way: string; readonly ms: number; readonly share?: number }
  | { readonly way: string; readonly found: number }
  | { readonly way: string; readonly like: string; readonly above: number }
