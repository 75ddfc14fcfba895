import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import { mountedBay } from '../../../test/kit/mountedBay.ts'
import { bareCandidate, keepOut, tinyBay } from '../../../test/kit/tinyBay.ts'
import { readBay } from '../../bay/read.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import { LedgerMemory } from '../../verdict/memory.ts'
import { changedFigures, type Json, type WholeAnswer, wholeAnswer } from './answer.ts'
import { sheetFacts } from './facts.ts'
import type { SheetFacts } from './sheetFacts.ts'
import { whatProves } from './proving.ts'

const sha = 'ab'.repeat(32)
let facts: SheetFacts
let answer: WholeAnswer

beforeAll(() => {
  const file = new URL('../../../assets/corvane/corvane.bay.json', import.meta.url)
  const bay = readBay(readFileSync(file, 'utf8'), 'corvane.bay.json')
  if (!bay.ok) throw new Error(JSON.stringify(bay.faults))
  const made = sheetFacts(bay.value, 'narrow', new Map())
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  facts = made.value
  answer = wholeAnswer(facts, sha)
})

describe('the whole answer', () => {
  test('the same every time, and whatever was computed before with the same memory', () => {
    const memory = new LedgerMemory()
    const text = JSON.stringify(answer)
    for (const id of ['deep', 'narrow', 'narrow']) {
      const again = sheetFacts(facts.bay, id, facts.meshes, {}, memory)
      if (again.ok && id === 'narrow') expect(JSON.stringify(wholeAnswer(again.value, sha))).toBe(text)
    }
  })

  test('holds every figure that the facts hold, unrounded, and neither bay nor work', () => {
    expect(Object.keys(answer)).toEqual([
      ...['format', 'version', 'bay', 'candidate', 'ledger', 'bends', 'mounts', 'way', 'largest', 'parts', 'onCar'],
      ...['datum', 'safety'],
    ])
    expect((answer.ledger as { pairs: unknown[] }).pairs).toEqual(JSON.parse(JSON.stringify(facts.ledger.pairs)))
    expect(answer.bay).toEqual({ name: facts.bay.name, sha256: sha })
    expect((answer.onCar as unknown[]).length).toBe(facts.onCar.length)
    const text = JSON.stringify(answer)
    expect(text).not.toContain('queries')
    expect(text).not.toContain('"keepOuts"')
    expect(text.length).toBeGreaterThan(50_000)
  })
})

/** Where the numbers and words of a value are: as keys to follow. */
function leaves(value: Json, path: readonly (string | number)[] = []): (readonly (string | number)[])[] {
  if (Array.isArray(value)) return value.flatMap((item, i) => leaves(item as Json, [...path, i]))
  if (typeof value === 'object' && value !== null)
    return Object.entries(value).flatMap(([key, item]) => leaves(item as Json, [...path, key]))
  return typeof value === 'number' || typeof value === 'string' ? [path] : []
}
function changed(value: Json, [key, ...rest]: readonly (string | number)[], change: (leaf: Json) => Json): Json {
  if (key === undefined) return change(value)
  const copy = (Array.isArray(value) ? [...value] : { ...(value as object) }) as Record<string | number, Json>
  copy[key] = changed(copy[key], rest, change)
  return copy as Json
}

describe('what changed in it', () => {
  test('nothing in itself, however its keys and named things are ordered', () => {
    expect(changedFigures(answer, answer)).toEqual([])
    const ledger = answer.ledger as { readonly [key: string]: Json }
    const turned = { ...answer, ledger: { ...ledger, pairs: [...(ledger.pairs as Json[])].reverse() } }
    expect(changedFigures(answer, Object.fromEntries(Object.entries(turned).reverse()) as WholeAnswer)).toEqual([])
  })

  test('any number that is changed beyond its error is found, and no other (seed 8, 120 of them)', () => {
    const places = leaves(answer)
    expect(places.length).toBeGreaterThan(5000)
    let numbers = 0
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: places.length - 1 }),
        fc.double({ min: 0.002, max: 9, noNaN: true }),
        (n, by) => {
          const path = places[n]
          const other = changed(answer, path, (leaf) => {
            if (typeof leaf !== 'number') return `${String(leaf)}!`
            numbers++
            return leaf + by * Math.max(1, Math.abs(leaf))
          })
          const found = changedFigures(answer, other)
          expect(found.length, path.join('.')).toBeGreaterThan(0)
          // A changed name makes another thing of it: the one is missing and the other new.
          expect(found.length, path.join('.')).toBeLessThanOrEqual(2)
        },
      ),
      { seed: 8, numRuns: 120 },
    )
    expect(numbers).toBeGreaterThan(60)
  })

  test('a number is told with its path, and rounding and the stated error are no change', () => {
    const of = (gap: number, error = 0.001, tolerance = 1): Json => ({
      pairs: [{ part: 'core', keepOut: 'beam', gap, error, tolerance }],
    })
    expect(changedFigures(of(10), of(10.0009))).toEqual([])
    expect(changedFigures(of(10), of(10.0011))).toEqual([{ path: 'pairs[core/beam].gap', before: 10, after: 10.0011 }])
    // The error belongs to the gap and not to what stands beside it.
    expect(changedFigures(of(10, 0.001, 1), of(10, 0.001, 1.0005))).toHaveLength(1)
    expect(changedFigures(of(10, 0.001, 1), of(10, 0.001, 1 + 1e-9))).toEqual([])
  })

  test('what only one has, words, and lists of another length', () => {
    expect(changedFigures({ a: 1 }, { a: 1, b: 2 })).toEqual([{ path: 'b', before: null, after: 2 }])
    expect(changedFigures({ a: [1, 2] }, { a: [1] })).toEqual([{ path: 'a[1]', before: 2, after: null }])
    expect(changedFigures({ v: 'clears' }, { v: 'short' })).toHaveLength(1)
    expect(changedFigures({ v: 1 }, { v: '1' })).toHaveLength(1)
  })
})

describe('what the facts say where a question cannot be put', () => {
  const of = (bay: Parameters<typeof sheetFacts>[0]) => {
    const made = sheetFacts(bay, undefined, new Map())
    if (!made.ok) throw new Error(JSON.stringify(made.faults))
    return made.value
  }
  const rail = keepOut('rail', { kind: 'box', at: [0, 0, -80], size: [40, 400, 40] })

  test('nothing stays: no way in is judged, and why is told', () => {
    const { way } = of(tinyBay([{ ...rail, fitting: 'comes-off' }]))
    expect(way).toMatchObject({ own: false, answer: null, faults: [{ code: 'nothing-stays' }] })
  })

  test('the way that was adopted is judged, and one that ends beside the seat is not', () => {
    const start = { at: [0, 0, 400], turn: [0, 0, 0] } as const
    const down = (z: number) => ({
      start: { at: [...start.at], turn: [...start.turn] } as never,
      moves: [
        {
          shift: [0, 0, z] as [number, number, number],
          pivot: [0, 0, 400] as [number, number, number],
          axis: [0, 0, 1] as [number, number, number],
          angle: 0,
        },
      ],
    })
    expect(of(tinyBay([rail], bareCandidate({ offering: down(-400) }))).way).toMatchObject({
      own: true,
      answer: { answer: 'proved' },
    })
    expect(of(tinyBay([rail], bareCandidate({ offering: down(-390) }))).way).toMatchObject({
      own: true,
      answer: null,
      faults: [{ code: 'moves-miss-seat' }],
    })
  })

  test('no limits that bound the core: no largest core, and why is told', () => {
    const { largest } = of(tinyBay([rail]))
    expect(largest.answer).toBeNull()
    expect(largest.faults.length).toBeGreaterThan(0)
    expect(largest.now).toBe(100 * 200 * 80)
  })

  test('safety structures and lamps by name, mirror images too, also those left out for a look', () => {
    const beam = keepOut('beam', { kind: 'box', at: [-100, 0, 0], size: [20, 100, 20] }, { role: 'safety' })
    const lamp = keepOut('lamp', { kind: 'box', at: [0, 300, 0], size: [20, 20, 20] }, { role: 'lamp', mirror: true })
    const { safety } = of(tinyBay([rail, { ...beam, enabled: false }, lamp]))
    expect(safety.map(({ keepOut: id, leftOut, tightest }) => [id, leftOut, tightest?.gap ?? null])).toEqual([
      ['beam', true, null],
      ['lamp', false, 190],
      ['lamp-mirror', false, 190],
    ])
  })

  test('a stop that is asked for ends the searches and not the facts', () => {
    const made = sheetFacts(mountedBay(), undefined, new Map(), { stop: () => 'cancelled' })
    expect(made.ok && made.value.mounts.mounts.length).toBe(1)
  })
})

describe('what would prove an unproved pair', () => {
  const pair: LedgerPair = {
    part: 'core',
    keepOut: 'beam',
    role: 'safety',
    verdict: 'unproved',
    onPart: [0, 0, 0],
    onKeepOut: [1, 0, 0],
    gap: 12,
    error: 0,
    tolerance: 1.5,
    uncertainty: 3,
    required: 10,
    margin: -2.5,
  }

  test('uncertainty or tolerance down to what is left, the larger share first', () => {
    // 12 − 1.5 − 3 − 10 = −2.5: with U 0.5 it just holds; no tolerance helps.
    expect(whatProves({ ...pair, margin: -2.5 })).toEqual({
      ...{ most: 'uncertainty', uncertaintyTo: 0.5, toleranceTo: null, room: 2.5 },
    })
    expect(whatProves({ ...pair, margin: -1, tolerance: 5, movement: 4.5 })).toMatchObject({
      ...{ most: 'tolerance', uncertaintyTo: 2, toleranceTo: null },
    })
    expect(whatProves({ ...pair, margin: -4 })).toMatchObject({ uncertaintyTo: null, toleranceTo: null, room: 4 })
  })

  test('nothing for what is short, fouls, clears or touches', () => {
    expect(whatProves({ ...pair, margin: -9, verdict: 'short' })).toBeNull()
    expect(whatProves({ ...pair, margin: 1, verdict: 'clears' })).toBeNull()
    expect(whatProves({ ...pair, margin: -9, gap: 0, overlap: { depth: 0, kind: 'exact' } })).toBeNull()
  })
})
