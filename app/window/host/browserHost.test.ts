import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import type { FaultError } from '../../../core/fault.ts'
import type { Host, OpenedBay } from '../../host.ts'
import { type LoopbackServer, startServer } from '../../serve/server.ts'
import { browserHost } from './browserHost.ts'

/** The host against the real server; only the browser's own dialogs are doubles. */
let folder: string
let bay: string
let server: LoopbackServer
let host: Host

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-host-'))
  mkdirSync(join(folder, 'window'))
  bay = join(folder, 'one.bay.json')
  writeFileSync(bay, '{"a":1}')
  writeFileSync(join(folder, 'shell.stl'), 'from the folder')
  server = await startServer({ windowFolder: join(folder, 'window'), bay, state: join(folder, 'state') })
  const send = fetch
  // A page's fetch knows where the page is and says so.
  vi.stubGlobal('fetch', (call: string, options: RequestInit = {}) =>
    send(new URL(call, server.address), { ...options, headers: { origin: new URL(server.address).origin } }),
  )
  host = browserHost()
})
afterEach(async () => {
  vi.unstubAllGlobals()
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

const handleOf = (name: string, text = '', fails = false) => {
  const disk = { text }
  return {
    name,
    disk,
    getFile: async () => new File([disk.text], name),
    createWritable: async () => ({
      write: async (content: string | Uint8Array) => {
        const written = typeof content === 'string' ? content : new TextDecoder().decode(content)
        if (fails) throw new Error('the disk is full')
        disk.text = written
      },
      close: async () => {},
    }),
  }
}
const chooses = (...handles: ReturnType<typeof handleOf>[]) => vi.stubGlobal('showOpenFilePicker', async () => handles)
const savesTo = (handle: ReturnType<typeof handleOf>) => vi.stubGlobal('showSaveFilePicker', async () => handle)
const cancels = () => {
  const cancel = async () => {
    throw new DOMException('', 'AbortError')
  }
  vi.stubGlobal('showOpenFilePicker', cancel)
  vi.stubGlobal('showSaveFilePicker', cancel)
}

const there = (opened: OpenedBay | null): OpenedBay => {
  if (opened === null) throw new Error('no bay')
  return opened
}
const faultsOf = (pending: Promise<unknown>) =>
  pending.then(
    () => [],
    (error) => (error as FaultError).faults,
  )
const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes)

it('opens the first bay, reads beside it, and saves over it', async () => {
  const first = there(await host.first())
  expect(first).toMatchObject({ name: 'one.bay.json', text: '{"a":1}', writable: true })
  expect(text(await host.beside(first.token, 'shell.stl'))).toBe('from the folder')
  expect(await host.save('{"a":2}', first.name, first.token, 'in-place')).toMatchObject({ name: 'one.bay.json' })
  expect(readFileSync(bay, 'utf8')).toBe('{"a":2}')
  expect(await faultsOf(host.beside(first.token, '../x.stl'))).toMatchObject([{ code: 'mesh-outside-folder' }])
})

it('opens a bay and its meshes from a dialog, and saves in place', async () => {
  const chosen = handleOf('two.bay.json', '{"b":1}')
  chooses(handleOf('shell.stl', 'chosen'), chosen)
  const opened = there(await host.open())
  expect(opened).toMatchObject({ name: 'two.bay.json', text: '{"b":1}', writable: true })
  expect(text(await host.beside(opened.token, 'parts/shell.stl'))).toBe('chosen')
  expect(await faultsOf(host.beside(opened.token, 'other.stl'))).toMatchObject([
    { code: 'mesh-missing', file: 'other.stl' },
  ])
  await host.save('{"b":2}', opened.name, opened.token, 'in-place')
  expect(chosen.disk.text).toBe('{"b":2}')
})

it('a copy saved elsewhere is written there from then on, with the meshes of where it was opened', async () => {
  const first = there(await host.first())
  const copy = handleOf('copy.bay.json')
  savesTo(copy)
  const saved = there(await host.save('{"a":3}', first.name, first.token, 'elsewhere'))
  expect(saved.name).toBe('copy.bay.json')
  await host.save('{"a":4}', saved.name, saved.token, 'in-place')
  expect(copy.disk.text).toBe('{"a":4}')
  expect(readFileSync(bay, 'utf8')).toBe('{"a":1}')
  expect(text(await host.beside(saved.token, 'shell.stl'))).toBe('from the folder')
})

it('a cancelled dialog is null and changes nothing', async () => {
  const first = there(await host.first())
  cancels()
  expect(await host.open()).toBe(null)
  expect(await host.save('{}', first.name, first.token, 'elsewhere')).toBe(null)
  expect(readFileSync(bay, 'utf8')).toBe('{"a":1}')
})

it('takes a dropped bay with its meshes; without a way back it is not writable', async () => {
  const files = [new File(['m'], 'shell.stl'), new File(['{"c":1}'], 'three.bay.json')]
  const dropped = there((await host.dropped?.(files)) ?? null)
  expect(dropped).toMatchObject({ name: 'three.bay.json', writable: false })
  expect(text(await host.beside(dropped.token, 'shell.stl'))).toBe('m')
  expect(await host.dropped?.([new File(['m'], 'shell.stl')])).toBe(null)
})

it('puts meshes beside the bay of the server, and keeps those of a chosen bay', async () => {
  const first = there(await host.first())
  const bytes = new TextEncoder().encode('other')
  expect(await host.addBeside(first.token, 'shell.stl', bytes)).toEqual({ file: 'shell-2.stl', onDisk: true })
  expect(readFileSync(join(folder, 'shell-2.stl'), 'utf8')).toBe('other')
  chooses(handleOf('two.bay.json', '{}'))
  const chosen = there(await host.open())
  expect(await host.addBeside(chosen.token, 'new.stl', bytes)).toEqual({ file: 'new.stl', onDisk: false })
  expect(await host.addBeside(chosen.token, 'new.stl', bytes)).toEqual({ file: 'new.stl', onDisk: false })
  expect((await host.addBeside(chosen.token, 'new.stl', new Uint8Array(1))).file).toBe('new-2.stl')
  expect(text(await host.beside(chosen.token, 'new.stl'))).toBe('other')
})

it('a new bay asks for a place with its first save, and keeps its meshes', async () => {
  const blank = await host.blank('new.bay.json', '{}')
  expect(blank).toMatchObject({ name: 'new.bay.json', writable: false })
  await host.addBeside(blank.token, 'new.stl', new TextEncoder().encode('mesh'))
  const handle = handleOf('new.bay.json')
  savesTo(handle)
  const saved = there(await host.save('{"n":1}', blank.name, blank.token, 'in-place'))
  expect(handle.disk.text).toBe('{"n":1}')
  expect(text(await host.beside(saved.token, 'new.stl'))).toBe('mesh')
})

it('saves bytes to a place of choice', async () => {
  const handle = handleOf('front.svg')
  savesTo(handle)
  expect(await host.saveFile(new TextEncoder().encode('<svg/>'), 'front.svg')).toBe('front.svg')
  expect(handle.disk.text).toBe('<svg/>')
  cancels()
  expect(await host.saveFile(new Uint8Array(1), 'front.svg')).toBe(null)
})

it('notices what another program wrote, in both kinds of places, and overwrites only when told to', async () => {
  const first = there(await host.first())
  const chosen = handleOf('two.bay.json', '{"b":1}')
  chooses(chosen)
  const second = there(await host.open())
  expect([await host.standing(first.token), await host.standing(second.token)]).toEqual(['same', 'same'])
  writeFileSync(bay, '{"theirs":1}')
  chosen.disk.text = '{"theirs":2}'
  for (const { token, name } of [first, second]) {
    expect(await host.standing(token)).toBe('changed')
    expect(await faultsOf(host.save('{}', name, token, 'in-place'))).toMatchObject([{ code: 'changed-outside' }])
  }
  expect((await host.again(first.token)).text).toBe('{"theirs":1}')
  expect((await host.again(second.token)).text).toBe('{"theirs":2}')
  for (const { token, name } of [first, second]) await host.save('{"ours":1}', name, token, 'in-place')
  chosen.disk.text = '{"theirs":3}'
  await host.save('{"ours":2}', second.name, second.token, 'over')
  expect([readFileSync(bay, 'utf8'), chosen.disk.text]).toEqual(['{"ours":1}', '{"ours":2}'])
  rmSync(bay)
  expect(await host.standing(first.token)).toBe('gone')
  expect(await faultsOf(host.save('{}', first.name, first.token, 'in-place'))).toMatchObject([{ code: 'file-gone' }])
})

it('keeps unsaved work at the server and finds it by bay once its window has gone', async () => {
  const first = there(await host.first())
  // Without a stream of events in this test, no window counts as open.
  await host.journal.keep('work-of-first', first.token, first.name, '{"a":"unsaved"}')
  chooses(handleOf('two.bay.json', '{"b":1}'))
  const second = there(await host.open())
  await host.journal.keep('work-of-second', second.token, second.name, '{"b":"unsaved"}')
  const ids = async (token: string | null) => (await host.journal.found(token)).map(({ id }) => id).sort()
  expect(await ids(null)).toEqual(['work-of-first', 'work-of-second'])
  expect(await ids(first.token)).toEqual(['work-of-first'])
  expect(await ids(second.token)).toEqual(['work-of-second'])
  expect(await host.journal.take('work-of-first')).toMatchObject({
    bay: { text: '{"a":"unsaved"}', writable: true },
    onDisk: '{"a":1}',
  })
  const taken = await host.journal.take('work-of-second')
  expect(taken.bay).toMatchObject({ token: second.token, text: '{"b":"unsaved"}', writable: true })
  await host.journal.drop('work-of-second')
  expect(await ids(null)).toEqual(['work-of-first'])
  expect(await faultsOf(host.journal.take('work-of-second'))).toMatchObject([{ code: 'work-gone' }])
})

it('lists recent bays of the server and opens them again', async () => {
  await host.first()
  const [recent] = await host.recent()
  expect(recent).toMatchObject({ name: 'one.bay.json' })
  expect(await host.openRecent(recent.id)).toMatchObject({ text: '{"a":1}', writable: true })
  await host.forgetRecent()
  expect(await host.recent()).toEqual([])
})

it('tells what went wrong as faults', async () => {
  chooses(handleOf('four.bay.json', '{}', true))
  const opened = there(await host.open())
  expect(await faultsOf(host.save('{}', opened.name, opened.token, 'in-place'))).toMatchObject([
    { code: 'file-unwritable', file: 'four.bay.json', got: 'the disk is full' },
  ])
  expect(
    await faultsOf(host.dropped?.([new File([new Uint8Array([0xff])], 'x.json')]) ?? Promise.resolve()),
  ).toMatchObject([{ code: 'file-not-text', file: 'x.json' }])
  rmSync(bay)
  expect(await faultsOf(host.first())).toMatchObject([{ code: 'file-missing', file: 'one.bay.json' }])
  await server.close()
  expect(await faultsOf(host.first())).toMatchObject([{ code: 'server-gone' }])
})
