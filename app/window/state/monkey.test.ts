import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { type Random, seeded } from '../../../test/kit/random.ts'
import {
  copyOf,
  freshKeepOut,
  freshOpening,
  freshPort,
  freshShape,
  withMirror,
  withoutKeepOut,
} from '../../../core/bay/freshKeepOut.ts'
import { readBay } from '../../../core/bay/read.ts'
import { type Bay, roles } from '../../../core/bay/schema.ts'
import { writeBay } from '../../../core/bay/write.ts'
import { type Edit, type FieldPath, withEntry, withField } from './edit.ts'
import {
  bayOf,
  bayOpened,
  createWindowStore,
  doEdit,
  goToStep,
  isDirty,
  redo,
  select,
  undo,
  type WindowStore,
} from './windowState.ts'

/** Someone who edits at random: no sequence of edits, undone and done again in between, loses or changes anything. */
const steps = 500
const kinds = ['box', 'cylinder', 'hull', 'halfSpace', 'sweep', 'tube'] as const

function bayIn(path: string): Bay {
  const read = readBay(readFileSync(path, 'utf8'))
  if (!read.ok) throw new Error(JSON.stringify(read.faults))
  return read.value
}

function openedWith(bay: Bay): WindowStore {
  const store = createWindowStore()
  store.setState((state) => bayOpened(state, { token: 't', name: 'a', writable: true }, { bay, meshes: [] }))
  return store
}

/** Ways to every number of the bay. */
function numbersIn(value: unknown, path: FieldPath = []): FieldPath[] {
  if (typeof value === 'number') return [path]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, inner]) =>
    numbersIn(inner, [...path, Array.isArray(value) ? Number(key) : key]),
  )
}

function anyEdit(bay: Bay, random: Random): Edit['apply'] {
  const index = random.int(Math.max(1, bay.keepOuts.length))
  const keepOut = bay.keepOuts[index]
  const place = random.point(400)
  const all: (Edit['apply'] | null)[] = [
    (whole) =>
      withEntry(whole, ['keepOuts'], 0, freshKeepOut(whole, freshShape(random.pick(kinds), 'mm', place), 'New')),
    (whole) => withEntry(whole, ['ports'], 0, freshPort(whole, 'Port', place)),
    (whole) => withEntry(whole, ['openings'], 0, freshOpening(whole, 'Opening', place)),
    keepOut ? (whole) => withEntry(whole, ['keepOuts'], index, copyOf(whole, keepOut)) : null,
    keepOut ? (whole) => withoutKeepOut(whole, keepOut.id).bay : null,
    keepOut ? (whole) => withMirror(whole, keepOut.id, !keepOut.mirror) : null,
    keepOut ? (whole) => withField(whole, ['keepOuts', index, 'role'], random.pick(roles)) : null,
    keepOut
      ? (whole) => withField(whole, ['keepOuts', index, 'enabled'], random.chance(0.5) ? false : undefined)
      : null,
    (whole) => withField(whole, ['candidates', random.int(3), 'pipes', 0], undefined),
  ]
  const made = random.chance(0.6) ? null : random.pick(all)
  if (made) return made
  const path = random.pick(numbersIn(bay))
  const value = random.pick([random.real(-500, 500), random.real(1, 100), 0, Number.NaN, 1e12])
  return (whole) => withField(whole, path, value)
}

function step(store: WindowStore, random: Random, n: number): 'done' | 'refused' | 'moved' {
  const bay = bayOf(store.getState()) as Bay
  const what = random.real(0, 1)
  if (what < 0.12) undo(store)
  else if (what < 0.2) redo(store)
  else if (what < 0.22) goToStep(store, random.int(20))
  else if (what < 0.27)
    store.setState({
      candidate: random.pick(bay.candidates)?.id ?? null,
      stage: random.pick(['gaps', 'core'] as const),
    })
  else if (what < 0.3) select(store, `row ${n}`)
  else {
    const merge = random.chance(0.3)
    const done = doEdit(store, {
      name: 'any',
      label: `step ${n}`,
      undo: merge ? 'merge' : 'step',
      ...(merge && { merge: 'visit' }),
      apply: anyEdit(bay, random),
    })
    return done.ok ? 'done' : 'refused'
  }
  return 'moved'
}

for (const [path, seed] of [
  ['assets/tarnbeck/tarnbeck.bay.json', 41],
  ['assets/corvane/corvane.bay.json', 42],
] as const)
  test(`${steps} random edits of ${path}, then all undone and done again: the same bays, to the last bit (seed ${seed})`, () => {
    const start = bayIn(path)
    const text = writeBay(start)
    const store = openedWith(start)
    const random = seeded(seed)
    const counts = { done: 0, refused: 0, moved: 0 }
    for (let n = 0; n < steps; n++) counts[step(store, random, n)]++
    expect(counts.done).toBeGreaterThan(100)
    expect(counts.refused).toBeGreaterThan(50)
    // What is there can be saved and read back.
    const last = bayOf(store.getState()) as Bay
    const again = readBay(writeBay(last))
    expect(again.ok && writeBay(again.value)).toBe(writeBay(last))
    const { past, future } = store.getState().history ?? { past: [], future: [] }
    for (let i = 0; i < past.length; i++) undo(store)
    expect(bayOf(store.getState())).toBe(start)
    expect(isDirty(store.getState())).toBe(false)
    expect(writeBay(start)).toBe(text)
    for (let i = 0; i < past.length; i++) redo(store)
    expect(bayOf(store.getState())).toBe(last)
    expect(store.getState().history?.future).toHaveLength(future.length)
  })
