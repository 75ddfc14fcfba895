import type { Fault } from '../fault.ts'
import { lineAndColumn, placesOf } from './jsonText.ts'
import type { Path } from './jsonText.ts'
import { bayLimits } from './limits.ts'
import { printable } from './printable.ts'

/** What is wrong with a bay, before it is told to anybody: the place as a path into the JSON value. */
export interface Trouble extends Omit<Fault, 'file' | 'item' | 'field' | 'line' | 'column'> {
  readonly path: Path
  /** Index in the text, where the scanner knows it better than the path does. */
  readonly at?: number
}

export interface Source {
  readonly file?: string
  /** The text that the value was read from, for lines and columns. */
  readonly text?: string
}

/**
 * Troubles as faults: with file, item, field, line and column, in the order of the text.
 * Beyond `bayLimits.faults` the rest is only counted, in a last fault 'more-faults'.
 */
export function toFaults(troubles: readonly Trouble[], value: unknown, { file, text }: Source): Fault[] {
  const told = troubles.slice(0, bayLimits.faults * 4)
  const places = text === undefined ? told.map((_, index) => index) : placesIn(text, told)
  const inOrder = told.map((trouble, index) => ({ trouble, place: places[index] })).sort((a, b) => a.place - b.place)
  const faults = inOrder.slice(0, bayLimits.faults).map(({ trouble, place }): Fault => {
    const { path, code, expected, got, nearest } = trouble
    const item = itemOf(value, path)
    return {
      code,
      ...(file !== undefined && { file }),
      ...(item !== undefined && { item: printable(item) }),
      ...(path.length > 0 && { field: printable(fieldText(path)) }),
      ...(expected !== undefined && { expected }),
      ...('got' in trouble && { got: shortly(got) }),
      ...(text !== undefined && lineAndColumn(text, place)),
      ...(nearest !== undefined && { nearest: printable(nearest) }),
    }
  })
  const untold = troubles.length - faults.length
  return untold > 0 ? [...faults, { code: 'more-faults', ...(file !== undefined && { file }), got: untold }] : faults
}

function placesIn(text: string, troubles: readonly Trouble[]): number[] {
  const found = placesOf(
    text,
    troubles.map((trouble) => trouble.path),
    bayLimits,
  )
  return troubles.map((trouble, index) => trouble.at ?? found[index])
}

/** `keepOuts[3].shape.points` */
export function fieldText(path: Path): string {
  return path
    .map((key, index) =>
      typeof key === 'number'
        ? `[${key}]`
        : (index > 0 ? '.' : '') + (/^[\w-]+$/.test(key) ? key : JSON.stringify(key)),
    )
    .join('')
}

/** The id of the innermost item that the path leads through. */
function itemOf(value: unknown, path: Path): string | undefined {
  let item: string | undefined
  let here: unknown = value
  for (const key of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, key)) break
    here = (here as Record<string | number, unknown>)[key]
    const id =
      typeof here === 'object' && here !== null && Object.hasOwn(here, 'id') ? (here as { id: unknown }).id : undefined
    if (typeof id === 'string' && id !== '') item = shorten(id, 60)
  }
  return item
}

export function valueAt(value: unknown, path: Path): unknown {
  let here: unknown = value
  for (const key of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, key)) return undefined
    here = (here as Record<string | number, unknown>)[key]
  }
  return here
}

/** What was found, short enough to print. */
function shortly(got: unknown): unknown {
  if (typeof got === 'string') return printable(shorten(got, 80))
  if (typeof got === 'number') return Number.isFinite(got) ? got : String(got)
  if (typeof got !== 'object' || got === null) return got
  const text = JSON.stringify(got) ?? ''
  if (text.length <= 80) return printable(text) === text ? JSON.parse(text) : printable(text)
  return Array.isArray(got) ? `a list of ${got.length}` : 'an object'
}

const shorten = (text: string, most: number): string => (text.length <= most ? text : `${text.slice(0, most - 1)}…`)
