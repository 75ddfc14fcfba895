import { createHash } from 'node:crypto'
import { mkdir, readFile, stat } from 'node:fs/promises'
import { homedir } from 'node:os'
import { basename, dirname, join, resolve, sep } from 'node:path'
import type { RecentBay } from '../host.ts'
import { saveAtomically } from './saveAtomically.ts'

const most = 12

/** The bays that were open last, newest first, in one small file; what has vanished is left out. */
export class RecentFiles {
  readonly #file: string
  #queue: Promise<unknown> = Promise.resolve()

  /** @param folder the user's own, see `stateFolder` */
  constructor(folder: string) {
    this.#file = join(folder, 'recent.json')
  }

  /** Paths of the files that are still there. */
  async paths(): Promise<readonly string[]> {
    await this.#queue
    const there = await Promise.all((await this.#read()).map(async (path) => (await isFile(path)) && path))
    return there.filter((path) => path !== false)
  }

  async list(): Promise<readonly RecentBay[]> {
    return (await this.paths()).map((path) => ({ id: idOf(path), name: basename(path), where: folderShown(path) }))
  }

  /** @returns null for an id that stands for none of them */
  async pathOf(id: string): Promise<string | null> {
    return (await this.paths()).find((path) => idOf(path) === id) ?? null
  }

  /** Puts a bay first. A list that cannot be written costs a convenience, not work. */
  add(path: string): Promise<void> {
    return this.#change(async () => {
      const full = resolve(path)
      return [full, ...(await this.#read()).filter((other) => other !== full)].slice(0, most)
    })
  }

  clear(): Promise<void> {
    return this.#change(async () => [])
  }

  #change(next: () => Promise<readonly string[]>): Promise<void> {
    const done = this.#queue.then(async () => {
      const text = JSON.stringify({ version: 1, paths: await next() })
      await mkdir(dirname(this.#file), { recursive: true, mode: 0o700 }).catch(() => {})
      await saveAtomically(this.#file, text, { keepFormer: false, mode: 0o600 })
    })
    this.#queue = done.catch(() => {})
    return done
  }

  async #read(): Promise<readonly string[]> {
    try {
      const { paths } = JSON.parse(await readFile(this.#file, 'utf8')) as { paths?: unknown }
      return Array.isArray(paths) ? paths.filter((path) => typeof path === 'string').slice(0, most) : []
    } catch {
      return []
    }
  }
}

const idOf = (path: string): string => createHash('sha256').update(path).digest('hex').slice(0, 32)

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    (found) => found.isFile(),
    () => false,
  )

/** The folder of a file as people write it: `~` for their own. */
export function folderShown(path: string, home: string = homedir()): string {
  const folder = dirname(path)
  return folder === home || folder.startsWith(home + sep) ? `~${folder.slice(home.length)}` : folder
}
