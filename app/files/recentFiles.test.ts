import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { folderShown, RecentFiles } from './recentFiles.ts'
import { stateFolder } from './stateFolder.ts'

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-recent-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))
const file = (name: string) => {
  writeFileSync(join(folder, name), '{}')
  return join(folder, name)
}
const names = async (recent: RecentFiles) => (await recent.list()).map(({ name }) => name)

it('lists what was opened, newest first, each once, without what has vanished, and no more than a menu holds', async () => {
  const recent = new RecentFiles(join(folder, 'state'))
  for (const name of ['a', 'b', 'c', 'a']) await recent.add(file(name))
  expect(await names(recent)).toEqual(['a', 'c', 'b'])
  rmSync(join(folder, 'c'))
  expect(await names(new RecentFiles(join(folder, 'state')))).toEqual(['a', 'b'])
  for (let i = 0; i < 20; i++) await recent.add(file(`n${i}`))
  expect(await names(recent)).toHaveLength(12)
  await recent.clear()
  expect(await recent.list()).toEqual([])
})

it('two adds at once lose neither', async () => {
  const recent = new RecentFiles(folder)
  await Promise.all([recent.add(file('a')), recent.add(file('b'))])
  expect(await names(recent)).toEqual(['b', 'a'])
})

it('finds a path by its id and nothing by another; a damaged list counts as empty', async () => {
  const recent = new RecentFiles(folder)
  const path = file('a')
  await recent.add(path)
  const [{ id }] = await recent.list()
  expect(await recent.pathOf(id)).toBe(path)
  expect(await recent.pathOf(path)).toBe(null)
  for (const text of ['{', 'null', '{"paths":7}', '{"paths":[7]}']) {
    writeFileSync(join(folder, 'recent.json'), text)
    expect(await recent.list(), text).toEqual([])
  }
})

it('shows folders as people write them', () => {
  expect(folderShown('/home/me/bays/a.json', '/home/me')).toBe('~/bays')
  expect(folderShown('/home/me/a.json', '/home/me')).toBe('~')
  expect(folderShown('/home/meadow/a.json', '/home/me')).toBe('/home/meadow')
})

it.each([
  [{ XDG_STATE_HOME: '/x' }, 'linux', '/x/gapwright'],
  [{}, 'linux', '/home/me/.local/state/gapwright'],
  // "All paths set in these environment variables must be absolute", else they are to be ignored (XDG Base Directory).
  [{ XDG_STATE_HOME: 'x' }, 'linux', '/home/me/.local/state/gapwright'],
  [{}, 'darwin', '/home/me/Library/Application Support/Gapwright'],
  [{ LOCALAPPDATA: '/local' }, 'win32', '/local/Gapwright'],
  [{ GAPWRIGHT_STATE: '/mine', XDG_STATE_HOME: '/x' }, 'linux', '/mine'],
])('%j on %s keeps its state in %s', (env, platform, expected) => {
  expect(stateFolder(env, platform, '/home/me')).toBe(expected)
})
