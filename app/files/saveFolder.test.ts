import { chmod, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { saveFolder } from './saveFolder.ts'

let place: string
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'folder-'))
})
afterEach(() => rm(place, { recursive: true }))

const file = (name: string, text: string) => ({ name, bytes: new TextEncoder().encode(text) })
const set = [file('set.pdf', 'pages'), file('tables/gaps.csv', 'a,b')]

test('a new folder holds the files, those of folders within it too, and nothing else is left beside it', async () => {
  const folder = join(place, 'out')
  expect(await saveFolder(folder, set)).toEqual({ ok: true, value: folder })
  expect(await readFile(join(folder, 'tables', 'gaps.csv'), 'utf8')).toBe('a,b')
  expect(await readdir(place)).toEqual(['out'])
})

test('a folder that is there keeps what is not in the set', async () => {
  const folder = join(place, 'out')
  await mkdir(folder)
  await writeFile(join(folder, 'mine.txt'), 'mine')
  await writeFile(join(folder, 'set.pdf'), 'old')
  expect(await saveFolder(folder, set)).toMatchObject({ ok: true })
  expect(await readFile(join(folder, 'mine.txt'), 'utf8')).toBe('mine')
  expect(await readFile(join(folder, 'set.pdf'), 'utf8')).toBe('pages')
  expect(await readdir(place)).toEqual(['out'])
})

test('a file of that name stays, and is told', async () => {
  const folder = join(place, 'out')
  await writeFile(folder, 'mine')
  expect(await saveFolder(folder, set)).toMatchObject({
    ok: false,
    faults: [{ code: 'file-unwritable', got: 'a file of that name' }],
  })
  expect(await readFile(folder, 'utf8')).toBe('mine')
  expect(await readdir(place)).toEqual(['out'])
})

test('a folder where a file is to lie is found before anything is written', async () => {
  await mkdir(join(place, 'out', 'tables', 'gaps.csv'), { recursive: true })
  const saved = await saveFolder(join(place, 'out'), set)
  expect(saved).toMatchObject({ ok: false, faults: [{ got: 'a folder of that name' }] })
  expect(await readdir(join(place, 'out'))).toEqual(['tables'])
  expect(await readdir(place)).toEqual(['out'])
})

test('of a set that breaks half-way nothing is left', async () => {
  // The second name cannot be one: the first file is a file and not a folder.
  const saved = await saveFolder(join(place, 'out'), [file('a', '1'), file('a/b', '2')])
  expect(saved).toMatchObject({ ok: false, faults: [{ code: 'file-unwritable' }] })
  expect(await readdir(place)).toEqual([])
})

test('no folder to lie in, and no permission, are told with what to do', async () => {
  expect(await saveFolder(join(place, 'gone', 'out'), set)).toMatchObject({
    ok: false,
    faults: [{ got: 'its folder is not there' }],
  })
  if (process.getuid?.() === 0) return
  await chmod(place, 0o500)
  const saved = await saveFolder(join(place, 'out'), set)
  await chmod(place, 0o700)
  expect(saved).toMatchObject({ ok: false, faults: [{ got: 'no permission' }] })
})

test.each(['../out.txt', '/etc/out.txt', 'a/../../out.txt', ''])(
  'a name that leads elsewhere is refused: %j',
  async (name) => {
    expect(await saveFolder(join(place, 'out'), [file(name, '1')])).toMatchObject({ ok: false })
    expect(await readdir(place)).toEqual([])
  },
)
