import type { IncomingMessage, ServerResponse } from 'node:http'
import { bayLimits } from '../../core/bay/limits.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import type { OpenedBay } from '../host.ts'
import type { BayPlaces } from './bayPlaces.ts'
import { freshNonce, headersWith } from './policy.ts'

/** The calls of the page, all about the one bay that the server was started with. */
export interface Api {
  readonly places: BayPlaces
  /** The bay to show first, opened anew for each window; null when none was asked for. */
  readonly first: () => Promise<Outcome<OpenedBay | null>>
}

const bodyLimit = 4 * bayLimits.text

/** Answers `/api/NAME`; unknown names and wrong methods are refused. */
export async function answerApi(
  { places, first }: Api,
  name: string,
  query: URLSearchParams,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const reads = request.method === 'GET'
  if (name === 'first' && reads) return sendJson(response, await first())
  if (name === 'beside' && reads) {
    const bytes = await places.beside(query.get('token') ?? '', query.get('file') ?? '')
    return bytes.ok ? send(response, 200, 'application/octet-stream', bytes.value) : sendJson(response, bytes)
  }
  if (name === 'save' && request.method === 'POST') {
    const text = await bodyText(request)
    return sendJson(response, text.ok ? await places.save(query.get('token') ?? '', text.value) : text)
  }
  send(response, ['first', 'beside', 'save'].includes(name) ? 405 : 404, 'text/plain', new Uint8Array())
}

function sendJson(response: ServerResponse, outcome: Outcome<unknown>): void {
  const body = outcome.ok ? outcome.value : { faults: outcome.faults satisfies readonly Fault[] }
  send(response, outcome.ok ? 200 : 422, 'application/json', new TextEncoder().encode(JSON.stringify(body)))
}

function send(response: ServerResponse, status: number, type: string, body: Uint8Array): void {
  response.writeHead(status, { ...headersWith(freshNonce()), 'Content-Type': type, 'Content-Length': body.byteLength })
  response.end(body)
}

async function bodyText(request: IncomingMessage): Promise<Outcome<string>> {
  const chunks: Uint8Array[] = []
  let size = 0
  for await (const chunk of request as AsyncIterable<Uint8Array>) {
    size += chunk.byteLength
    if (size > bodyLimit) return bad({ code: 'file-too-big', expected: `at most ${bodyLimit} bytes`, got: 'more' })
    chunks.push(chunk)
  }
  try {
    return good(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(Buffer.concat(chunks)))
  } catch {
    return bad({ code: 'file-not-text', expected: 'UTF-8', got: 'other bytes' })
  }
}
