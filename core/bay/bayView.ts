import type { z } from 'zod'
import type { Path } from './jsonText.ts'
import { fixingSchema } from './mountSchema.ts'
import type { Fixing } from './mountSchema.ts'
import { candidateSchema, keepOutSchema, openingSchema, portSchema } from './schema.ts'
import type { Candidate, KeepOut, Opening, Port } from './schema.ts'
import { benderSchema, clampSchema, couplerSchema, stockElbowSchema, stockTubeSchema } from './workshopSchema.ts'
import type { Bender, Clamp, Coupler, StockElbow, StockTube } from './workshopSchema.ts'

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
  readonly fixings: readonly Entry<Fixing>[]
  readonly candidates: readonly Entry<Candidate>[]
  readonly benders: readonly Entry<Bender>[]
  readonly tubes: readonly Entry<StockTube>[]
  readonly elbows: readonly Entry<StockElbow>[]
  readonly couplers: readonly Entry<Coupler>[]
  readonly clamps: readonly Entry<Clamp>[]
  /** Ids of a list as written, in broken items too: a reference to such an item is not another fault. */
  readonly ids: Record<ListName, readonly Entry<string>[]>
  /** Lists that are missing or no lists: nothing can be said about references to them. */
  readonly unreadable: ReadonlySet<ListName>
}
export type ListName = (typeof listNames)[number]

const stockNames = ['tubes', 'elbows', 'couplers', 'clamps'] as const
const listNames = ['keepOuts', 'openings', 'ports', 'fixings', 'candidates', 'benders', ...stockNames] as const
const wanted: readonly ListName[] = ['keepOuts', 'candidates']

/** @param valid the whole bay has passed its schema, so no item needs to be looked at again */
export function viewOf(bay: Record<string, unknown>, valid: boolean): BayView {
  const lists = byName((name) => listAt(bay, name))
  const entries = <T>(name: ListName, schema: z.ZodType<T>) => entriesOf(lists[name], valid ? null : schema)
  return {
    keepOuts: entries('keepOuts', keepOutSchema),
    openings: entries('openings', openingSchema),
    ports: entries('ports', portSchema),
    fixings: entries('fixings', fixingSchema),
    candidates: entries('candidates', candidateSchema),
    benders: entries('benders', benderSchema),
    tubes: entries('tubes', stockTubeSchema),
    elbows: entries('elbows', stockElbowSchema),
    couplers: entries('couplers', couplerSchema),
    clamps: entries('clamps', clampSchema),
    unreadable: new Set(listNames.filter((name) => !isReadable(name, lists[name].items))),
    ids: byName((name) => idsOf(lists[name].items, lists[name].path)),
  }
}

const byName = <T>(made: (name: ListName) => T): Record<ListName, T> =>
  Object.fromEntries(listNames.map((name) => [name, made(name)])) as Record<ListName, T>

interface List {
  readonly path: Path
  readonly items: unknown
}

function listAt(bay: Record<string, unknown>, name: ListName): List {
  if (!(stockNames as readonly ListName[]).includes(name)) return { path: [name], items: bay[name] }
  const { stock } = bay
  const items = isObject(stock) ? stock[name] : stock
  return { path: ['stock', name], items }
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

const isReadable = (name: ListName, items: unknown): boolean =>
  Array.isArray(items) || (items === undefined && !wanted.includes(name))

function entriesOf<T>({ items, path }: List, schema: z.ZodType<T> | null): Entry<T>[] {
  if (!Array.isArray(items)) return []
  return items.flatMap((item, index) =>
    schema === null || schema.safeParse(item).success ? [{ path: [...path, index], item: item as T }] : [],
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
