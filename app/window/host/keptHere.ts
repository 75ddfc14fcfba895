import type { OpenHandle } from './pickers.ts'

/**
 * What the browser keeps for this page from one time to the next, in its own database: handles of bays that were open,
 * and unsaved work when the server is gone. Without such a database nothing is kept, and nothing fails.
 */
export interface HandleKept {
  readonly id: string
  readonly handle: OpenHandle
  readonly at: number
}

export interface WorkKept {
  readonly id: string
  readonly name: string
  readonly text: string
  readonly keptAt: number
}

const stores = { handles: 'handles', work: 'work' } as const
type StoreName = keyof typeof stores

/** Of a request of the database, its answer. */
const answerOf = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result)
    request.onerror = () => failed(request.error)
  })

let database: Promise<IDBDatabase> | undefined
function opened(): Promise<IDBDatabase> {
  if (typeof indexedDB === 'undefined') return Promise.reject(new Error('no database'))
  if (database) return database
  const request = indexedDB.open('gapwright', 1)
  request.onupgradeneeded = () => {
    for (const name of Object.values(stores)) request.result.createObjectStore(name, { keyPath: 'id' })
  }
  database = answerOf(request)
  return database
}

async function inStore<T>(
  name: StoreName,
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  const transaction = (await opened()).transaction(name, mode, { durability: 'strict' })
  const ended = new Promise<void>((done, failed) => {
    transaction.oncomplete = () => done()
    transaction.onabort = () => failed(transaction.error)
  })
  const answer = await answerOf(work(transaction.objectStore(name)))
  // Kept is what a finished transaction kept.
  await ended
  return answer
}

export const put = (name: StoreName, value: HandleKept | WorkKept): Promise<unknown> =>
  inStore(name, 'readwrite', (store) => store.put(value))

export const remove = (name: StoreName, id: string): Promise<unknown> =>
  inStore(name, 'readwrite', (store) => store.delete(id)).catch(() => {})

export const clear = (name: StoreName): Promise<unknown> =>
  inStore(name, 'readwrite', (store) => store.clear()).catch(() => {})

export const handlesKept = (): Promise<HandleKept[]> =>
  inStore('handles', 'readonly', (store) => store.getAll() as IDBRequest<HandleKept[]>).catch(() => [])

export const workKept = (): Promise<WorkKept[]> =>
  inStore('work', 'readonly', (store) => store.getAll() as IDBRequest<WorkKept[]>).catch(() => [])
