import { randomUUID } from 'node:crypto'
import { lstat } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { storableName } from '../files/besideBay.ts'
import { saveFolder } from '../files/saveFolder.ts'
import type { ChosenFolder, FileOut } from '../host.ts'

/** Folders that users chose in a dialog, by the token that their page holds; the page never names a path. */
export class ChosenFolders {
  readonly #paths = new Map<string, { readonly caller: string; readonly path: string }>()

  /** @param inside the folder that the user chose, for one of that name to lie in; null when they cancelled */
  async chosen(caller: string, inside: string | null, name: string): Promise<ChosenFolder | null> {
    if (inside === null) return null
    const path = join(inside, storableName(name))
    const token = randomUUID()
    this.#paths.set(token, { caller, path })
    const taken = await lstat(path).then(
      () => true,
      () => false,
    )
    return { token, name: basename(path), taken }
  }

  /** Each token is good for one saving. */
  async save(caller: string, token: string, files: readonly FileOut[]): Promise<Outcome<string>> {
    const chosen = this.#paths.get(token)
    if (chosen?.caller !== caller)
      return bad({ code: 'call-refused', expected: 'a folder that was chosen in this window' })
    this.#paths.delete(token)
    const saved = await saveFolder(chosen.path, files)
    const name = basename(chosen.path)
    return saved.ok ? good(name) : bad(...saved.faults.map((fault) => ({ ...fault, file: nameIn(fault.file, name) })))
  }
}

/** Without the folders of the user's disk. */
const nameIn = (path: string | undefined, folder: string): string =>
  path === undefined || basename(path) === folder ? folder : `${folder}/${basename(path)}`
