import { createHash, timingSafeEqual } from 'node:crypto'
import type { IncomingHttpHeaders } from 'node:http'

export interface Asked {
  readonly method: string
  /** As sent: path and query. */
  readonly url: string
  readonly headers: IncomingHttpHeaders
}

/** What the gate lets through: the path below the token, or a status to refuse with. */
export type Passed = { readonly path: string; readonly query: URLSearchParams } | { readonly refused: number }

/**
 * Decides whether a request comes from our own window. Any page in any browser on this machine can send requests to a
 * loopback port, and a name that resolves to 127.0.0.1 makes such a page look like ours: so the host must be given by
 * number or as localhost with our port, writing must come from our own origin, and the path must begin with the token.
 */
export function passed({ method, url, headers }: Asked, token: string, port: number): Passed {
  if (headers.host !== `127.0.0.1:${port}` && headers.host !== `localhost:${port}`) return { refused: 421 }
  if (method !== 'GET' && method !== 'HEAD' && method !== 'POST') return { refused: 405 }
  const [, given, below] = /^\/([^/?#]*)(\/[^?#]*)?/.exec(url) ?? []
  if (given === undefined || !sameSecret(given, token)) return { refused: 404 }
  // The relative addresses of the page need the slash; without it there is nothing here.
  if (below === undefined) return { refused: 404 }
  if (!fromOurselves(method, headers)) return { refused: 403 }
  const query = new URLSearchParams(url.split('?').slice(1).join('?'))
  try {
    return { path: decodeURIComponent(below), query }
  } catch {
    return { refused: 400 }
  }
}

function fromOurselves(method: string, { origin, host, 'sec-fetch-site': site }: IncomingHttpHeaders): boolean {
  if (origin !== undefined && origin !== `http://${host}`) return false
  if (method === 'POST' && origin === undefined) return false
  // 'none' is the user's own hand: the address typed, or the window opened by the launcher. 'same-site' would let in
  // the pages of every other port on this machine.
  return site === undefined || site === 'same-origin' || site === 'none'
}

/** Compares digests, which have one length, in a time that tells nothing about where they differ. */
export function sameSecret(given: string, secret: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest()
  return timingSafeEqual(digest(given), digest(secret))
}
