import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { JournalFolder, type JournalOptions } from './journalFolder.ts'

let folder: string
let journal: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-journal-'))
  journal = join(folder, 'deeper', 'journal')
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const id = 'work-0001'
const entry = (over: object = {}) => ({ id, path: null, name: 'a.bay.json', text: '{"a":1}', base: null, ...over })
const opened = (options: Partial<JournalOptions> = {}) => new JournalFolder(journal, { isOpen: () => true, ...options })
const left = async (kept: JournalFolder) => (await kept.leftBehind()).map(({ id }) => id)

it('keeps the newest text of each entry, for the user alone', async () => {
  const kept = opened({ now: () => 1000 })
  expect(await kept.keep('w', entry())).toEqual({ ok: true, value: null })
  await kept.keep('w', entry({ text: '{"a":2}' }))
  expect(readdirSync(journal)).toEqual([`${id}.json`])
  expect(statSync(join(journal, `${id}.json`)).mode & 0o777).toBe(0o600)
  expect(await kept.take(id)).toMatchObject({ entry: { text: '{"a":2}', keptAt: 1000, path: null } })
  kept.close()
})

it('offers what a window left behind, but not the work of one that is open', async () => {
  let open = true
  const kept = opened({ isOpen: () => open })
  await kept.keep('w', entry())
  expect(await left(kept)).toEqual([])
  open = false
  expect(await left(kept)).toEqual([id])
  await kept.drop(id)
  expect(await left(kept)).toEqual([])
  kept.close()
})

it('offers the work of a program that has ended, or that says no longer that it is in use', async () => {
  const first = opened()
  await first.keep('w', entry())
  first.close()
  const file = join(journal, `${id}.json`)
  const other = { ...JSON.parse(readFileSync(file, 'utf8')), pid: process.pid + 1 }
  writeFileSync(file, JSON.stringify(other))
  const at = statSync(file).mtimeMs
  const asked = (running: boolean, later: number) => left(opened({ isRunning: () => running, now: () => at + later }))
  expect(await asked(true, 10_000), 'it runs and has just written').toEqual([])
  expect(await asked(false, 10_000), 'it was killed').toEqual([id])
  // The number of a process is given anew after a restart of the machine; then nobody says that it is in use.
  expect(await asked(true, 120_000)).toEqual([id])
  utimesSync(file, new Date(at + 100_000), new Date(at + 100_000))
  expect(await asked(true, 120_000), 'it said so 20 seconds ago').toEqual([])
})

it('clears away what is in the bay’s file by now, and nothing else', async () => {
  const bay = join(folder, 'a.bay.json')
  writeFileSync(bay, '{"a":1}')
  const kept = opened({ isOpen: () => false })
  await kept.keep('w', entry({ path: bay }))
  await kept.keep('w', entry({ id: 'work-0002', path: bay, text: '{"a":2}' }))
  expect(await left(kept)).toEqual(['work-0002'])
  expect(readdirSync(journal)).toEqual(['work-0002.json'])
  kept.close()
})

it('keeps the meshes of a bay that has no folder yet, each once', async () => {
  const kept = opened()
  const files = new Map([['shell.stl', new Uint8Array([1, 2])]])
  await kept.keep('w', entry(), files)
  const before = statSync(join(journal, `${id}.files`, 'shell.stl')).mtimeMs
  await kept.keep('w', entry({ text: '{}' }), files)
  expect(statSync(join(journal, `${id}.files`, 'shell.stl')).mtimeMs).toBe(before)
  expect([...((await kept.take(id))?.files.get('shell.stl') ?? [])]).toEqual([1, 2])
  await kept.drop(id)
  expect(readdirSync(journal)).toEqual([])
  kept.close()
})

it('a drop is not undone by a write that was on its way', async () => {
  const kept = opened({ isOpen: () => false })
  await Promise.all([kept.keep('w', entry()), kept.drop(id)])
  expect(await left(kept)).toEqual([])
  kept.close()
})

it('passes over damaged entries and strangers’ files, and writes under no other name than an id', async () => {
  const kept = opened({ isOpen: () => false })
  await kept.keep('w', entry())
  for (const [name, text] of [
    ['damaged-01.json', '{'],
    ['nothing-01.json', 'null'],
    ['without-text.json', '{"path":null,"name":"x","keptAt":1,"pid":1}'],
    ['readme.txt', 'hello'],
  ])
    writeFileSync(join(journal, name), text)
  expect(await left(kept)).toEqual([id])
  for (const bad of ['../../escaped', 'short', '', 'a/b-c-d-e-f', '.........'])
    expect(await kept.keep('w', entry({ id: bad })), bad).toMatchObject({
      ok: false,
      faults: [{ code: 'call-refused' }],
    })
  expect(await kept.take('../../escaped')).toBe(null)
  kept.close()
})

it('says so where it cannot write', async () => {
  writeFileSync(join(folder, 'deeper'), 'a file in the place of the folder')
  expect(await opened().keep('w', entry())).toMatchObject({ ok: false, faults: [{ code: 'journal-unwritable' }] })
})
