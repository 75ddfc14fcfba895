import { readdirSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { extname, join } from 'node:path'
import { freshNonce, headersWith, withNonce } from './policy.ts'

export interface PageAnswer {
  readonly status: number
  readonly headers: Record<string, string>
  readonly body: Uint8Array | null
}

/** Answers for one path below the page's address, beginning with '/'. */
export type Page = (path: string) => Promise<PageAnswer>

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
  '.json': 'application/json',
  '.txt': 'text/plain; charset=utf-8',
}

/**
 * The built page as a function of the path. What it may answer is listed once at the start; a path is looked up in
 * that list and never becomes a file name, so there is no way out of the folder.
 * @param folder the built page, with index.html
 */
export function pageIn(folder: string): Page {
  const files = filesBelow(folder, '/')
  return async (path) => {
    const nonce = freshNonce()
    const headers = headersWith(nonce)
    const name = path === '/' ? '/index.html' : path
    const file = files.get(name)
    const bytes = file === undefined ? null : await readFile(file).catch(() => null)
    if (bytes === null) return refusal(404, headers)
    headers['Content-Type'] = types[extname(name)] ?? 'application/octet-stream'
    if (!name.endsWith('.html')) return { status: 200, headers, body: bytes }
    return { status: 200, headers, body: new TextEncoder().encode(withNonce(bytes.toString('utf8'), nonce)) }
  }
}

/** Files by their path from the folder, '/' between; step by step, as archives of the shell know no other way. */
function filesBelow(folder: string, path: string): Map<string, string> {
  const files = new Map<string, string>()
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const file = join(folder, entry.name)
    if (entry.isFile()) files.set(path + entry.name, file)
    else if (entry.isDirectory()) for (const below of filesBelow(file, `${path}${entry.name}/`)) files.set(...below)
  }
  return files
}

/** An answer without content. */
export const refusal = (status: number, headers: Record<string, string> = headersWith(freshNonce())): PageAnswer => ({
  status,
  headers,
  body: null,
})
