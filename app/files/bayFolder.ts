import { createHash } from 'node:crypto'
import { constants, type FileHandle, open, realpath } from 'node:fs/promises'
import { dirname, join, relative, sep } from 'node:path'
import { bayLimits } from '../../core/bay/limits.ts'
import { meshFileTrouble } from '../../core/bay/meshFile.ts'
import { readBay } from '../../core/bay/read.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import { type BayMeshes, loadBayMeshes } from './bayMeshes.ts'
import { defaultLimits, type ReadLimits } from './rawMesh.ts'
import { reasonText } from './diskReason.ts'

export interface OpenBay extends BayMeshes {
  readonly bay: Bay
  readonly text: string
  /** Of the bay file's bytes, hex. */
  readonly sha256: string
  /** Of each mesh file's bytes as stored, by the `file` that the bay names. */
  readonly meshSha256: ReadonlyMap<string, string>
}

/**
 * Opens a bay with all its meshes from the disk.
 * @param path as the user gave it; it stands in the faults
 * @returns bay, text and checked meshes, or every fault found; nothing half-read
 */
export async function openBay(path: string, limits: ReadLimits = defaultLimits): Promise<Outcome<OpenBay>> {
  const bytes = await readRegularFile(path, path, 4 * bayLimits.text)
  if (!bytes.ok) return bytes
  const text = decoded(bytes.value)
  if (text === null) return bad({ code: 'file-not-text', file: path, expected: 'JSON in UTF-8', got: 'other bytes' })
  const bay = readBay(text, path)
  if (!bay.ok) return bay
  const meshSha256 = new Map<string, string>()
  const meshes = await loadBayMeshes(
    bay.value,
    async (file) => {
      const mesh = await readBeside(path, file, limits.bytes)
      if (mesh.ok) meshSha256.set(file, hash(mesh.value))
      return mesh
    },
    limits,
  )
  if (!meshes.ok) return meshes
  return good({ bay: bay.value, text, sha256: hash(bytes.value), meshSha256, ...meshes.value })
}

/**
 * Bytes of a mesh that lies in the bay's folder or below it. A name that leads out of it is refused, and so is a
 * symbolic link that does: a bay from a stranger must not make us read the rest of the disk.
 */
export async function readBeside(
  bayPath: string,
  file: string,
  limit: number = defaultLimits.bytes,
): Promise<Outcome<Uint8Array>> {
  // The folder that the bay really lies in, should the bay itself be reached by a link.
  const folder = await realpath(bayPath).then(dirname, () => null)
  return folder === null ? meshMissing(file) : readInside(folder, file, limit)
}

/** The same of a mesh in any folder. */
export async function readInFolder(path: string, file: string): Promise<Outcome<Uint8Array>> {
  const folder = await realpath(path).catch(() => null)
  return folder === null ? meshMissing(file) : readInside(folder, file, defaultLimits.bytes)
}

/** Whether meshes that a bay names would be the same ones beside another bay file, which need not be there yet. */
export async function sameMeshesBeside(
  bayPath: string,
  otherPath: string,
  meshSha256: ReadonlyMap<string, string>,
): Promise<Outcome<null>> {
  const [here, there] = await Promise.all([
    realpath(bayPath).then(dirname, () => null),
    realpath(dirname(otherPath)).catch(() => null),
  ])
  if (here !== null && here === there) return good(null)
  if (there === null) return bad({ code: 'file-unwritable', file: otherPath, expected: 'a folder that is there' })
  const faults: Fault[] = []
  for (const [file, sha256] of meshSha256) {
    const bytes = await readInside(there, file, defaultLimits.bytes)
    if (!bytes.ok) faults.push(...bytes.faults)
    else if (hash(bytes.value) !== sha256) faults.push({ code: 'mesh-differs', file, expected: 'the same mesh' })
  }
  return faults.length > 0 ? bad(...faults.map((fault) => ({ ...fault, item: otherPath }))) : good(null)
}

const meshMissing = (file: string): Outcome<never> =>
  bad({ code: 'mesh-missing', file, expected: 'a file in the bay’s folder' })

/** @param folder without links on the way */
async function readInside(folder: string, file: string, limit: number): Promise<Outcome<Uint8Array>> {
  const expected = meshFileTrouble(file)
  if (expected) return bad({ code: 'mesh-outside-folder', file, expected, got: file })
  const real = await realpath(join(folder, file)).catch(() => null)
  if (real === null) return meshMissing(file)
  const inside = relative(folder, real)
  if (inside === '' || inside === '..' || inside.startsWith(`..${sep}`) || join(folder, inside) !== real)
    return bad({
      code: 'mesh-outside-folder',
      file,
      expected: "a file inside the bay's folder",
      got: 'a link that leaves it',
    })
  return readRegularFile(real, file, limit)
}

/**
 * Bytes of a regular file. A pipe, a device or a folder is refused instead of waited for, and so is a file over the
 * limit, before anything is read.
 * @param shown the name for people
 */
export async function readRegularFile(path: string, shown: string, limit: number): Promise<Outcome<Uint8Array>> {
  let handle: FileHandle | undefined
  try {
    // Without O_NONBLOCK opening a pipe would wait for its other end for ever.
    handle = await open(path, nonBlocking)
    const stat = await handle.stat()
    if (!stat.isFile())
      return bad({
        code: 'file-unreadable',
        file: shown,
        expected: 'a regular file',
        got: stat.isDirectory() ? 'a folder' : 'a device or pipe',
      })
    if (stat.size > limit)
      return bad({ code: 'file-too-big', file: shown, expected: `at most ${limit} bytes`, got: `${stat.size} bytes` })
    const bytes = await handle.readFile()
    return good(new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength))
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : ''
    if (code === 'ENOENT' || code === 'ENOTDIR') return bad({ code: 'file-missing', file: shown })
    return bad({ code: 'file-unreadable', file: shown, expected: 'a file that can be read', got: reasonText(error) })
  } finally {
    await handle?.close()
  }
}

/** Null for bytes that are not UTF-8: replacing them silently would change names and notes on the next save. */
function decoded(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  } catch {
    return null
  }
}

// Windows has no such flag and no such pipes.
const nonBlocking = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0)

const hash = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')
