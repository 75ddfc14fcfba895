import { createHash } from 'node:crypto'
import { mkdir, readdir, rm, stat, utimes } from 'node:fs/promises'
import { join } from 'node:path'
import { bayLimits } from '../../core/bay/limits.ts'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { readRegularFile } from './bayFolder.ts'
import { defaultLimits } from './rawMesh.ts'
import { saveAtomically } from './saveAtomically.ts'

/** Unsaved work of one bay in one window. */
export interface JournalEntry {
  readonly id: string
  /** Of the bay; null while it is in no file. */
  readonly path: string | null
  readonly name: string
  readonly text: string
  /** Of the file that the work began from; null where there was none. */
  readonly base: string | null
  /** ms since 1970. */
  readonly keptAt: number
}

interface Written extends JournalEntry {
  readonly version: 1
  readonly pid: number
}

/** An entry as found, with the time at which its program last said that it is in use. */
interface Found extends Written {
  readonly seenAt: number
}

export interface JournalOptions {
  /** Whether a window that keeps work here is still open. */
  readonly isOpen: (window: string) => boolean
  readonly now?: () => number
  /** Whether another program of ours still runs. */
  readonly isRunning?: (pid: number) => boolean
}

const goodId = /^[A-Za-z0-9_-]{8,100}$/
/** How often a living program says that its entries are in use, and how long without that they count as left behind. */
const beat = 20_000
const silence = 90_000

/**
 * Keeps unsaved work in a private folder of the user, one file for each bay in each window, written atomically. What a
 * window leaves behind when it goes without saving can be found again: by the same program, which knows its windows, or by
 * the next one, which asks whether the process that wrote it still runs and still says so.
 */
export class JournalFolder {
  readonly #folder: string
  readonly #options: Required<JournalOptions>
  /** Window of each entry that this program keeps. */
  readonly #owners = new Map<string, string>()
  /** One after the other: an entry that is dropped must not be brought back by a write that was on its way. */
  #queue: Promise<unknown> = Promise.resolve()
  #timer: ReturnType<typeof setInterval> | undefined

  constructor(folder: string, { isOpen, now = Date.now, isRunning = runs }: JournalOptions) {
    this.#folder = folder
    this.#options = { isOpen, now, isRunning }
  }

  /**
   * @param files meshes of a bay that has no folder yet; those already kept are not written again
   * @returns once it lies on the disk
   */
  keep(
    window: string,
    entry: Omit<JournalEntry, 'keptAt'>,
    files: ReadonlyMap<string, Uint8Array> = new Map(),
  ): Promise<Outcome<null>> {
    if (!goodId.test(entry.id)) return Promise.resolve(bad({ code: 'call-refused', expected: 'another id' }))
    return this.#after(async () => {
      await mkdir(this.#folder, { recursive: true, mode: 0o700 }).catch(() => {})
      await this.#keepFiles(entry.id, files)
      const { id, path, name, text, base } = entry
      const written: Written = { version: 1, id, path, name, text, base, keptAt: this.#options.now(), pid: process.pid }
      const kept = await saveAtomically(this.#fileOf(id), JSON.stringify(written), { keepFormer: false, mode: 0o600 })
      if (!kept.ok) return bad(...kept.faults.map((fault) => ({ ...fault, code: 'journal-unwritable', file: name })))
      this.#owners.set(id, window)
      this.#timer ??= setInterval(() => void this.#sayInUse(), beat).unref()
      return good(null)
    })
  }

  drop(id: string): Promise<void> {
    if (!goodId.test(id)) return Promise.resolve()
    return this.#after(async () => {
      this.#owners.delete(id)
      await rm(this.#fileOf(id), { force: true }).catch(() => {})
      await rm(this.#filesOf(id), { recursive: true, force: true }).catch(() => {})
    })
  }

  /** Entries whose window has gone, newest first. Those of a text that is in the bay's file by now are cleared away. */
  async leftBehind(): Promise<readonly JournalEntry[]> {
    const names = await readdir(this.#folder).catch(() => [])
    const left: JournalEntry[] = []
    for (const name of names) {
      const id = name.endsWith('.json') ? name.slice(0, -5) : ''
      const entry = goodId.test(id) ? await this.#read(id) : null
      if (!entry || this.#isInUse(entry)) continue
      if (await isInItsFile(entry)) await this.drop(id)
      else left.push(entry)
    }
    return left.sort((a, b) => b.keptAt - a.keptAt)
  }

  /** An entry with the meshes that were kept along with it. */
  async take(id: string): Promise<{ entry: JournalEntry; files: ReadonlyMap<string, Uint8Array> } | null> {
    const entry = goodId.test(id) ? await this.#read(id) : null
    if (!entry) return null
    const files = new Map<string, Uint8Array>()
    for (const file of await readdir(this.#filesOf(id)).catch(() => [])) {
      const bytes = await readRegularFile(join(this.#filesOf(id), file), file, defaultLimits.bytes)
      if (bytes.ok) files.set(file, bytes.value)
    }
    return { entry, files }
  }

  /** Ends the saying that entries are in use; they stay for the next start. */
  close(): void {
    clearInterval(this.#timer)
    this.#timer = undefined
  }

  #isInUse(entry: Found): boolean {
    const owner = this.#owners.get(entry.id)
    if (owner !== undefined) return this.#options.isOpen(owner)
    if (entry.pid === process.pid || !this.#options.isRunning(entry.pid)) return false
    return this.#options.now() - entry.seenAt < silence
  }

  async #keepFiles(id: string, files: ReadonlyMap<string, Uint8Array>): Promise<void> {
    if (files.size === 0) return
    await mkdir(this.#filesOf(id), { recursive: true, mode: 0o700 })
    const there = new Set(await readdir(this.#filesOf(id)))
    for (const [file, bytes] of files)
      if (!there.has(file)) await saveAtomically(join(this.#filesOf(id), file), bytes, { mode: 0o600 })
  }

  async #sayInUse(): Promise<void> {
    const now = new Date(this.#options.now())
    for (const [id, window] of this.#owners)
      if (this.#options.isOpen(window)) await utimes(this.#fileOf(id), now, now).catch(() => {})
  }

  #after<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(work, work)
    this.#queue = done.catch(() => {})
    return done
  }

  /** Null for what is no entry of ours: a damaged one must not keep the others from being found. */
  async #read(id: string): Promise<Found | null> {
    const bytes = await readRegularFile(this.#fileOf(id), id, 8 * bayLimits.text)
    const seen = await stat(this.#fileOf(id)).catch(() => null)
    if (!bytes.ok || seen === null) return null
    try {
      const read = JSON.parse(new TextDecoder().decode(bytes.value)) as Found
      const { path, name, text, keptAt, pid, base } = read
      const whole = (path === null || typeof path === 'string') && typeof name === 'string' && typeof text === 'string'
      return whole && Number.isFinite(keptAt) && Number.isFinite(pid)
        ? { version: 1, id, path, name, text, keptAt, pid, base: base ?? null, seenAt: seen.mtimeMs }
        : null
    } catch {
      return null
    }
  }

  #fileOf(id: string): string {
    return join(this.#folder, `${id}.json`)
  }

  #filesOf(id: string): string {
    return join(this.#folder, `${id}.files`)
  }
}

async function isInItsFile({ path, text, name }: JournalEntry): Promise<boolean> {
  if (path === null) return false
  const now = await readRegularFile(path, name, 4 * bayLimits.text)
  return now.ok && sha256(now.value) === sha256(new TextEncoder().encode(text))
}

export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
