import { bad, good, type Outcome } from '../../core/fault.ts'
import type { JournalEntry, JournalFolder } from '../files/journalFolder.ts'
import { folderShown } from '../files/recentFiles.ts'
import type { FoundWork, LostWork } from '../host.ts'
import { type BayPlaces, sameFile } from './bayPlaces.ts'

/** The journal as a window sees it: by tokens of bays, never by paths. */
export class WindowJournal {
  readonly #folder: JournalFolder
  readonly #places: BayPlaces

  constructor(folder: JournalFolder, places: BayPlaces) {
    this.#folder = folder
    this.#places = places
  }

  keep(window: string, id: string, token: string | null, name: string, text: string): Promise<Outcome<null>> {
    const { path, base, held } = this.#places.kept(token)
    return this.#folder.keep(window, { id, path, name, text, base }, path === null ? held : new Map())
  }

  drop(id: string): Promise<void> {
    return this.#folder.drop(id)
  }

  /** @param token only work on this bay; null: all there is */
  async found(token: string | null): Promise<readonly LostWork[]> {
    const entries = await this.#folder.leftBehind()
    const path = token === null ? null : this.#places.pathOf(token)
    const wanted: JournalEntry[] = []
    for (const entry of entries)
      if (token === null || (path !== null && entry.path !== null && (await sameFile(entry.path, path))))
        wanted.push(entry)
    return wanted.map((entry) => ({
      id: entry.id,
      name: entry.name,
      where: entry.path === null ? '' : folderShown(entry.path),
      keptAt: entry.keptAt,
    }))
  }

  async take(id: string): Promise<Outcome<FoundWork>> {
    const taken = await this.#folder.take(id)
    if (!taken) return bad({ code: 'work-gone', expected: 'work that is kept aside' })
    const { entry, files } = taken
    const now = entry.path === null ? null : await this.#places.open(entry.path)
    const bay = this.#places.withText(entry.path, entry.name, entry.text, entry.base, new Map(files))
    return good({ bay, onDisk: now?.ok ? now.value.text : null })
  }
}
