import type { CustomScheme } from 'electron'
import type { Page, PageAnswer } from '../serve/page.ts'
import { refusal } from '../serve/page.ts'

export const scheme = 'app'
export const host = 'gapwright'
export const windowAddress = `${scheme}://${host}/`

/** A page like any on the web, as far as its powers go; never one that gets round a content policy. */
export const schemePrivileges: CustomScheme = {
  scheme,
  privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true, codeCache: true, bypassCSP: false },
}

/** Whether an address is one of our page's. The origin of such a scheme is opaque in Node, so its parts are compared. */
export function isOurs(address: string): boolean {
  if (!URL.canParse(address)) return false
  const url = new URL(address)
  return url.protocol === `${scheme}:` && url.host === host && url.username === '' && url.password === ''
}

/** Answers requests of the `app://` scheme from the built page. */
export function pageHandler(page: Page): (request: Request) => Promise<Response> {
  return async ({ method, url }) => responseOf(await answerTo(page, method, url))
}

async function answerTo(page: Page, method: string, address: string): Promise<PageAnswer> {
  if (method !== 'GET' && method !== 'HEAD') return refusal(405)
  if (!isOurs(address)) return refusal(400)
  // Encoded separators are refused before decoding; a name with one is in no list anyway.
  const path = new URL(address).pathname
  if (/%(?:2f|5c|00)/i.test(path)) return refusal(403)
  try {
    return await page(decodeURIComponent(path))
  } catch {
    return refusal(400)
  }
}

function responseOf({ status, headers, body }: PageAnswer): Response {
  // Copied: a response wants plain memory, and what was read may lie in a pool.
  return new Response(body === null ? null : new Uint8Array(body), { status, headers })
}
