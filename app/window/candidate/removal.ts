import type { Bay } from '../../../core/bay/schema.ts'

/** What goes, or loses a reference, together with something that is taken out; `of` is the name of a candidate where there are several. */
export interface AlsoGone {
  readonly kind: 'pipe' | 'mount' | 'hole' | 'tube' | 'bender' | 'joint' | 'clamp' | 'elbow'
  /** As people call it: the pipe's or the mount's name. */
  readonly name: string
  readonly of?: string
}

/** The bay without something, readable again, and what that took along. */
export interface Removal {
  readonly bay: Bay
  readonly also: readonly AlsoGone[]
}

/** The rest of a list; nothing where it would be empty, so that the field goes with its last entry. */
export const orNone = <T>(list: readonly T[]): T[] | undefined => (list.length > 0 ? [...list] : undefined)

/** A record with some fields replaced; those that are undefined are taken out. */
export function withFields<T extends object>(record: T, change: { readonly [K in keyof T]?: T[K] | undefined }): T {
  const entries = Object.entries({ ...record, ...change }).filter(([, value]) => value !== undefined)
  return Object.fromEntries(entries) as T
}
