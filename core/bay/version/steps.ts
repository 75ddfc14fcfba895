/** Brings a bay of one version to the next; works on plain JSON, since older versions have no schema any more. */
export interface VersionStep {
  /** The version it starts from; it leads to `from + 1`. */
  readonly from: number
  readonly up: (bay: Record<string, unknown>) => Record<string, unknown>
}

/**
 * Every step so far, oldest first and without holes: the n-th starts from version n.
 * Version 1 is the first, so there is none yet. A new step is a file `2.ts` beside this one and a line here.
 */
export const steps: readonly VersionStep[] = []

/** The version this program writes. */
export const newestVersion = steps.length + 1

/** Brings a bay of version `from` (1 … newest) up to date. */
export function broughtUp(
  bay: Record<string, unknown>,
  from: number,
  list: readonly VersionStep[] = steps,
): Record<string, unknown> {
  return list.slice(from - 1).reduce((older, step) => ({ ...step.up(older), version: step.from + 1 }), bay)
}
