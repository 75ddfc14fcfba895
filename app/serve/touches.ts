import { type FSWatcher, watch } from 'node:fs'
import { basename, dirname } from 'node:path'
import type { BayPlaces } from './bayPlaces.ts'

/** Bays watched at once; each reload of a page opens its bay anew, and the oldest of them are nobody's any more. */
const most = 24
/** Long enough for another program to end its writing, short enough to be noticed at once. */
const calm = 200

/**
 * Watches the folders of open bays and tells when a bay's file is no longer what was read. Where a folder cannot be
 * watched (some network drives), the window still asks when it comes to the front and before it saves.
 */
export class Touches {
  readonly #places: BayPlaces
  readonly #tell: (token: string) => void
  readonly #watched = new Map<string, { readonly watcher: FSWatcher; timer?: ReturnType<typeof setTimeout> }>()

  constructor(places: BayPlaces, tell: (token: string) => void) {
    this.#places = places
    this.#tell = tell
  }

  /** Begins to watch the file of a token; a bay that is in no file has nothing to watch. */
  watch(token: string): void {
    const path = this.#places.pathOf(token)
    if (path === null || this.#watched.has(token)) return
    try {
      const name = basename(path)
      const watcher = watch(dirname(path), { persistent: false }, (_event, file) => {
        if (file === null || file === name) this.#later(token)
      })
      watcher.on('error', () => this.unwatch(token))
      this.#watched.set(token, { watcher })
      const [oldest] = this.#watched.keys()
      if (this.#watched.size > most && oldest !== undefined) this.unwatch(oldest)
    } catch {
      // See above.
    }
  }

  unwatch(token: string): void {
    const found = this.#watched.get(token)
    clearTimeout(found?.timer)
    found?.watcher.close()
    this.#watched.delete(token)
  }

  close(): void {
    for (const token of [...this.#watched.keys()]) this.unwatch(token)
  }

  #later(token: string): void {
    const found = this.#watched.get(token)
    if (!found) return
    clearTimeout(found.timer)
    found.timer = setTimeout(async () => {
      const standing = await this.#places.standing(token)
      if (standing.ok && standing.value !== 'same') this.#tell(token)
    }, calm)
    found.timer.unref()
  }
}
