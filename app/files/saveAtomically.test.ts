import * as disk from 'node:fs/promises'
import { lstat, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { type Disk, saveAtomically } from './saveAtomically.ts'

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

/** A disk on which one call fails as a real one would. */
const failing = (call: 'write' | 'sync' | 'rename' | 'open', code: string): Disk => {
  const fail = async () => {
    throw Object.assign(new Error(code), { code })
  }
  return {
    ...disk,
    ...(call === 'rename' && { rename: fail }),
    async open(...given: Parameters<typeof disk.open>) {
      if (call === 'open') await fail()
      const file = await disk.open(...given)
      if (given[1] !== 'wx') return file
      if (call === 'write') file.writeFile = fail
      if (call === 'sync') file.sync = fail
      return file
    },
  }
}

test.each([
  ['write', 'ENOSPC', 'a full disk', /some room on the disk/],
  ['sync', 'ENOSPC', 'a full disk', /some room/],
  ['sync', 'EIO', 'a disk that fails', /elsewhere/],
  ['open', 'EACCES', 'no permission', /change the permission/],
  ['open', 'EROFS', 'a read-only disk', /elsewhere/],
  ['open', 'ENOENT', 'its folder is not there', /bring it back/],
  ['rename', 'EBUSY', 'a file that another program holds', /close it there/],
  ['rename', 'EPERM', 'no permission', /elsewhere/],
] as const)(
  'when %s fails with %s nothing is said to be saved, and the old file is whole',
  async (call, code, got, expected) => {
    const path = join(folder, 'a.bay.json')
    await writeFile(path, 'one')
    expect(await saveAtomically(path, 'two', { disk: failing(call, code) })).toMatchObject({
      ok: false,
      faults: [{ code: 'file-unwritable', got, expected: expect.stringMatching(expected) }],
    })
    expect(await readFile(path, 'utf8')).toBe('one')
    expect((await readdir(folder)).filter((name) => name.includes('tmp'))).toEqual([])
  },
)

test('is not done before the new file and its folder are on the disk, in that order', async () => {
  const path = join(folder, 'a.bay.json')
  await writeFile(path, 'one')
  const order: string[] = []
  const watched: Disk = {
    ...disk,
    async open(...given: Parameters<typeof disk.open>) {
      const file = await disk.open(...given)
      const what = given[0] === folder ? 'folder' : String(given[0]).endsWith('.bak.tmp') ? 'former' : 'new'
      const sync = file.sync.bind(file)
      file.sync = async () => {
        await sync()
        order.push(`${what} flushed`)
      }
      return file
    },
    async rename(from, to) {
      await disk.rename(from, to)
      order.push(`${String(to).endsWith('.bak') ? 'former' : 'new'} named`)
    },
  }
  await saveAtomically(path, 'two', { disk: watched })
  expect(order).toEqual(['new flushed', 'former flushed', 'former named', 'new named', 'folder flushed'])
})
