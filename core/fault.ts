/**
 * What is wrong with an input, as data. Core and readers return faults; `app/wording.ts` turns them into sentences.
 * Lowest module of the tree: everything may import it, it imports nothing.
 */
export interface Fault {
  /** Stable tag, kebab-case, e.g. 'not-a-number', 'unknown-field', 'planar-hull', 'mesh-missing', 'bay-too-new'. */
  readonly code: string
  /** File the fault is in, as the user named it. */
  readonly file?: string
  /** Id of the item concerned, e.g. 'lamp-left'. */
  readonly item?: string
  /** Path of the field in the file, e.g. 'keepOuts[3].shape.points'. */
  readonly field?: string
  /** What was expected, in words. */
  readonly expected?: string
  /** What was found instead; any JSON value, kept short. */
  readonly got?: unknown
  /** Line and column (from 1) for text that cannot be parsed. */
  readonly line?: number
  readonly column?: number
  /** A name close to an unknown one. */
  readonly nearest?: string
}

export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly Fault[] }

export const good = <T>(value: T): Outcome<T> => ({ ok: true, value })
export const bad = (...faults: Fault[]): Outcome<never> => ({ ok: false, faults })

/** Thrown only where no outcome can be returned (inside a worker call); carries its faults. */
export class FaultError extends Error {
  readonly faults: readonly Fault[]
  constructor(faults: readonly Fault[]) {
    super(faults.map((f) => f.code).join(', '))
    this.name = 'FaultError'
    this.faults = faults
  }
}
