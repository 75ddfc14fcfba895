import { randomUUID } from 'node:crypto'
import { access, constants, lstat, mkdir, rename, rm, writeFile } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { meshFileTrouble } from '../../core/bay/meshFile.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import type { FileOut } from '../host.ts'
import { reasonText, whatToDo } from './diskReason.ts'

/**
 * Writes a set of files as a folder. All are written aside first, on the same disk, and moved when the last one lies there:
 * whatever goes wrong before leaves nothing behind and nothing changed. A folder that is there keeps its other files; those of
 * the same names are replaced.
 * @param folder need not be there; the folder that it is to lie in has to
 * @returns the folder; faults that name it or the file, with what to do
 */
export async function saveFolder(folder: string, files: readonly FileOut[]): Promise<Outcome<string>> {
  const target = resolve(folder)
  const trouble = await troubleAt(target, files)
  if (trouble) return bad(trouble)
  const aside = join(dirname(target), `.${basename(target)}.${randomUUID()}.tmp`)
  try {
    await mkdir(aside)
    for (const { name, bytes } of files) {
      await mkdir(dirname(join(aside, name)), { recursive: true })
      await writeFile(join(aside, name), bytes, { flag: 'wx', flush: true })
    }
    if ((await kindOf(target)) === 'none') await rename(aside, target)
    else await moveInto(target, aside, files)
    return good(folder)
  } catch (error) {
    return bad({ code: 'file-unwritable', file: folder, expected: whatToDo(error), got: reasonText(error) })
  } finally {
    await rm(aside, { recursive: true, force: true }).catch(() => {})
  }
}

async function moveInto(target: string, aside: string, files: readonly FileOut[]): Promise<void> {
  for (const { name } of files) {
    await mkdir(dirname(join(target, name)), { recursive: true })
    await rename(join(aside, name), join(target, name))
  }
}

/** Whether a folder could be written here, told before anything is made that would go into it. */
export async function folderTrouble(folder: string): Promise<Fault | null> {
  const target = resolve(folder)
  if ((await kindOf(target)) === 'file')
    return {
      code: 'file-unwritable',
      file: folder,
      expected: `a folder: give ${elsewhere}`,
      got: 'a file of that name',
    }
  try {
    await access(dirname(target), constants.W_OK)
    return null
  } catch (error) {
    return { code: 'file-unwritable', file: folder, expected: whatToDo(error), got: reasonText(error) }
  }
}

const elsewhere = 'another place, or none of that name'

/** What can be told before anything is written. */
async function troubleAt(target: string, files: readonly FileOut[]) {
  for (const { name } of files) {
    const expected = meshFileTrouble(name)
    if (expected) return { code: 'file-unwritable', file: name, expected, got: name }
  }
  const trouble = await folderTrouble(target)
  if (trouble) return trouble
  for (const { name } of files)
    if ((await kindOf(join(target, name))) === 'folder')
      return { code: 'file-unwritable', file: join(target, name), expected: elsewhere, got: 'a folder of that name' }
  return null
}

const kindOf = (path: string): Promise<'none' | 'file' | 'folder'> =>
  lstat(path).then(
    (found) => (found.isDirectory() ? 'folder' : 'file'),
    () => 'none',
  )
