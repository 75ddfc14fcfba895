import type { Bay } from '../../../core/bay/schema.ts'

/** A change of the bay as a value: what people call it, and the pure step itself. */
export interface Edit {
  readonly name: string
  /** Shown with undo and redo: 'Core depth 102 mm'. */
  readonly label: string
  /** 'merge' with the step before where that has the same `merge` key. */
  readonly undo: 'step' | 'merge'
  readonly merge?: string
  readonly apply: (bay: Bay) => Bay
}

export type FieldPath = readonly (string | number)[]

/**
 * The bay with one field replaced; `undefined` takes an optional field (or a list's entry) out.
 * Everything beside the path stays the same object; an equal value gives the very same bay.
 */
export function withField(bay: Bay, path: FieldPath, value: unknown): Bay {
  return changed(bay, path, value) as Bay
}

function changed(whole: unknown, path: FieldPath, value: unknown): unknown {
  const [head, ...rest] = path
  if (head === undefined) return value
  if (Array.isArray(whole)) return changedList(whole, Number(head), rest, value)
  const object = (whole ?? {}) as Record<string, unknown>
  const before = object[head]
  const after = changed(before, rest, value)
  if (Object.is(after, before)) return whole
  if (after !== undefined) return { ...object, [head]: after }
  const { [head]: _, ...others } = object
  return others
}

function changedList(list: readonly unknown[], index: number, rest: FieldPath, value: unknown): unknown {
  const after = changed(list[index], rest, value)
  if (Object.is(after, list[index])) return list
  if (after === undefined) return list.filter((_, i) => i !== index)
  return list.map((entry, i) => (i === index ? after : entry))
}

/** The bay with an entry put into a list before `index`; the list is made where there is none. */
export function withEntry(bay: Bay, path: FieldPath, index: number, entry: unknown): Bay {
  const list = (fieldAt(bay, path) ?? []) as readonly unknown[]
  return withField(bay, path, [...list.slice(0, index), entry, ...list.slice(index)])
}

export function fieldAt(whole: unknown, path: FieldPath): unknown {
  return path.reduce<unknown>((value, step) => (value as Record<string | number, unknown> | undefined)?.[step], whole)
}

/** `candidates[0].core.depth`, as faults name fields. */
export const pathText = (path: FieldPath): string =>
  path.map((step, i) => (typeof step === 'number' ? `[${step}]` : i === 0 ? step : `.${step}`)).join('')
