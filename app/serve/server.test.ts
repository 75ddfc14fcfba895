import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest'
import type { OpenedBay } from '../host.ts'
import { type LoopbackServer, startServer } from './server.ts'

let folder: string
let server: LoopbackServer | undefined

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-serve-'))
  mkdirSync(join(folder, 'window', 'assets'), { recursive: true })
  writeFileSync(join(folder, 'window', 'index.html'), '<meta property="csp-nonce" nonce="__CSP_NONCE__"><p>page')
  writeFileSync(join(folder, 'window', 'assets', 'main.js'), 'export {}')
  writeFileSync(join(folder, 'secret.txt'), 'outside')
  mkdirSync(join(folder, 'bay', 'part'), { recursive: true })
  writeFileSync(join(folder, 'bay', 'a.bay.json'), '{"é":1}')
  writeFileSync(join(folder, 'bay', 'part', 'shell.stl'), 'bytes')
  symlinkSync(join(folder, 'secret.txt'), join(folder, 'bay', 'link.stl'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))
afterEach(async () => {
  await server?.close()
  server = undefined
})

const start = async (bay?: string, more: { onDeserted?: () => void; patience?: number } = {}) => {
  server = await startServer({ windowFolder: join(folder, 'window'), bay, state: join(folder, 'state'), ...more })
  return server
}

/** Unlike `fetch`, sends the path as it is written and any header. */
function raw(address: string, path: string, options: { method?: string; headers?: object; body?: string } = {}) {
  const { hostname, port } = new URL(address)
  return new Promise<{ status: number; headers: Record<string, unknown>; text: string }>((done, failed) => {
    const sent = request(
      {
        hostname,
        port,
        path,
        method: options.method ?? 'GET',
        headers: { ...options.headers } as Record<string, string>,
      },
      (answer) => {
        const chunks: Buffer[] = []
        answer.on('data', (chunk) => chunks.push(chunk))
        answer.on('end', () =>
          done({ status: answer.statusCode ?? 0, headers: answer.headers, text: Buffer.concat(chunks).toString() }),
        )
      },
    )
    sent.on('error', failed)
    sent.end(options.body)
  })
}

it('serves the page with a fresh nonce, a strict policy and isolation', async () => {
  const { address } = await start()
  const [first, second] = [await fetch(address), await fetch(address)]
  const page = await first.text()
  const nonce = /nonce="([^"]+)"/.exec(page)?.[1]
  expect(page).not.toContain('__CSP_NONCE__')
  expect(first.headers.get('content-security-policy')).toContain(`'nonce-${nonce}'`)
  expect(first.headers.get('content-security-policy')).toContain("default-src 'none'")
  expect(first.headers.get('content-security-policy')).not.toMatch(/unsafe/)
  expect(first.headers.get('cross-origin-opener-policy')).toBe('same-origin')
  expect(first.headers.get('cross-origin-embedder-policy')).toBe('require-corp')
  expect(await second.text()).not.toBe(page)
  const script = await fetch(`${address}assets/main.js`)
  expect(script.headers.get('content-type')).toMatch(/^text\/javascript/)
  expect(script.headers.get('content-security-policy')).toContain("default-src 'none'")
})

it('answers nothing outside the page, however the path is written', async () => {
  const { address } = await start(join(folder, 'bay', 'a.bay.json'))
  const base = new URL(address).pathname
  for (const path of [
    '../secret.txt',
    '..%2fsecret.txt',
    '%2e%2e/secret.txt',
    'assets/../../secret.txt',
    '/secret.txt',
  ])
    expect((await raw(address, base + path)).status, path).toBe(404)
  expect((await raw(address, '/')).status).toBe(404)
  expect((await raw(address, '/index.html')).status).toBe(404)
  expect((await raw(address, base, { headers: { host: 'rebound.example' } })).status).toBe(421)
  expect((await raw(address, base, { method: 'DELETE' })).status).toBe(405)
  expect((await raw(address, base, { method: 'HEAD' })).text).toBe('')
})

it('an invitation leads to the window once', async () => {
  const { address, invitation } = await start()
  const invited = invitation()
  expect(new URL(invited).pathname.slice(1)).not.toBe(new URL(address).pathname.split('/')[1])
  const first = await raw(address, new URL(invited).pathname)
  expect(first.status).toBe(303)
  expect(new URL(String(first.headers.location), address).href).toBe(address)
  expect((await raw(address, new URL(invited).pathname)).status).toBe(404)
})

it('gives the first bay, its meshes, and saves it, keeping what was there', async () => {
  const path = join(folder, 'bay', 'a.bay.json')
  const { address } = await start(path)
  const opened = (await (await fetch(`${address}api/first`)).json()) as OpenedBay
  expect(opened).toMatchObject({ name: 'a.bay.json', text: '{"é":1}', writable: true })
  expect(opened.token).not.toContain('bay')
  const beside = (file: string, token = opened.token) =>
    fetch(`${address}api/beside?token=${token}&file=${encodeURIComponent(file)}`)
  expect(await (await beside('part/shell.stl')).text()).toBe('bytes')
  for (const file of ['../secret.txt', 'link.stl', '/etc/hostname', 'none.stl', '']) {
    const answer = await beside(file)
    expect(answer.status, file).toBe(422)
    expect(((await answer.json()) as { faults: { code: string }[] }).faults[0].code, file).toMatch(/^mesh-/)
  }
  expect((await beside('part/shell.stl', 'guessed')).status).toBe(422)

  const save = (headers: object) =>
    raw(address, `${new URL(address).pathname}api/save?token=${opened.token}`, { method: 'POST', headers, body: '{}' })
  expect((await save({})).status).toBe(403)
  expect((await save({ origin: 'http://elsewhere.example' })).status).toBe(403)
  expect(readFileSync(path, 'utf8')).toBe('{"é":1}')
  expect((await save({ origin: new URL(address).origin })).status).toBe(200)
  expect(readFileSync(path, 'utf8')).toBe('{}')
  expect(readFileSync(`${path}.bak`, 'utf8')).toBe('{"é":1}')
})

it('without a bay there is none, and one that is missing is told as a fault', async () => {
  const { address } = await start()
  expect(await (await fetch(`${address}api/first`)).json()).toBe(null)
  await server?.close()
  const other = await start(join(folder, 'bay', 'missing.bay.json'))
  const answer = await fetch(`${other.address}api/first`)
  expect(answer.status).toBe(422)
  expect(await answer.json()).toMatchObject({ faults: [{ code: 'file-missing', file: 'missing.bay.json' }] })
})

it('notices when the last window has gone, but not a reload', async () => {
  let deserted = 0
  const { address } = await start(undefined, { onDeserted: () => deserted++, patience: 150 })
  const enter = async () => {
    const abort = new AbortController()
    await fetch(`${address}api/here`, { signal: abort.signal })
    return abort
  }
  const first = await enter()
  first.abort()
  const second = await enter()
  await new Promise((done) => setTimeout(done, 300))
  expect(deserted).toBe(0)
  second.abort()
  await expect.poll(() => deserted, { timeout: 3000 }).toBe(1)
})

it('takes the port it had before where that is free, and any other where it is not', async () => {
  const first = await start()
  const port = Number(new URL(first.address).port)
  const second = await startServer({ windowFolder: join(folder, 'window'), state: join(folder, 'state'), port })
  expect(Number(new URL(second.address).port)).not.toBe(port)
  await second.close()
  await first.close()
  server = await startServer({ windowFolder: join(folder, 'window'), state: join(folder, 'state'), port })
  expect(Number(new URL(server.address).port)).toBe(port)
})

it('tells its windows when another program changed the bay, and not when they saved it', async () => {
  const path = join(folder, 'bay', 'watched.bay.json')
  writeFileSync(path, '{}')
  const { address } = await start(path)
  const { token } = (await (await fetch(`${address}api/first`)).json()) as OpenedBay
  const abort = new AbortController()
  const stream = await fetch(`${address}api/here?window=w`, { signal: abort.signal })
  let heard = ''
  void (async () => {
    for await (const chunk of stream.body ?? []) heard += new TextDecoder().decode(chunk)
  })().catch(() => {})
  const headers = { origin: new URL(address).origin }
  await fetch(`${address}api/save?token=${token}&how=in-place`, { method: 'POST', headers, body: '{"ours":1}' })
  await new Promise((done) => setTimeout(done, 400))
  expect(heard).not.toContain('touched')
  writeFileSync(path, '{"theirs":1}')
  await expect.poll(() => heard, { timeout: 4000 }).toContain(`event: touched\ndata: ${token}`)
  abort.abort()
})
