import { lstat, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { saveAtomically } from './saveAtomically.ts'

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'save-'))
})
afterEach(() => rm(folder, { recursive: true }))

test('a new file is written, and nothing else is left in the folder', async () => {
  const path = join(folder, 'new.bay.json')
  expect(await saveAtomically(path, '{"a": "⌀ 57"}\n')).toEqual({ ok: true, value: path })
  expect(await readFile(path, 'utf8')).toBe('{"a": "⌀ 57"}\n')
  expect(await readdir(folder)).toEqual(['new.bay.json'])
})

test('the former version is kept as .bak, and only the last one', async () => {
  const path = join(folder, 'a.bay.json')
  for (const text of ['one', 'two', 'three']) await saveAtomically(path, text)
  expect(await readFile(path, 'utf8')).toBe('three')
  expect(await readFile(`${path}.bak`, 'utf8')).toBe('two')
  expect((await readdir(folder)).sort()).toEqual(['a.bay.json', 'a.bay.json.bak'])
})

test('a symbolic link stays a link', async () => {
  const real = join(folder, 'real.bay.json')
  const link = join(folder, 'link.bay.json')
  await writeFile(real, 'one')
  await symlink(real, link)
  await saveAtomically(link, 'two')
  expect((await lstat(link)).isSymbolicLink()).toBe(true)
  expect(await readFile(real, 'utf8')).toBe('two')
})

test('a folder of that name, or no folder to write in, is a fault in words', async () => {
  await mkdir(join(folder, 'sub'))
  expect(await saveAtomically(join(folder, 'sub'), 'x')).toMatchObject({
    ok: false,
    faults: [{ code: 'file-unwritable', got: 'it is not a regular file' }],
  })
  expect(await saveAtomically(join(folder, 'none', 'a.json'), 'x')).toMatchObject({
    ok: false,
    faults: [{ code: 'file-unwritable', got: 'its folder is not there' }],
  })
  expect(await readdir(folder)).toEqual(['sub'])
})

test('when the new text cannot take the name, the old file and its .bak stay and no temporary file is left', async () => {
  const path = join(folder, 'a.bay.json')
  await saveAtomically(path, 'one')
  // A folder in the place of the .bak makes the step before the last fail, for every user on every system.
  await mkdir(`${path}.bak`)
  expect(await saveAtomically(path, 'two')).toMatchObject({ ok: false, faults: [{ code: 'file-unwritable' }] })
  expect(await readFile(path, 'utf8')).toBe('one')
  expect((await readdir(folder)).sort()).toEqual(['a.bay.json', 'a.bay.json.bak'])
})
