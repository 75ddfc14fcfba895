import { randomBytes } from 'node:crypto'
import { realpath } from 'node:fs/promises'
import { basename } from 'node:path'
import { bayLimits } from '../../core/bay/limits.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import { addBeside, carryMeshes, numbered, storableName } from '../files/besideBay.ts'
import { readBeside, readRegularFile } from '../files/bayFolder.ts'
import { sha256 } from '../files/journalFolder.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import type { AddedFile, OpenedBay, Standing } from '../host.ts'

/** Where a bay of a window lies, and what the window knows of it. */
interface Place {
  /** Null while it is in no file. */
  readonly path: string | null
  readonly name: string
  /** Of the bytes that were last read or written; null where there are none. */
  sha256: string | null
  /** Meshes of a bay that has no folder yet. */
  readonly held: Map<string, Uint8Array>
  /** While we write ourselves, nobody else does. */
  saving: boolean
}

/**
 * The bays that a window may reach, by tokens that nobody can guess: a page never names a path. A token lets it read
 * the meshes in that bay's folder, put new ones there and write that one file, nothing else.
 */
export class BayPlaces {
  readonly #places = new Map<string, Place>()

  /** Reads a bay as text; whether it is a good bay is for the window to judge, which can say so in place. */
  async open(path: string): Promise<Outcome<OpenedBay>> {
    const read = await readText(path)
    return read.ok ? good(this.#opened(path, read.value.text, read.value.sha256)) : read
  }

  /**
   * A bay with a text that is not that of its file: unsaved work, or a bay that is in no file yet.
   * @param base sha256 of the file that the text began from
   */
  withText(path: string | null, name: string, text: string, base: string | null, held = new Map()): OpenedBay {
    return this.#opened(path, text, base, name, held)
  }

  /** Bytes of a file in the folder of the token's bay. */
  async beside(token: string, file: string): Promise<Outcome<Uint8Array>> {
    const place = this.#places.get(token)
    if (!place) return bad(unknownToken)
    const held = place.held.get(file)
    if (held) return good(held)
    return place.path === null
      ? bad({ code: 'mesh-missing', file, expected: 'a file in the bay’s folder' })
      : readBeside(place.path, file)
  }

  /** Puts a file into the folder of the token's bay, or keeps it until the bay has one. */
  async addBeside(token: string, name: string, bytes: Uint8Array): Promise<Outcome<AddedFile>> {
    const place = this.#places.get(token)
    if (!place) return bad(unknownToken)
    if (place.path === null) {
      const wanted = storableName(name)
      let file = wanted
      for (let count = 2; place.held.has(file) && Buffer.compare(place.held.get(file)!, bytes) !== 0; count++)
        file = numbered(wanted, count)
      place.held.set(file, bytes.slice())
      return good({ file, onDisk: true })
    }
    const added = await addBeside(place.path, name, bytes)
    return added.ok ? good({ file: added.value, onDisk: true }) : added
  }

  /** Writes over the token's bay; unless `over` is said, only if it is as it was last read or written. */
  async save(token: string, text: string, over: boolean): Promise<Outcome<OpenedBay>> {
    const place = this.#places.get(token)
    if (!place) return bad(unknownToken)
    const { path, name } = place
    if (path === null) return bad({ code: 'no-place', file: name, expected: 'a place for it: save it elsewhere' })
    if (!over) {
      const standing = await this.standing(token)
      if (!standing.ok) return standing
      const fault = standing.value === 'same' ? null : standingFault(standing.value, name)
      if (fault) return bad(fault)
    }
    place.saving = true
    try {
      const saved = await saveAtomically(path, text)
      if (!saved.ok) return bad(...saved.faults.map((fault) => ({ ...fault, file: name })))
      place.sha256 = sha256(new TextEncoder().encode(text))
      return good({ token, name, text, writable: true })
    } finally {
      place.saving = false
    }
  }

  /**
   * Writes to a path that the user has chosen in a dialog of the system; the bay's meshes go along.
   * @param from token of the bay until now
   */
  async saveAs(path: string, text: string, from: string | null): Promise<Outcome<OpenedBay>> {
    if (from !== null && this.#places.has(from)) {
      const carried = await carryMeshes(text, path, (file) => this.beside(from, file))
      if (!carried.ok) return carried
    }
    const saved = await saveAtomically(path, text)
    if (saved.ok) return good(this.#opened(path, text, sha256(new TextEncoder().encode(text))))
    return bad(...saved.faults.map((fault) => ({ ...fault, file: basename(path) })))
  }

  /** Compared by content: a file that was only touched has not changed. */
  async standing(token: string): Promise<Outcome<Standing>> {
    const place = this.#places.get(token)
    if (!place) return bad(unknownToken)
    if (place.path === null || place.saving) return good('same')
    const read = await readRegularFile(place.path, place.name, 4 * bayLimits.text)
    if (read.ok) return good(sha256(read.value) === place.sha256 ? 'same' : 'changed')
    return good(read.faults[0]?.code === 'file-missing' ? 'gone' : 'changed')
  }

  /** Reads the token's own file again; what is there is then what a save may write over. */
  async again(token: string): Promise<Outcome<OpenedBay>> {
    const place = this.#places.get(token)
    if (!place) return bad(unknownToken)
    if (place.path === null) return bad({ code: 'file-missing', file: place.name })
    const read = await readText(place.path)
    if (!read.ok) return read
    place.sha256 = read.value.sha256
    return good({ token, name: place.name, text: read.value.text, writable: true })
  }

  pathOf(token: string): string | null {
    return this.#places.get(token)?.path ?? null
  }

  /** What a journal keeps of a bay beside its text. */
  kept(token: string | null): { path: string | null; base: string | null; held: ReadonlyMap<string, Uint8Array> } {
    const place = token === null ? undefined : this.#places.get(token)
    return { path: place?.path ?? null, base: place?.sha256 ?? null, held: place?.held ?? new Map() }
  }

  #opened(path: string | null, text: string, base: string | null, called?: string, held = new Map()): OpenedBay {
    const token = randomBytes(24).toString('base64url')
    const name = called ?? basename(path ?? '')
    this.#places.set(token, { path, name, sha256: base, held, saving: false })
    return { token, name, text, writable: path !== null }
  }
}

/** Whether two paths lead to the same file, by way of links too. */
export async function sameFile(a: string, b: string): Promise<boolean> {
  const real = (path: string) => realpath(path).catch(() => path)
  return (await real(a)) === (await real(b))
}

function standingFault(standing: Exclude<Standing, 'same'>, file: string): Fault {
  return standing === 'gone'
    ? { code: 'file-gone', file, expected: 'the file that was opened: write it anew, or save it elsewhere' }
    : { code: 'changed-outside', file, expected: 'to be told which of the two to keep' }
}

async function readText(path: string): Promise<Outcome<{ text: string; sha256: string }>> {
  const name = basename(path)
  const bytes = await readRegularFile(path, name, 4 * bayLimits.text)
  if (!bytes.ok) return bytes
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes.value)
    return good({ text, sha256: sha256(bytes.value) })
  } catch {
    return bad({ code: 'file-not-text', file: name, expected: 'JSON in UTF-8', got: 'other bytes' })
  }
}

const unknownToken = { code: 'unknown-token', expected: 'a bay that was opened in this window' }
