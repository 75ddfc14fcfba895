import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkEdited } from './checkEdited.ts'
import { checkBay, readBay } from './read.ts'
import type { Bay } from './schema.ts'

type Path = readonly (string | number)[]

const examples = ['tarnbeck', 'corvane'].map((name): Bay => {
  const read = readBay(readFileSync(new URL(`../../assets/${name}/${name}.bay.json`, import.meta.url), 'utf8'))
  if (!read.ok) throw new Error(JSON.stringify(read.faults))
  return read.value
})

/** Every place of a value, lists and objects too. */
function placesIn(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path]
  return [path, ...Object.entries(value).flatMap(([key, inner]) => placesIn(inner, [...path, stepOf(value, key)]))]
}
const stepOf = (of: object, key: string) => (Array.isArray(of) ? Number(key) : key)

/** Everything beside the path stays the same object, as with every edit; undefined takes the entry out. */
function put(whole: unknown, [step, ...rest]: Path, value: unknown): unknown {
  if (step === undefined) return value
  const inner = put((whole as Record<string | number, unknown>)[step], rest, value)
  if (Array.isArray(whole))
    return whole.flatMap((item, i) => (i === step ? (inner === undefined ? [] : [inner]) : [item]))
  return { ...(whole as object), [step]: inner }
}

const values = [
  undefined,
  null,
  Number.NaN,
  0,
  -1,
  1e12,
  12.5,
  '',
  'wide',
  'a\u0000b',
  [],
  {},
  true,
  [0, 0, 0],
  'crash-can',
]
const places = examples.map((bay) => placesIn(bay).slice(1))

const anyEdit = fc
  .nat(examples.length - 1)
  .chain((of) => fc.tuple(fc.constant(of), fc.constantFrom(...places[of]), fc.constantFrom(...values)))

describe('an edited bay', () => {
  test('is accepted and refused as the whole bay is, with the same faults', () => {
    fc.assert(
      fc.property(anyEdit, ([of, path, value]) => {
        const after = put(examples[of], path, value) as Bay
        const whole = checkBay(after)
        const edited = checkEdited(after, examples[of])
        if (whole.ok) expect(edited).toEqual({ ok: true, value: after })
        else expect(edited).toEqual(whole)
      }),
      {
        numRuns: 400,
        examples: [[[0, ['keepOuts', 0, 'id'], 'crash-can']], [[0, ['candidates', 0, 'core', 'depth'], 96]]],
      },
    )
  })

  test('comes back as the very object, so that what was not touched stays the same', () => {
    const [bay] = examples
    const after = put(bay, ['candidates', 0, 'core', 'depth'], 96) as Bay
    const checked = checkEdited(after, bay)
    expect(checked.ok && checked.value).toBe(after)
  })

  test('items that were there before but stand twice now are found', () => {
    const [bay] = examples
    const after: Bay = { ...bay, keepOuts: bay.keepOuts.map((item, i) => (i === 1 ? bay.keepOuts[0] : item)) }
    const checked = checkEdited(after, bay)
    expect(checked.ok).toBe(false)
    expect(checked).toEqual(checkBay(after))
  })

  test('one more than a list may hold is refused', () => {
    const [bay] = examples
    const can = bay.keepOuts[0]
    const full: Bay = {
      ...bay,
      keepOuts: Array.from({ length: 1000 }, (_, i) => ({ ...can, id: `can-${i}`, name: `Can ${i}` })),
    }
    const after: Bay = { ...full, keepOuts: [...full.keepOuts, { ...can, id: 'one-more', name: 'One more' }] }
    expect(checkEdited(after, full)).toEqual(checkBay(after))
    expect(checkEdited(after, full).ok).toBe(false)
  })
})
