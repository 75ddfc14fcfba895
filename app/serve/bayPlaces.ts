import { randomBytes } from 'node:crypto'
import { basename } from 'node:path'
import { bayLimits } from '../../core/bay/limits.ts'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { readBeside, readRegularFile } from '../files/bayFolder.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import type { OpenedBay } from '../host.ts'

/**
 * The bays that a window may reach, by tokens that nobody can guess: a page never names a path. A token lets it read
 * the meshes in that bay's folder and write that one file, nothing else.
 */
export class BayPlaces {
  readonly #paths = new Map<string, string>()

  /** Reads a bay as text; whether it is a good bay is for the window to judge, which can say so in place. */
  async open(path: string): Promise<Outcome<OpenedBay>> {
    const bytes = await readRegularFile(path, basename(path), 4 * bayLimits.text)
    if (!bytes.ok) return bytes
    const name = basename(path)
    const text = utf8(bytes.value)
    if (text === null) return bad({ code: 'file-not-text', file: name, expected: 'JSON in UTF-8', got: 'other bytes' })
    return good(this.#opened(path, text))
  }

  /** Bytes of a file in the folder of the token's bay. */
  async beside(token: string, file: string): Promise<Outcome<Uint8Array>> {
    const path = this.#paths.get(token)
    return path === undefined ? bad(unknownToken) : readBeside(path, file)
  }

  /** Writes over the token's bay. */
  async save(token: string, text: string): Promise<Outcome<OpenedBay>> {
    const path = this.#paths.get(token)
    if (path === undefined) return bad(unknownToken)
    const saved = await saveAtomically(path, text)
    return saved.ok ? good({ token, name: basename(path), text, writable: true }) : saved
  }

  /** Writes to a path that the user has chosen in a dialog of the system. */
  async saveAs(path: string, text: string): Promise<Outcome<OpenedBay>> {
    const saved = await saveAtomically(path, text)
    return saved.ok ? good(this.#opened(path, text)) : saved
  }

  #opened(path: string, text: string): OpenedBay {
    const token = randomBytes(24).toString('base64url')
    this.#paths.set(token, path)
    return { token, name: basename(path), text, writable: true }
  }
}

const unknownToken = { code: 'unknown-token', expected: 'a bay that was opened in this window' }

function utf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  } catch {
    return null
  }
}
