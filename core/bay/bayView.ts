import type { z } from 'zod'
import type { Path } from './jsonText.ts'
import { candidateSchema, keepOutSchema, openingSchema, portSchema } from './schema.ts'
import type { Candidate, KeepOut, Opening, Port } from './schema.ts'
import { benderSchema } from './workshopSchema.ts'
import type { Bender } from './workshopSchema.ts'

/** An item of one of the bay's lists, with its path. */
export interface Entry<T> {
  readonly path: Path
  readonly item: T
}

/**
 * The items of a bay that their schemas accept, each with its place, and every id that is written anywhere.
 * Lets sense be checked beside broken items, so that one slip does not hide the others.
 */
export interface BayView {
  readonly keepOuts: readonly Entry<KeepOut>[]
  readonly openings: readonly Entry<Opening>[]
  readonly ports: readonly Entry<Port>[]
  readonly candidates: readonly Entry<Candidate>[]
  readonly benders: readonly Entry<Bender>[]
  /** Ids of a list as written, in broken items too: a reference to such an item is not another fault. */
  readonly ids: Record<ListName, readonly Entry<string>[]>
  /** Lists that are missing or no lists: nothing can be said about references to them. */
  readonly unreadable: ReadonlySet<ListName>
}
export type ListName = 'keepOuts' | 'openings' | 'ports' | 'candidates' | 'benders'

/** @param valid the whole bay has passed its schema, so no item needs to be looked at again */
export function viewOf(bay: Record<string, unknown>, valid: boolean): BayView {
  const lists = ['keepOuts', 'openings', 'ports', 'candidates', 'benders'] as const
  const optional: readonly ListName[] = ['openings', 'ports', 'benders']
  const unreadable = lists.filter(
    (name) => !Array.isArray(bay[name]) && !(bay[name] === undefined && optional.includes(name)),
  )
  const entries = <T>(list: ListName, schema: z.ZodType<T>) => entriesOf(bay[list], list, valid ? null : schema)
  return {
    keepOuts: entries('keepOuts', keepOutSchema),
    openings: entries('openings', openingSchema),
    ports: entries('ports', portSchema),
    candidates: entries('candidates', candidateSchema),
    benders: entries('benders', benderSchema),
    unreadable: new Set(unreadable),
    ids: {
      keepOuts: idsOf(bay.keepOuts, ['keepOuts']),
      openings: idsOf(bay.openings, ['openings']),
      ports: idsOf(bay.ports, ['ports']),
      candidates: idsOf(bay.candidates, ['candidates']),
      benders: idsOf(bay.benders, ['benders']),
    },
  }
}

function entriesOf<T>(list: unknown, name: ListName, schema: z.ZodType<T> | null): Entry<T>[] {
  if (!Array.isArray(list)) return []
  return list.flatMap((item, index) =>
    schema === null || schema.safeParse(item).success ? [{ path: [name, index], item: item as T }] : [],
  )
}

/** The ids in a list of items, where they are text at all. */
export function idsOf(list: unknown, path: Path): Entry<string>[] {
  if (!Array.isArray(list)) return []
  return list.flatMap((item, index) => {
    const id: unknown = typeof item === 'object' && item !== null ? (item as { id?: unknown }).id : undefined
    return typeof id === 'string' ? [{ path: [...path, index, 'id'], item: id }] : []
  })
}
