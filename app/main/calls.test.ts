import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest'
import type { Outcome } from '../../core/fault.ts'
import { callNames } from '../bridge.ts'
import type { OpenedBay } from '../host.ts'
import { BayPlaces } from '../serve/bayPlaces.ts'
import { answerCalls, type CallContext } from './calls.ts'

let folder: string
let bay: string
let opened: string[]
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-calls-'))
})
beforeEach(() => {
  opened = []
  bay = join(folder, 'one.bay.json')
  writeFileSync(bay, '{"a":1}')
  writeFileSync(join(folder, 'shell.stl'), 'bytes')
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const mainFrame = { url: 'app://gapwright/' }
const ourPage = { senderFrame: mainFrame, sender: { mainFrame } }

type Handler = Parameters<Parameters<typeof answerCalls>[0]['handle']>[1]

/** Registers the calls and answers a function that makes one, from our page or from where the test says. */
function calls(over: Partial<CallContext> = {}) {
  const handlers = new Map<string, Handler>()
  answerCalls(
    { handle: (name, handler) => void handlers.set(name, handler) },
    {
      places: new BayPlaces(),
      dialogs: { askOpen: async () => bay, askSave: async (name) => join(folder, `saved-${name}`) },
      firstBay: () => bay,
      onOpened: (path) => opened.push(path),
      ...over,
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
  const call = calls({ firstBay: () => undefined, dialogs: { askOpen: async () => null, askSave: async () => null } })
  expect(await call(callNames.first)).toEqual({ ok: true, value: null })
  expect(await call(callNames.open)).toEqual({ ok: true, value: null })
  expect(await call(callNames.save, ['{}', 'a.bay.json', null, true])).toEqual({ ok: true, value: null })
  expect(opened).toEqual([])
})

it('saves over the bay, and elsewhere only where the user says in a dialog', async () => {
  const call = calls()
  const first = await good(call(callNames.open))
  await good(call(callNames.save, ['{"a":2}', first.name, first.token, false]))
  expect(readFileSync(bay, 'utf8')).toBe('{"a":2}')
  const copy = await good(call(callNames.save, ['{"a":3}', 'two.bay.json', first.token, true]))
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
    expect(await call(name, ['a', 'b', null, true], event), name).toMatchObject({
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
  [callNames.save, [{}, 'a', null, true]],
  [callNames.save, ['{}', 'a', undefined, true]],
  [callNames.save, ['{}', 'a', null, 'yes']],
])('%s refuses values of the wrong kind: %j', async (name, given) => {
  expect(await calls()(name, given)).toMatchObject({ ok: false, faults: [{ code: 'call-refused' }] })
})
