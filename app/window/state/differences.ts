import type { Bay } from '../../../core/bay/schema.ts'
import { pathText } from './edit.ts'

/** One thing in which two bays differ. */
export interface Difference {
  /** `candidates, Wide core (wide): core.depth`, as people find it in the bay. */
  readonly place: string
  /** As the file has it, kept short; null where it is not there. */
  readonly before: string | null
  readonly after: string | null
}

const most = 200
const longest = 60

/**
 * What is different between two bays, in the order of the file. Items of lists are the same by their id, wherever they
 * stand; an item that is only in one of the two is one difference.
 */
export function differences(before: Bay, after: Bay): readonly Difference[] {
  const found: Difference[] = []
  compare(before, after, '', [], found)
  return found
}

function compare(before: unknown, after: unknown, item: string, path: (string | number)[], found: Difference[]): void {
  if (Object.is(before, after) || found.length >= most) return
  if (Array.isArray(before) && Array.isArray(after) && [...before, ...after].every(isItem))
    compareItems(before, after, [item, pathText(path)].filter((text) => text !== '').join(', '), found)
  else if (isPlain(before) && isPlain(after))
    for (const field of new Set([...Object.keys(before), ...Object.keys(after)]))
      compare(before[field], after[field], item, [...path, field], found)
  else if (JSON.stringify(before) !== JSON.stringify(after)) {
    const field = pathText(path)
    const place = item === '' ? field : `${item}: ${field}`
    found.push({ place, before: shortly(before), after: shortly(after) })
  }
}

function compareItems(before: readonly Item[], after: readonly Item[], list: string, found: Difference[]): void {
  const named = (one: Item) => `${list}, ${one.name ?? one.id}`
  for (const was of before)
    if (!after.some(({ id }) => id === was.id)) found.push({ place: named(was), before: shortly(was), after: null })
  for (const is of after) {
    const was = before.find(({ id }) => id === is.id)
    if (was) compare(was, is, named(is), [], found)
    else found.push({ place: named(is), before: null, after: shortly(is) })
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
