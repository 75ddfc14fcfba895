import type { Host, OpenedBay } from '../../host.ts'
import { type Fault, FaultError } from '../../../core/fault.ts'
import { isBayName } from './desktopHost.ts'
import { download, type FileSource, pickFiles, pickSaveHandle, type SaveHandle } from './pickers.ts'
import { watchServer } from './watchServer.ts'

/** Where a bay that this page knows came from: the loopback server, or files that the user chose here. */
type Place =
  | { readonly kind: 'server' }
  | { readonly kind: 'chosen'; readonly handle: SaveHandle | null; readonly meshes: ReadonlyMap<string, Blob> }
  /** Saved under another name: written to `handle`, its meshes still read from where the bay was opened. */
  | { readonly kind: 'copy'; readonly handle: SaveHandle; readonly meshesOf: string }

/**
 * The host in a browser: the bay named at the start comes from the loopback server and is saved there; other bays are
 * chosen with the browser's own dialogs. Where the browser can write files it writes in place, elsewhere it downloads.
 */
export function browserHost(): Host {
  const places = new Map<string, Place>()
  let count = 0
  const remember = (place: Place): string => {
    const token = `here-${++count}`
    places.set(token, place)
    return token
  }
  watchServer()

  async function chosen(files: readonly FileSource[]): Promise<OpenedBay | null> {
    const bay = files.find(({ file }) => isBayName(file.name))
    if (!bay) return null
    const meshes = new Map(files.filter((other) => other !== bay).map(({ file }) => [file.name, file]))
    const text = await textOf(bay.file)
    const token = remember({ kind: 'chosen', handle: bay.handle, meshes })
    return { token, name: bay.file.name, text, writable: bay.handle !== null }
  }

  async function saveElsewhere(text: string, name: string, token: string | null): Promise<OpenedBay | null> {
    const handle = await pickSaveHandle(name)
    if (handle === 'cancelled') return null
    if (handle === 'unavailable') {
      download(text, name)
      return {
        token: token ?? remember({ kind: 'chosen', handle: null, meshes: new Map() }),
        name,
        text,
        writable: false,
      }
    }
    await writeTo(handle, text)
    const place: Place =
      token === null ? { kind: 'chosen', handle, meshes: new Map() } : { kind: 'copy', handle, meshesOf: token }
    return { token: remember(place), name: handle.name, text, writable: true }
  }

  const placeOf = (token: string): Place => places.get(token) ?? { kind: 'server' }

  return {
    kind: 'browser',
    first: async () => (await called('first')).json() as Promise<OpenedBay | null>,
    open: async () => chosen(await pickFiles()),
    dropped: async (files) => chosen(files.map((file) => ({ file, handle: null }))),
    async save(text, name, token, as) {
      const place = token === null || as ? null : placeOf(token)
      if (place?.kind === 'server') {
        const answer = await called(`save?token=${encodeURIComponent(token!)}`, text)
        return answer.json() as Promise<OpenedBay>
      }
      if (!place?.handle) return saveElsewhere(text, name, token)
      await writeTo(place.handle, text)
      return { token: token!, name: place.handle.name, text, writable: true }
    },
    async beside(token, file) {
      let place = placeOf(token)
      let from = token
      while (place.kind === 'copy') {
        from = place.meshesOf
        place = placeOf(from)
      }
      if (place.kind === 'server') {
        const query = `token=${encodeURIComponent(from)}&file=${encodeURIComponent(file)}`
        return new Uint8Array(await (await called(`beside?${query}`)).arrayBuffer())
      }
      const mesh = place.meshes.get(file.split('/').at(-1) ?? file)
      if (!mesh) throw new FaultError([meshNotChosen(file)])
      return new Uint8Array(await mesh.arrayBuffer())
    },
  }
}

/** The page may only read what was chosen, so a bay's meshes have to be chosen along with it. */
const meshNotChosen = (file: string): Fault => ({
  code: 'mesh-missing',
  file,
  expected: 'to be chosen together with the bay, or the bay named at the start',
})

async function called(call: string, body?: string): Promise<Response> {
  let answer: Response
  try {
    answer = await fetch(`api/${call}`, body === undefined ? {} : { method: 'POST', body })
  } catch {
    throw new FaultError([{ code: 'server-gone' }])
  }
  if (answer.ok) return answer
  const told = (await answer.json().catch(() => null)) as { faults?: Fault[] } | null
  throw new FaultError(told?.faults ?? [{ code: 'server-refused', got: answer.status }])
}

async function textOf(file: File): Promise<string> {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer())
  } catch {
    throw new FaultError([{ code: 'file-not-text', file: file.name, expected: 'JSON in UTF-8', got: 'other bytes' }])
  }
}

async function writeTo(handle: SaveHandle, text: string): Promise<void> {
  try {
    // The browser writes to a copy and exchanges it on close, so that a crash leaves the old file.
    const stream = await handle.createWritable()
    await stream.write(text)
    await stream.close()
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error)
    throw new FaultError([{ code: 'file-unwritable', file: handle.name, expected: 'a place that can be written', got }])
  }
}
