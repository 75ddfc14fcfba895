import type { FoundWork, Journal, LostWork, OpenedBay } from '../../host.ts'
import { put, remove, type WorkKept, workKept } from './keptHere.ts'
import { asked, isServerGone, told } from './serverCalls.ts'

/** What the journal needs to know of the page's own bays. */
export interface PagePlaces {
  /** Names this window to the server. */
  readonly window: string
  /** The server's token of a bay, null for one that only the page knows. */
  readonly serverToken: (token: string | null) => string | null
  readonly nameOf: (token: string) => string | null
  /** The bay of this name that was opened from a dialog of this page, with its handle and meshes; null: none was. */
  readonly chosen: (name: string, text: string) => OpenedBay | null
  /** A bay in no file. */
  readonly loose: (name: string, text: string) => OpenedBay
}

/**
 * Unsaved work goes to the server, which keeps it in the user's private folder; while the server is gone, to the browser's
 * own database, for the next page at the same address.
 */
export function browserJournal({ window, serverToken, nameOf, chosen, loose }: PagePlaces): Journal {
  return {
    async keep(id, token, name, text) {
      try {
        await told('keep', { window, id, token: serverToken(token), name }, text)
        await remove('work', id)
      } catch (error) {
        if (!isServerGone(error)) throw error
        holdLock(id)
        await put('work', { id, name, text, keptAt: Date.now() }).catch(() => {
          throw error
        })
      }
    },
    async drop(id) {
      await remove('work', id)
      await told('drop', { id }).catch((error) => {
        if (!isServerGone(error)) throw error
      })
    },
    async found(token) {
      const own = token === null ? null : serverToken(token)
      const name = token === null ? null : nameOf(token)
      const byName = ({ where, ...work }: LostWork) => where === '' && work.name === name
      const here = (await leftHere()).map(({ id, name, keptAt }) => ({ id, name, where: '', keptAt }))
      const there = await asked<readonly LostWork[]>('found', { token: own })
      if (token === null) return [...there, ...here]
      // A bay without a path is known by its name only.
      return [...(own === null ? there.filter(byName) : there), ...here.filter(byName)]
    },
    async take(id) {
      const here = (await leftHere()).find((work) => work.id === id)
      if (here) return takenHere(here)
      const taken = await told<FoundWork>('take', { id })
      // Without a path it came from a dialog of a page, or is a new bay, whose meshes are at the server.
      const own = taken.bay.writable ? null : chosen(taken.bay.name, taken.bay.text)
      return own === null ? taken : { bay: own, onDisk: null }
    },
  }

  /** Kept while the server was gone: the token it had then means nothing to the one that runs now, its name does. */
  async function takenHere({ name, text }: WorkKept): Promise<FoundWork> {
    const own = chosen(name, text)
    if (own) return { bay: own, onDisk: null }
    const first = await asked<OpenedBay | null>('first').catch(() => null)
    return first?.name === name
      ? { bay: { ...first, text }, onDisk: first.text }
      : { bay: loose(name, text), onDisk: null }
  }
}

/** Held for as long as this page lives, so that the next one can tell work left behind from work under way. */
function holdLock(id: string): void {
  void globalThis.navigator?.locks?.request(`gapwright-${id}`, { ifAvailable: true }, (lock) =>
    lock ? new Promise<never>(() => {}) : undefined,
  )
}

async function leftHere(): Promise<readonly WorkKept[]> {
  const kept = await workKept()
  const held = (await globalThis.navigator?.locks?.query())?.held ?? []
  const inUse = new Set(held.map(({ name }) => name))
  return kept.filter(({ id }) => !inUse.has(`gapwright-${id}`))
}
