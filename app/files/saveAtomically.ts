import { randomUUID } from 'node:crypto'
import { constants, type FileHandle, copyFile, open, realpath, rename, stat, unlink } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { bad, good, type Fault, type Outcome } from '../../core/fault.ts'

/**
 * Writes a file so that a crash, a full disk or a pulled plug leaves either the old file or the new one, never a half.
 *
 * The text goes to a temporary file in the same folder, is flushed to the disk, and takes the file's name in one step.
 * What was there before is kept beside it as `NAME.bak`. A symbolic link stays one: the file it leads to is replaced.
 * @param text written as UTF-8
 * @returns the path written; faults 'file-unwritable' with the old file untouched
 */
export async function saveAtomically(path: string, text: string): Promise<Outcome<string>> {
  const target = await realpath(path).catch(() => path)
  const temporary = besideWithName(target, `.${basename(target)}.${randomUUID()}.tmp`)
  try {
    const former = await stat(target).catch(() => null)
    if (former && !former.isFile()) return refused(path, 'it is not a regular file')
    await writeFlushed(temporary, text, former?.mode)
    if (former) await keepFormer(target)
    await rename(temporary, target)
    await flushFolder(dirname(target))
    return good(path)
  } catch (error) {
    await unlink(temporary).catch(() => {})
    return refused(path, reasonText(error))
  }
}

async function writeFlushed(path: string, text: string, mode: number | undefined): Promise<void> {
  const file = await open(path, 'wx', mode === undefined ? 0o666 : mode & 0o777)
  try {
    await file.writeFile(text, 'utf8')
    await file.sync()
  } finally {
    await file.close()
  }
}

/** A copy that takes the .bak name in one step too: a crash in between must not cost the last good copy. */
async function keepFormer(target: string): Promise<void> {
  const copy = besideWithName(target, `.${basename(target)}.${randomUUID()}.bak.tmp`)
  try {
    await copyFile(target, copy, constants.COPYFILE_EXCL | constants.COPYFILE_FICLONE)
    await rename(copy, `${target}.bak`)
  } catch (error) {
    await unlink(copy).catch(() => {})
    throw error
  }
}

/** The name itself is only safe once the folder is flushed; some systems cannot flush a folder and need not. */
async function flushFolder(folder: string): Promise<void> {
  let handle: FileHandle | undefined
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

const refused = (file: string, got: string): Outcome<never> =>
  bad({ code: 'file-unwritable', file, expected: 'a place that can be written', got } satisfies Fault)

const reasons: Record<string, string> = {
  ENOENT: 'its folder is not there',
  ENOTDIR: 'its folder is not there',
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'a read-only disk',
  ENOSPC: 'a full disk',
  EISDIR: 'a folder of that name',
  ENAMETOOLONG: 'a name that is too long',
  EMFILE: 'too many open files',
  ELOOP: 'a link that leads in a circle',
  EIO: 'a disk that fails',
}

/** An operating system's error in words, without its path and number. */
export function reasonText(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  return reasons[code] ?? (code || String(error))
}
