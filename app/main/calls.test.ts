import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest'
import type { Outcome } from '../../core/fault.ts'
import { callNames } from '../bridge.ts'
import { JournalFolder } from '../files/journalFolder.ts'
import { RecentFiles } from '../files/recentFiles.ts'
import type { ChosenFolder, OpenedBay } from '../host.ts'
import { BayPlaces } from '../serve/bayPlaces.ts'
import { WindowJournal } from '../serve/lostWork.ts'
import { answerCalls, type Caller, type CallContext } from './calls.ts'

let folder: string
let bay: string
let opened: string[]
let stillOpen: boolean
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-calls-'))
})
beforeEach(() => {
  opened = []
  stillOpen = true
  bay = join(folder, 'one.bay.json')
  writeFileSync(bay, '{"a":1}')
  writeFileSync(join(folder, 'shell.stl'), 'bytes')
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const mainFrame = { url: 'app://gapwright/' }
const ourPage = { senderFrame: mainFrame, sender: { mainFrame } }

type Handler = Parameters<Parameters<typeof answerCalls>[0]['handle']>[1]

/** Registers the calls and answers a function that makes one, from our page or from where the test says. */
function calls(over: Partial<Caller> = {}, context: Partial<CallContext> = {}) {
  const places = new BayPlaces()
  const kept = new JournalFolder(join(folder, 'journal'), { isOpen: (window) => window === 'window-1' && stillOpen })
  const recent = new RecentFiles(folder)
  const handlers = new Map<string, Handler>()
  answerCalls(
    { handle: (name, handler) => void handlers.set(name, handler) },
    {
      places,
      journal: new WindowJournal(kept, places),
      recent,
      forgetRecent: () => recent.clear(),
      callerOf: () => ({
        id: 'window-1',
        askOpen: async () => bay,
        askSave: async (name) => join(folder, `saved-${name}`),
        firstBay: () => bay,
        hasOpened(path) {
          opened.push(path)
          void recent.add(path)
        },
        isOpenElsewhere: async () => false,
        dragOut: async () => ({ ok: true, value: null }),
        askFolder: async () => folder,
        print: async () => ({ ok: true, value: null }),
        ...over,
      }),
      ...context,
    },
  )
  return (name: string, given: unknown[] = [], event: unknown = ourPage) =>
    handlers.get(name)?.(event as never, ...given) as Promise<Outcome<OpenedBay & Uint8Array>>
}

const good = async (pending: Promise<Outcome<OpenedBay>>): Promise<OpenedBay> => {
  const outcome = await pending
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults))
  return outcome.value
}

it('opens the first bay and reads its meshes by its token', async () => {
  const call = calls()
  const first = await good(call(callNames.first))
  expect(first).toMatchObject({ name: 'one.bay.json', text: '{"a":1}', writable: true })
  expect(JSON.stringify(first)).not.toContain(folder)
  expect(await call(callNames.beside, [first.token, 'shell.stl'])).toMatchObject({ ok: true })
  expect(await call(callNames.beside, [first.token, '../shell.stl'])).toMatchObject({ ok: false })
  expect(await call(callNames.beside, ['guessed', 'shell.stl'])).toMatchObject({
    ok: false,
    faults: [{ code: 'unknown-token' }],
  })
  expect(opened).toEqual([bay])
})

it('answers null where there is no first bay and where the user cancels', async () => {
  const call = calls({ firstBay: () => undefined, askOpen: async () => null, askSave: async () => null })
  expect(await call(callNames.first)).toEqual({ ok: true, value: null })
  expect(await call(callNames.open)).toEqual({ ok: true, value: null })
  expect(await call(callNames.save, ['{}', 'a.bay.json', null, 'elsewhere'])).toEqual({ ok: true, value: null })
  expect(opened).toEqual([])
})

it('saves over the bay, and elsewhere only where the user says in a dialog', async () => {
  const call = calls()
  const first = await good(call(callNames.open))
  await good(call(callNames.save, ['{"a":2}', first.name, first.token, 'in-place']))
  expect(readFileSync(bay, 'utf8')).toBe('{"a":2}')
  const copy = await good(call(callNames.save, ['{"a":3}', 'two.bay.json', first.token, 'elsewhere']))
  expect(copy.name).toBe('saved-two.bay.json')
  expect(readFileSync(join(folder, 'saved-two.bay.json'), 'utf8')).toBe('{"a":3}')
  expect(readFileSync(bay, 'utf8')).toBe('{"a":2}')
})

it('tells a missing bay as a fault, and keeps it out of the recent files', async () => {
  const call = calls({ firstBay: () => join(folder, 'missing.bay.json') })
  expect(await call(callNames.first)).toMatchObject({ ok: false, faults: [{ code: 'file-missing' }] })
  expect(opened).toEqual([])
})

it.each([
  ['another page', { senderFrame: { url: 'https://elsewhere.example/' }, sender: { mainFrame } }],
  ['a frame within the page', { senderFrame: { url: 'app://gapwright/' }, sender: { mainFrame } }],
  ['a frame that has gone', { senderFrame: null, sender: { mainFrame } }],
  [
    'a main frame that has left our page',
    (({ frame }) => ({ senderFrame: frame, sender: { mainFrame: frame } }))({ frame: { url: 'file:///x' } }),
  ],
])('refuses calls from %s', async (_, event) => {
  const call = calls()
  for (const name of Object.values(callNames))
    expect(await call(name, [], event), name).toMatchObject({
      ok: false,
      faults: [{ code: 'call-refused' }],
    })
  expect(opened).toEqual([])
})

it.each([
  [callNames.beside, [1, 'shell.stl']],
  [callNames.beside, ['t', { toString: () => 'shell.stl' }]],
  [callNames.dropped, ['']],
  [callNames.dropped, [null]],
  [callNames.save, [{}, 'a', null, 'over']],
  [callNames.save, ['{}', 'a', undefined, 'over']],
  [callNames.save, ['{}', 'a', null, 'yes']],
  [callNames.save, ['{}', 'a', null, true]],
  [callNames.save, ['{}', 'a', null, 'over', 'more']],
  [callNames.saveFile, ['text', 'a.png']],
  [callNames.saveFile, [new Uint8Array(1), '']],
  [callNames.addBeside, ['t', 'a.stl', [1, 2]]],
  [callNames.keepWork, ['id', 't', 'name']],
  [callNames.dragOut, [new Uint8Array(1)]],
  [callNames.chooseFolder, ['']],
  [callNames.saveFolder, ['t', [{ name: 'a.csv', bytes: [1] }]]],
  [callNames.saveFolder, ['t', [{ name: '', bytes: new Uint8Array(1) }]]],
  [callNames.saveFolder, ['t', [null]]],
  [callNames.saveFolder, ['t', { length: 1 }]],
  // What another program is to open is a PDF or nothing.
  [callNames.print, [new TextEncoder().encode('#!/bin/sh'), 'sheets.pdf']],
  [callNames.print, [new TextEncoder().encode('%PDF-1.7')]],
])('%s refuses values of the wrong kind: %j', async (name, given) => {
  expect(await calls()(name, given)).toMatchObject({ ok: false, faults: [{ code: 'call-refused' }] })
})

const work = '01234567-89ab'

it('saves bytes to a place that the user chooses, and nothing where they cancel', async () => {
  const bytes = new Uint8Array([1, 2, 3])
  expect(await calls()(callNames.saveFile, [bytes, 'front.png'])).toEqual({ ok: true, value: 'saved-front.png' })
  expect([...readFileSync(join(folder, 'saved-front.png'))]).toEqual([1, 2, 3])
  const cancelled = calls({ askSave: async () => null })
  expect(await cancelled(callNames.saveFile, [bytes, 'front.png'])).toEqual({ ok: true, value: null })
})

it('saves a folder where the user says, once for each choice, and tells what is there already', async () => {
  const call = calls() as unknown as (name: string, given: unknown[]) => Promise<Outcome<ChosenFolder & string>>
  const files = [{ name: 'tables/gaps.csv', bytes: new Uint8Array([1, 2]) }]
  const chosen = await call(callNames.chooseFolder, ['../a set'])
  if (!chosen.ok) throw new Error(JSON.stringify(chosen.faults))
  expect(chosen.value).toMatchObject({ name: 'a set', taken: false })
  expect(JSON.stringify(chosen.value)).not.toContain(folder)
  expect(await call(callNames.saveFolder, [chosen.value.token, files])).toEqual({ ok: true, value: 'a set' })
  expect([...readFileSync(join(folder, 'a set', 'tables', 'gaps.csv'))]).toEqual([1, 2])
  const refused = { ok: false, faults: [{ code: 'call-refused' }] }
  expect(await call(callNames.saveFolder, [chosen.value.token, files])).toMatchObject(refused)
  expect(await call(callNames.saveFolder, ['guessed', files])).toMatchObject(refused)
  expect(await call(callNames.chooseFolder, ['a set'])).toMatchObject({ value: { taken: true } })
  const cancelled = calls({ askFolder: async () => null })
  expect(await cancelled(callNames.chooseFolder, ['a set'])).toEqual({ ok: true, value: null })
})

it('puts a mesh beside a bay, and beside a new one once it is saved', async () => {
  const call = calls()
  const first = await good(call(callNames.first))
  expect(await call(callNames.addBeside, [first.token, 'shell.stl', new Uint8Array([7])])).toEqual({
    ok: true,
    value: { file: 'shell-2.stl', onDisk: true },
  })
  const mesh = [{ id: 's', name: 'S', role: 'body', shape: { kind: 'mesh', file: 'new.stl', unit: 'mm' } }]
  const frame = { origin: 'here' }
  const text = JSON.stringify({
    format: 'gapwright-bay',
    version: 1,
    name: 'New',
    frame,
    units: 'mm',
    keepOuts: mesh,
    openings: [],
    ports: [],
    candidates: [],
  })
  const blank = await good(call(callNames.blank, ['new.bay.json', text]))
  expect(blank.writable).toBe(false)
  await call(callNames.addBeside, [blank.token, 'new.stl', new Uint8Array([8])])
  const saved = await good(call(callNames.save, [text, 'new.bay.json', blank.token, 'in-place']))
  expect(saved.name).toBe('saved-new.bay.json')
  expect([...readFileSync(join(folder, 'new.stl'))]).toEqual([8])
  expect(await call(callNames.beside, [saved.token, 'new.stl'])).toMatchObject({ ok: true })
})

it('refuses to overwrite what another program wrote, until told to', async () => {
  const call = calls()
  const first = await good(call(callNames.first))
  writeFileSync(bay, '{"theirs":1}')
  expect(await call(callNames.standing, [first.token])).toEqual({ ok: true, value: 'changed' })
  expect(await call(callNames.save, ['{"ours":1}', first.name, first.token, 'in-place'])).toMatchObject({
    ok: false,
    faults: [{ code: 'changed-outside' }],
  })
  expect(readFileSync(bay, 'utf8')).toBe('{"theirs":1}')
  expect(await call(callNames.again, [first.token])).toMatchObject({ ok: true, value: { text: '{"theirs":1}' } })
  await good(call(callNames.save, ['{"ours":1}', first.name, first.token, 'in-place']))
  rmSync(bay)
  expect(await call(callNames.standing, [first.token])).toEqual({ ok: true, value: 'gone' })
  expect(await call(callNames.save, ['{"ours":2}', first.name, first.token, 'in-place'])).toMatchObject({
    ok: false,
    faults: [{ code: 'file-gone' }],
  })
  await good(call(callNames.save, ['{"ours":2}', first.name, first.token, 'over']))
  expect(readFileSync(bay, 'utf8')).toBe('{"ours":2}')
})

it('keeps unsaved work aside and offers it once its window has gone', async () => {
  const call = calls()
  const first = await good(call(callNames.first))
  expect(await call(callNames.keepWork, [work, first.token, first.name, '{"a":"unsaved"}'])).toMatchObject({ ok: true })
  expect(await call(callNames.foundWork, [null])).toEqual({ ok: true, value: [] })
  stillOpen = false
  const found = (await call(callNames.foundWork, [first.token])) as unknown as { value: { id: string }[] }
  expect(found.value).toMatchObject([{ id: work, name: 'one.bay.json' }])
  expect(await call(callNames.takeWork, [work])).toMatchObject({
    ok: true,
    value: { bay: { name: 'one.bay.json', text: '{"a":"unsaved"}', writable: true }, onDisk: '{"a":1}' },
  })
  await call(callNames.dropWork, [work])
  expect(await call(callNames.foundWork, [null])).toEqual({ ok: true, value: [] })
})

it('lists recent bays without telling paths that a page could use, and brings an open one to the front', async () => {
  const call = calls()
  await good(call(callNames.first))
  const recent = (await call(callNames.recent)) as unknown as { value: { id: string; name: string }[] }
  expect(recent.value[0].name).toBe('one.bay.json')
  expect(JSON.stringify(recent.value.map(({ id }) => id))).not.toContain('bay')
  expect(await call(callNames.openRecent, [recent.value[0].id])).toMatchObject({ ok: true, value: { text: '{"a":1}' } })
  expect(await call(callNames.openRecent, ['other'])).toMatchObject({ ok: false, faults: [{ code: 'file-missing' }] })
  expect(await calls({ isOpenElsewhere: async () => true })(callNames.first)).toEqual({ ok: true, value: null })
  await call(callNames.forgetRecent)
  expect(await call(callNames.recent)).toEqual({ ok: true, value: [] })
})
