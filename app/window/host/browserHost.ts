import type { AddedFile, Host, OpenedBay, RecentBay, Standing } from '../../host.ts'
import { type Fault, FaultError } from '../../../core/fault.ts'
import { browserFolders } from './browserFolders.ts'
import { browserJournal } from './browserJournal.ts'
import { isBayName } from './desktopHost.ts'
import { clear, handlesKept, put, remove } from './keptHere.ts'
import { download, type FileSource, type OpenHandle, openPdfTab, pickFiles, pickSaveHandle } from './pickers.ts'
import { asked, askedBytes, told } from './serverCalls.ts'
import { watchServer } from './watchServer.ts'
import { writeTrouble } from './writeTrouble.ts'

/** A bay that only this page knows: files that the user chose here. */
interface Chosen {
  readonly name: string
  readonly handle: OpenHandle | null
  readonly meshes: Map<string, Blob>
  /** Saved under another name: meshes that are not among the own ones are read from where the bay was opened. */
  readonly meshesOf: string | null
  /** As it was last read or written through the handle. */
  text: string
}

const most = 12

/**
 * The host in a browser: the bay named at the start comes from the loopback server and is saved there; other bays are
 * chosen with the browser's own dialogs. Where the browser can write files it writes in place, elsewhere it downloads.
 */
export function browserHost(): Host {
  const places = new Map<string, Chosen>()
  const window = crypto.randomUUID()
  const listeners = new Set<(token: string) => void>()
  watchServer(window, (token) => {
    for (const listener of listeners) listener(token)
  })

  const remember = (place: Chosen): OpenedBay => {
    const token = `here-${places.size + 1}`
    places.set(token, place)
    return { token, name: place.name, text: place.text, writable: place.handle !== null }
  }
  const loose = (name: string, text: string) =>
    remember({ name, handle: null, meshes: new Map(), meshesOf: null, text })

  async function chosen(files: readonly FileSource[]): Promise<OpenedBay | null> {
    const bay = files.find(({ file }) => isBayName(file.name))
    if (!bay) return null
    const meshes = new Map(files.filter((other) => other !== bay).map(({ file }) => [file.name, file] as const))
    const text = await textOf(bay.file)
    if (bay.handle) await keepHandle(bay.handle)
    return remember({ name: bay.file.name, handle: bay.handle, meshes, meshesOf: null, text })
  }

  async function saveElsewhere(text: string, name: string, token: string | null): Promise<OpenedBay | null> {
    const handle = await pickSaveHandle(name)
    if (handle === 'cancelled') return null
    if (handle === 'unavailable') {
      download(text, name)
      return { ...(token === null ? loose(name, text) : { token, name, text }), writable: false }
    }
    await writeTo(handle, text)
    await keepHandle(handle)
    return remember({ name: handle.name, handle, meshes: new Map(), meshesOf: token, text })
  }

  async function standing(token: string): Promise<Standing> {
    const place = places.get(token)
    if (!place) return asked('standing', { token })
    if (!place.handle) return 'same'
    try {
      return (await textOf(await place.handle.getFile())) === place.text ? 'same' : 'changed'
    } catch (error) {
      return error instanceof DOMException && error.name === 'NotFoundError' ? 'gone' : 'changed'
    }
  }

  async function beside(token: string, file: string): Promise<Uint8Array> {
    const place = places.get(token)
    if (!place) return askedBytes('beside', { token, file })
    const mesh = place.meshes.get(file.split('/').at(-1) ?? file)
    if (mesh) return new Uint8Array(await mesh.arrayBuffer())
    if (place.meshesOf !== null) return beside(place.meshesOf, file)
    throw new FaultError([meshNotChosen(file)])
  }

  return {
    kind: 'browser',
    first: () => asked('first'),
    open: async () => chosen(await pickFiles()),
    dropped: async (files) => chosen(files.map((file) => ({ file, handle: null }))),
    async save(text, name, token, how) {
      const place = token === null || how === 'elsewhere' ? undefined : places.get(token)
      if (token === null || how === 'elsewhere') return saveElsewhere(text, name, token)
      if (!place)
        return told<OpenedBay>('save', { token, how }, text).catch((error) => {
          // A new bay at the server has no file yet.
          if (faultCode(error) === 'no-place') return saveElsewhere(text, name, token)
          throw error
        })
      if (!place.handle) return saveElsewhere(text, name, token)
      if (how === 'in-place') {
        const now = await standing(token)
        if (now !== 'same') throw new FaultError([standingFault(now, place.name)])
      }
      await writeTo(place.handle, text)
      place.text = text
      return { token, name: place.name, text, writable: true }
    },
    beside,
    async addBeside(token, name, bytes) {
      const place = places.get(token)
      if (!place) return told<AddedFile>('add', { token, name }, bytes)
      const file = await freeName(place.meshes, name, bytes)
      place.meshes.set(file, new Blob([bytes as BlobPart]))
      return { file, onDisk: false }
    },
    async saveFile(bytes, name) {
      const handle = await pickSaveHandle(name)
      if (handle === 'cancelled') return null
      if (handle === 'unavailable') download(bytes, name)
      else await writeTo(handle, bytes)
      return handle === 'unavailable' ? name : handle.name
    },
    ...browserFolders(),
    async print(pdf, name) {
      if (!openPdfTab(pdf, name)) throw new FaultError([{ code: 'print-refused', file: name }])
    },
    blank: (name, text) => told('blank', { name }, text),
    standing,
    async again(token) {
      const place = places.get(token)
      if (!place) return told('again', { token })
      if (!place.handle) throw new FaultError([{ code: 'file-missing', file: place.name }])
      place.text = await textOf(await place.handle.getFile())
      return { token, name: place.name, text: place.text, writable: true }
    },
    onTouched(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    async recent() {
      const here = (await handlesKept()).sort((a, b) => b.at - a.at)
      const own: RecentBay[] = here.slice(0, most).map(({ id, handle }) => ({ id, name: handle.name, where: '' }))
      return [...(await asked<RecentBay[]>('recent')), ...own]
    },
    async openRecent(id) {
      const handle = (await handlesKept()).find((kept) => kept.id === id)?.handle
      if (!handle) return told('open-recent', { id })
      if ((await handle.requestPermission?.({ mode: 'readwrite' })) === 'denied') return null
      try {
        return await chosen([{ file: await handle.getFile(), handle }])
      } catch (error) {
        if (!(error instanceof DOMException) || error.name !== 'NotFoundError') throw error
        await remove('handles', id)
        throw new FaultError([{ code: 'file-missing', file: handle.name }])
      }
    },
    async forgetRecent() {
      await clear('handles')
      await told('forget-recent')
    },
    journal: browserJournal({
      window,
      serverToken: (token) => (token === null || places.has(token) ? null : token),
      nameOf: (token) => places.get(token)?.name ?? null,
      chosen(name, text) {
        const found = [...places].reverse().find(([, place]) => place.name === name && place.handle !== null)
        return found ? { token: found[0], name, text, writable: true } : null
      },
      loose,
    }),
  }
}

/** Under the file's name: the same bay opened again takes the place of the former. */
async function keepHandle(handle: OpenHandle): Promise<void> {
  // Handles of doubles and of old browsers cannot be stored; then there is no such entry.
  await put('handles', { id: `kept-${handle.name}`, handle, at: Date.now() }).catch(() => {})
}

async function freeName(meshes: ReadonlyMap<string, Blob>, name: string, bytes: Uint8Array): Promise<string> {
  const [stem, extension] = /^(.*?)((?:\.[a-z0-9]{1,8})?(?:\.gz)?)$/i.exec(name)?.slice(1) ?? [name, '']
  for (let count = 1; ; count++) {
    const file = count === 1 ? name : `${stem}-${count}${extension}`
    const there = meshes.get(file)
    if (!there || (await isSame(there, bytes))) return file
  }
}

async function isSame(blob: Blob, bytes: Uint8Array): Promise<boolean> {
  const other = new Uint8Array(await blob.arrayBuffer())
  return other.length === bytes.length && other.every((byte, i) => byte === bytes[i])
}

/** The page may only read what was chosen, so a bay's meshes have to be chosen along with it. */
const meshNotChosen = (file: string): Fault => ({
  code: 'mesh-missing',
  file,
  expected: 'to be chosen together with the bay, or the bay named at the start',
})

const standingFault = (standing: Exclude<Standing, 'same'>, file: string): Fault =>
  standing === 'gone'
    ? { code: 'file-gone', file, expected: 'the file that was opened: write it anew, or save it elsewhere' }
    : { code: 'changed-outside', file, expected: 'to be told which of the two to keep' }

const faultCode = (error: unknown): string | undefined =>
  error instanceof FaultError ? error.faults[0]?.code : undefined

async function textOf(file: File): Promise<string> {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer())
  } catch (error) {
    if (error instanceof DOMException) throw error
    throw new FaultError([{ code: 'file-not-text', file: file.name, expected: 'JSON in UTF-8', got: 'other bytes' }])
  }
}

async function writeTo(handle: OpenHandle, content: string | Uint8Array): Promise<void> {
  try {
    // The browser writes to a copy and exchanges it on close, so that a crash leaves the old file.
    const stream = await handle.createWritable()
    await stream.write(content)
    await stream.close()
  } catch (error) {
    const [got, expected] = writeTrouble(error)
    throw new FaultError([{ code: 'file-unwritable', file: handle.name, expected, got }])
  }
}
