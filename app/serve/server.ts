import { randomBytes } from 'node:crypto'
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { good } from '../../core/fault.ts'
import { JournalFolder } from '../files/journalFolder.ts'
import { RecentFiles } from '../files/recentFiles.ts'
import { type Api, answerApi } from './api.ts'
import { BayPlaces } from './bayPlaces.ts'
import { passed, sameSecret } from './gate.ts'
import { WindowJournal } from './lostWork.ts'
import { type Page, pageIn, refusal } from './page.ts'
import { freshNonce, headersWith } from './policy.ts'
import { Touches } from './touches.ts'

export interface ServeOptions {
  /** The built page. */
  readonly windowFolder: string
  /** The bay to show first. */
  readonly bay?: string
  /** The user's private folder, for the journal of unsaved work and the recent files; see `stateFolder`. */
  readonly state: string
  /**
   * Port to take if it is free: a page keeps what the browser stores for it only under the same address. Default: any.
   */
  readonly port?: number
  /** Called when windows were open and the last one has been gone for `patience`. */
  readonly onDeserted?: () => void
  /** ms; default 4000, long enough for a reload. */
  readonly patience?: number
}

export interface LoopbackServer {
  /** Address of the window, secret included: for the user's own eyes. */
  readonly address: string
  /**
   * Address that works once and leads to the window: fit for a command line, which other users of the machine can
   * read while the browser starts.
   */
  invitation(): string
  close(): Promise<void>
}

/**
 * Serves the built window and nothing else on 127.0.0.1, on a port of the system's choice, below a random token.
 * Never throws for a request: whatever comes in is answered or refused.
 */
export async function startServer(options: ServeOptions): Promise<LoopbackServer> {
  const token = randomBytes(32).toString('base64url')
  const invitations = new Set<string>()
  const page = pageIn(options.windowFolder)
  const places = new BayPlaces()
  const { bay, state } = options
  const presence = presenceOf(options)
  const kept = new JournalFolder(join(state, 'journal'), { isOpen: presence.isOpen })
  const recent = new RecentFiles(state)
  const touches = new Touches(places, presence.tellTouched)
  const openPath: Api['openPath'] = async (path) => {
    const opened = await places.open(path)
    if (!opened.ok) return opened
    touches.watch(opened.value.token)
    await recent.add(path)
    return opened
  }
  const first = async () => (bay === undefined ? good(null) : openPath(bay))
  const api: Api = { places, first, openPath, journal: new WindowJournal(kept, places), recent }

  const server = createServer({ requestTimeout: 60_000, headersTimeout: 10_000, maxHeaderSize: 16_384 })
  await listening(server, options.port ?? 0).catch(() => listening(server, 0))
  const { port } = server.address() as AddressInfo
  const base = `http://127.0.0.1:${port}/`

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const asked = { method: request.method ?? '', url: request.url ?? '', headers: request.headers }
    if (takeInvitation(asked.url, invitations) && asked.headers.host === `127.0.0.1:${port}`) {
      response.writeHead(303, { ...headersWith(freshNonce()), Location: `/${token}/` }).end()
      return
    }
    const pass = passed(asked, token, port)
    if ('refused' in pass) return refuse(response, pass.refused)
    if (pass.path === '/api/here' && asked.method === 'GET') return presence.enter(response, pass.query.get('window'))
    const call = /^\/api\/(.*)$/.exec(pass.path)
    if (call) return answerApi(api, call[1], pass.query, request, response)
    return asked.method === 'POST' ? refuse(response, 405) : sendPage(page, pass.path, asked.method, response)
  }

  server.on('request', (request, response) => {
    answer(request, response).catch(() => {
      if (response.headersSent) response.destroy()
      else refuse(response, 500)
    })
  })
  return {
    address: `${base}${token}/`,
    invitation() {
      const invitation = randomBytes(32).toString('base64url')
      invitations.add(invitation)
      return `${base}${invitation}`
    },
    close() {
      presence.end()
      touches.close()
      kept.close()
      server.closeAllConnections()
      return new Promise((done) => server.close(() => done()))
    },
  }
}

function listening(server: Server, port: number): Promise<void> {
  return new Promise((done, failed) => {
    server.once('error', failed)
    server.listen(port, '127.0.0.1', () => {
      server.off('error', failed)
      done()
    })
  })
}

function takeInvitation(url: string, invitations: Set<string>): boolean {
  for (const invitation of invitations)
    if (sameSecret(url, `/${invitation}`)) {
      invitations.delete(invitation)
      return true
    }
  return false
}

async function sendPage(page: Page, path: string, method: string, response: ServerResponse): Promise<void> {
  const { status, headers, body } = await page(path)
  response.writeHead(status, { ...headers, 'Content-Length': body?.byteLength ?? 0 })
  response.end(method === 'HEAD' ? undefined : (body ?? undefined))
}

function refuse(response: ServerResponse, status: number): void {
  response.writeHead(status, refusal(status).headers)
  response.end()
}

/**
 * Knows the windows that hold a connection: a browser that stays in the background does not keep us, work of a window that
 * has gone can be offered to the next, and what happens to a bay's file can be told.
 */
function presenceOf({ onDeserted, patience = 4000 }: ServeOptions) {
  const open = new Map<ServerResponse, string | null>()
  let timer: ReturnType<typeof setTimeout> | undefined
  let ended = false
  return {
    enter(response: ServerResponse, window: string | null): void {
      clearTimeout(timer)
      open.set(response, window)
      response.writeHead(200, { ...headersWith(freshNonce()), 'Content-Type': 'text/event-stream' })
      response.write(': here\n\n')
      response.on('close', () => {
        open.delete(response)
        if (open.size === 0 && !ended) timer = setTimeout(() => onDeserted?.(), patience)
      })
    },
    isOpen: (window: string): boolean => [...open.values()].includes(window),
    /** Tokens are secrets of the one window that has them; the others can do nothing with them. */
    tellTouched(token: string): void {
      for (const response of open.keys()) response.write(`event: touched\ndata: ${token}\n\n`)
    },
    end(): void {
      ended = true
      clearTimeout(timer)
    },
  }
}
