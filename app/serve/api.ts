import type { IncomingMessage, ServerResponse } from 'node:http'
import { bayLimits } from '../../core/bay/limits.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import { defaultLimits } from '../files/rawMesh.ts'
import type { RecentFiles } from '../files/recentFiles.ts'
import type { OpenedBay } from '../host.ts'
import type { BayPlaces } from './bayPlaces.ts'
import type { WindowJournal } from './lostWork.ts'
import { freshNonce, headersWith } from './policy.ts'

/** What the calls of the page are about: the bays that this server opened, and what it keeps aside. */
export interface Api {
  readonly places: BayPlaces
  /** The bay to show first, opened anew for each window; null when none was asked for. */
  readonly first: () => Promise<Outcome<OpenedBay | null>>
  /** Opens a bay that the user opened before. */
  readonly openPath: (path: string) => Promise<Outcome<OpenedBay>>
  readonly journal: WindowJournal
  readonly recent: RecentFiles
}

const textLimit = 4 * bayLimits.text

interface Call {
  readonly api: Api
  /** A value of the address; empty when it is not there. */
  readonly given: (name: string) => string
  readonly text: () => Promise<Outcome<string>>
  readonly bytes: () => Promise<Outcome<Uint8Array>>
}
type Answer = (call: Call) => Promise<Outcome<unknown>>

const tokenIn = ({ given }: Call): string | null => given('token') || null

const reading: Record<string, Answer> = {
  first: ({ api }) => api.first(),
  beside: ({ api, given }) => api.places.beside(given('token'), given('file')),
  standing: ({ api, given }) => api.places.standing(given('token')),
  recent: async ({ api }) => good(await api.recent.list()),
  found: async (call) => good(await call.api.journal.found(tokenIn(call))),
}

const writing: Record<string, Answer> = {
  async save({ api, given, text }) {
    const body = await text()
    return body.ok ? api.places.save(given('token'), body.value, given('how') === 'over') : body
  },
  async add({ api, given, bytes }) {
    const body = await bytes()
    return body.ok ? api.places.addBeside(given('token'), given('name'), body.value) : body
  },
  async keep(call) {
    const { api, given, text } = call
    const body = await text()
    return body.ok ? api.journal.keep(given('window'), given('id'), tokenIn(call), given('name'), body.value) : body
  },
  async blank({ api, given, text }) {
    const body = await text()
    return body.ok ? good(api.places.withText(null, given('name'), body.value, null)) : body
  },
  drop: async ({ api, given }) => good((await api.journal.drop(given('id'))) ?? null),
  take: ({ api, given }) => api.journal.take(given('id')),
  again: ({ api, given }) => api.places.again(given('token')),
  async 'open-recent'({ api, given }) {
    const path = await api.recent.pathOf(given('id'))
    return path === null ? bad({ code: 'file-missing' }) : api.openPath(path)
  },
  'forget-recent': async ({ api }) => good((await api.recent.clear()) ?? null),
}

/** Answers `/api/NAME`; unknown names and wrong methods are refused. */
export async function answerApi(
  api: Api,
  name: string,
  query: URLSearchParams,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const table = request.method === 'GET' ? reading : request.method === 'POST' ? writing : {}
  if (!Object.hasOwn(table, name)) {
    const known = Object.hasOwn(reading, name) || Object.hasOwn(writing, name)
    return send(response, known ? 405 : 404, 'text/plain', new Uint8Array())
  }
  const answer = await table[name]({
    api,
    given: (field) => query.get(field) ?? '',
    text: async () => asText(await bodyOf(request, textLimit)),
    bytes: () => bodyOf(request, defaultLimits.bytes),
  })
  if (answer.ok && answer.value instanceof Uint8Array)
    return send(response, 200, 'application/octet-stream', answer.value)
  sendJson(response, answer)
}

function sendJson(response: ServerResponse, outcome: Outcome<unknown>): void {
  const body = outcome.ok ? outcome.value : { faults: outcome.faults satisfies readonly Fault[] }
  send(response, outcome.ok ? 200 : 422, 'application/json', new TextEncoder().encode(JSON.stringify(body)))
}

function send(response: ServerResponse, status: number, type: string, body: Uint8Array): void {
  response.writeHead(status, { ...headersWith(freshNonce()), 'Content-Type': type, 'Content-Length': body.byteLength })
  response.end(body)
}

async function bodyOf(request: IncomingMessage, limit: number): Promise<Outcome<Uint8Array>> {
  const chunks: Uint8Array[] = []
  let size = 0
  for await (const chunk of request as AsyncIterable<Uint8Array>) {
    size += chunk.byteLength
    if (size > limit) return bad({ code: 'file-too-big', expected: `at most ${limit} bytes`, got: 'more' })
    chunks.push(chunk)
  }
  return good(Buffer.concat(chunks))
}

function asText(bytes: Outcome<Uint8Array>): Outcome<string> {
  if (!bytes.ok) return bytes
  try {
    return good(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes.value))
  } catch {
    return bad({ code: 'file-not-text', expected: 'UTF-8', got: 'other bytes' })
  }
}
