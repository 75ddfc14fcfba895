import { mkdir, readdir, realpath } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { meshFileTrouble } from '../../core/bay/meshFile.ts'
import { readBay } from '../../core/bay/read.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import { readRegularFile } from './bayFolder.ts'
import { reasonText, whatToDo } from './diskReason.ts'
import { defaultLimits } from './rawMesh.ts'
import { saveAtomically } from './saveAtomically.ts'

/**
 * Puts a file into the folder of a bay. Never overwrites: a file of that name with equal bytes is taken as it is, any
 * other one makes ours `NAME-2.stl`, `NAME-3.stl` …
 * @param name as the user knows the file; folders before it are left off, and what no system can store is replaced
 * @returns the name it lies under; faults in words when the folder cannot be written
 */
export async function addBeside(bayPath: string, name: string, bytes: Uint8Array): Promise<Outcome<string>> {
  const folder = await realpath(dirname(bayPath)).catch(() => dirname(bayPath))
  return putInto(folder, storableName(name), bytes)
}

async function putInto(folder: string, name: string, bytes: Uint8Array): Promise<Outcome<string>> {
  const taken = new Set((await readdir(folder).catch(() => [])).map((file) => file.toLowerCase()))
  for (let count = 1; ; count++) {
    const file = numbered(name, count)
    if (!taken.has(file.toLowerCase())) {
      const written = await saveAtomically(join(folder, file), bytes, { keepFormer: false })
      return written.ok ? good(file) : bad(...written.faults.map((fault) => ({ ...fault, file })))
    }
    const there = await readRegularFile(join(folder, file), file, defaultLimits.bytes)
    if (there.ok && same(there.value, bytes)) return good(file)
  }
}

/** A name without folders that every system can store and that a bay may hold as a mesh's file. */
export function storableName(name: string): string {
  const last = name.split(/[\\/]/).at(-1) ?? ''
  // biome-ignore lint/suspicious/noControlCharactersInRegex: just these cannot be stored
  const plain = last.replace(/[\u0000-\u001f\u007f:*?"<>|]/g, '-').replace(/^\.+|[. ]+$/g, '')
  const short = plain.length > 120 ? `${plain.slice(0, 100)}${extensionOf(plain)}` : plain
  return meshFileTrouble(short) === null ? short : `mesh-${short || 'file'}`
}

/** `shell.stl` → `shell-2.stl`; `.ply.gz` counts as one extension. */
export function numbered(name: string, count: number): string {
  const extension = extensionOf(name)
  return count === 1 ? name : `${name.slice(0, name.length - extension.length)}-${count}${extension}`
}

const extensionOf = (name: string): string => /(\.[a-z0-9]{1,8})?(\.gz)?$/i.exec(name)?.[0] ?? ''

const same = (a: Uint8Array, b: Uint8Array): boolean => Buffer.compare(a, b) === 0

/**
 * Takes the meshes that a bay names along to another folder, so that a copy of the bay is a whole one. What lies there
 * already is left if it is the same, and refused with 'mesh-differs' if not: nothing is written then.
 * @param bytesOf the mesh beside the bay that is copied
 */
export async function carryMeshes(
  text: string,
  toPath: string,
  bytesOf: (file: string) => Promise<Outcome<Uint8Array>>,
): Promise<Outcome<null>> {
  const bay = readBay(text)
  // A text that is no bay names no meshes; whether it may be saved is not for here to say.
  if (!bay.ok) return good(null)
  const files = new Set(bay.value.keepOuts.flatMap(({ shape }) => (shape.kind === 'mesh' ? [shape.file] : [])))
  const missing: [string, Uint8Array][] = []
  const faults: Fault[] = []
  for (const file of files) {
    const ours = await bytesOf(file)
    // A mesh that is missing where the bay comes from cannot be carried; opening the copy says so as opening ours does.
    if (!ours.ok) continue
    const there = await readAt(toPath, file)
    if (there === null) missing.push([file, ours.value])
    else if (!same(there, ours.value))
      faults.push({ code: 'mesh-differs', file, expected: 'the same mesh, or none: save into another folder' })
  }
  if (faults.length > 0) return bad(...faults)
  for (const [file, bytes] of missing) {
    const written = await writeInto(dirname(toPath), file, bytes)
    if (!written.ok) return written
  }
  return good(null)
}

async function readAt(bayPath: string, file: string): Promise<Uint8Array | null> {
  const read = await readRegularFile(join(dirname(bayPath), file), file, defaultLimits.bytes)
  return read.ok ? read.value : null
}

async function writeInto(folder: string, file: string, bytes: Uint8Array): Promise<Outcome<string>> {
  const trouble = meshFileTrouble(file)
  if (trouble !== null) return bad({ code: 'mesh-outside-folder', file, expected: trouble, got: file })
  const path = join(folder, file)
  try {
    await mkdir(dirname(path), { recursive: true })
  } catch (error) {
    return bad({ code: 'file-unwritable', file, expected: whatToDo(error), got: reasonText(error) })
  }
  return saveAtomically(path, bytes, { keepFormer: false })
}
