import type { KeepOut, Pipe, Role } from './schema.ts'

/** Clearance that each role asks for where a keep-out names none, mm. Common practice, no source. */
export const roleClearance: Record<Role, number> = {
  safety: 10,
  lamp: 8,
  cooling: 12,
  moving: 20,
  hot: 25,
  body: 6,
  service: 8,
}
/** Expanded measuring uncertainty (k = 2) of a surface where none is named, mm. Common practice, no source. */
export const defaultUncertainty = 3
/** Clearance of a pipe to other parts where none is named, mm. Common practice, no source. */
export const defaultPipeClearance = 5
/** A pipe is exempt from what its port sits on over this many of its outside diameters. Common practice, no source. */
export const exemptDiameters = 1.5
/** Printed wherever one of these numbers is used. */
export const defaultsSource = 'common practice, no source'

export interface Asked {
  /** mm */
  readonly required: number
  /** mm, expanded, k = 2 */
  readonly uncertainty: number
  /** Which of the two the bay does not name. */
  readonly assumed: readonly ('clearance' | 'uncertainty')[]
}

/** What a keep-out asks of a part, its own numbers before those of its role. */
export function askedBy({ role, clearance, uncertainty }: Pick<KeepOut, 'role' | 'clearance' | 'uncertainty'>): Asked {
  return {
    required: clearance ?? roleClearance[role],
    uncertainty: uncertainty ?? defaultUncertainty,
    assumed: [
      ...(clearance === undefined ? (['clearance'] as const) : []),
      ...(uncertainty === undefined ? (['uncertainty'] as const) : []),
    ],
  }
}

/** What a pipe asks of other parts. */
export const askedByPipe = ({
  clearance,
}: Pick<Pipe, 'clearance'>): { readonly clearance: number; readonly assumed: boolean } => ({
  clearance: clearance ?? defaultPipeClearance,
  assumed: clearance === undefined,
})
