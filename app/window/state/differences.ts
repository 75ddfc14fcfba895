import type { Bay } from '../../../core/bay/schema.ts'
import { pathText } from './edit.ts'

/** One thing in which two bays differ. */
export interface Difference {
  /** The items that it is in, outermost first: `candidates`, then `pipes`. */
  readonly items: readonly { readonly list: string; readonly name: string }[]
  /** `core.depth`, within the innermost item; empty: the item as a whole. */
  readonly field: string
  /** As the file has it, kept short; null where it is not there, true for an item that is there as a whole. */
  readonly before: string | true | null
  readonly after: string | true | null
}

type Items = Difference['items']

const most = 200
const longest = 60

/**
 * What is different between two bays, in the order of the file. Items of lists are the same by their id, wherever they
 * stand; an item that is only in one of the two is one difference. Of very many the first ones are told.
 */
export function differences(before: Bay, after: Bay): readonly Difference[] {
  const found: Difference[] = []
  compare(before, after, [], [], found)
  return found.slice(0, most)
}

function compare(before: unknown, after: unknown, items: Items, path: (string | number)[], found: Difference[]): void {
  if (Object.is(before, after) || found.length >= most) return
  if (Array.isArray(before) && Array.isArray(after) && [...before, ...after].every(isItem))
    compareItems(before, after, items, pathText(path), found)
  else if (isPlain(before) && isPlain(after))
    for (const field of new Set([...Object.keys(before), ...Object.keys(after)]))
      compare(before[field], after[field], items, [...path, field], found)
  else if (JSON.stringify(before) !== JSON.stringify(after))
    found.push({ items, field: pathText(path), before: shortly(before), after: shortly(after) })
}

function compareItems(
  before: readonly Item[],
  after: readonly Item[],
  items: Items,
  list: string,
  found: Difference[],
): void {
  const within = (one: Item): Items => [...items, { list, name: one.name ?? one.id }]
  for (const was of before)
    if (!after.some(({ id }) => id === was.id)) found.push({ items: within(was), field: '', before: true, after: null })
  for (const is of after) {
    const was = before.find(({ id }) => id === is.id)
    if (was) compare(was, is, within(is), [], found)
    else found.push({ items: within(is), field: '', before: null, after: true })
  }
}

interface Item {
  readonly id: string
  readonly name?: string
}
const isItem = (value: unknown): value is Item => isPlain(value) && typeof value['id'] === 'string'

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

function shortly(value: unknown): string | null {
  if (value === undefined) return null
  const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? '')
  return text.length > longest ? `${text.slice(0, longest)} …` : text
}
