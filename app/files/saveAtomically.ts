import { randomUUID } from 'node:crypto'
import * as disk from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { bad, good, type Fault, type Outcome } from '../../core/fault.ts'
import { reasonText, whatToDo } from './diskReason.ts'

/** The calls on the file system that saving is made of; a test puts a failing disk in their place. */
export type Disk = Pick<typeof disk, 'copyFile' | 'open' | 'realpath' | 'rename' | 'stat' | 'unlink'>

export interface SaveWish {
  /** Keep what was there before beside it as `NAME.bak`; default true. */
  readonly keepFormer?: boolean
  /** Permissions of a new file; default what the system gives. */
  readonly mode?: number
  readonly disk?: Disk
}

/**
 * Writes a file so that a crash, a full disk or a pulled plug leaves either the old file or the new one, never a half.
 *
 * The content goes to a temporary file in the same folder, is flushed to the disk, and takes the file's name in one step;
 * the folder is flushed after that. What was there before is kept beside it as `NAME.bak`. A symbolic link stays one: the
 * file it leads to is replaced.
 * @param content text is written as UTF-8
 * @returns the path written, once it is on the disk; faults 'file-unwritable' with the old file untouched, which say what
 *   is wrong and what to do
 */
export async function saveAtomically(
  path: string,
  content: string | Uint8Array,
  { keepFormer = true, mode, disk: calls = disk }: SaveWish = {},
): Promise<Outcome<string>> {
  const target = await calls.realpath(path).catch(() => path)
  const temporary = besideWithName(target, `.${basename(target)}.${randomUUID()}.tmp`)
  try {
    const former = await calls.stat(target).catch(() => null)
    if (former && !former.isFile()) return refused(path, new Error('it is not a regular file'), 'a file')
    await writeFlushed(calls, temporary, content, mode ?? former?.mode)
    if (former && keepFormer) await keepBeside(calls, target)
    await calls.rename(temporary, target)
    await flushFolder(calls, dirname(target))
    return good(path)
  } catch (error) {
    await calls.unlink(temporary).catch(() => {})
    return refused(path, error)
  }
}

async function writeFlushed(
  { open }: Disk,
  path: string,
  content: string | Uint8Array,
  mode: number | undefined,
): Promise<void> {
  const file = await open(path, 'wx', mode === undefined ? 0o666 : mode & 0o777)
  try {
    await file.writeFile(content, 'utf8')
    await file.sync()
  } finally {
    await file.close()
  }
}

/**
 * A copy that takes the .bak name in one step too, flushed before: a crash in between must not cost the last good copy.
 */
async function keepBeside({ copyFile, open, rename, unlink }: Disk, target: string): Promise<void> {
  const copy = besideWithName(target, `.${basename(target)}.${randomUUID()}.bak.tmp`)
  const { COPYFILE_EXCL, COPYFILE_FICLONE } = disk.constants
  try {
    await copyFile(target, copy, COPYFILE_EXCL | COPYFILE_FICLONE)
    const file = await open(copy, 'r+')
    await file.sync().finally(() => file.close())
    await rename(copy, `${target}.bak`)
  } catch (error) {
    await unlink(copy).catch(() => {})
    throw error
  }
}

/** The name itself is only safe once the folder is flushed; some systems cannot flush a folder and need not. */
async function flushFolder({ open }: Disk, folder: string): Promise<void> {
  let handle: disk.FileHandle | undefined
  try {
    handle = await open(folder, 'r')
    await handle.sync()
  } catch {
    // Windows refuses to open folders; its rename is journalled.
  } finally {
    await handle?.close()
  }
}

const besideWithName = (path: string, name: string) => join(dirname(path), name)

const refused = (file: string, error: unknown, expected = whatToDo(error)): Outcome<never> =>
  bad({
    code: 'file-unwritable',
    file,
    expected,
    got: error instanceof Error && !('code' in error) ? error.message : reasonText(error),
  } satisfies Fault)
