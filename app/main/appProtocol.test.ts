import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { pageIn } from '../serve/page.ts'
import { isOurs, pageHandler, schemePrivileges } from './appProtocol.ts'

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-app-'))
  mkdirSync(join(folder, 'window', 'assets'), { recursive: true })
  writeFileSync(join(folder, 'window', 'index.html'), '<meta nonce="__CSP_NONCE__">')
  writeFileSync(join(folder, 'window', 'assets', 'main.js'), 'export {}')
  writeFileSync(join(folder, 'secret.txt'), 'outside')
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const ask = (url: string, method = 'GET') => pageHandler(pageIn(join(folder, 'window')))(new Request(url, { method }))

it('answers the page with its nonce and policy, and its scripts with the policy', async () => {
  const page = await ask('app://gapwright/')
  const nonce = /nonce="([^"]+)"/.exec(await page.text())?.[1]
  expect(page.status).toBe(200)
  expect(page.headers.get('content-security-policy')).toContain(`'nonce-${nonce}'`)
  const script = await ask('app://gapwright/assets/main.js')
  expect(script.headers.get('content-type')).toMatch(/^text\/javascript/)
  expect(script.headers.get('content-security-policy')).toContain("default-src 'none'")
  expect(script.headers.get('cross-origin-embedder-policy')).toBe('require-corp')
})

it.each([
  ['app://gapwright/..%2fsecret.txt', 403],
  ['app://gapwright/..%5csecret.txt', 403],
  ['app://gapwright/%2e%2e/secret.txt', 404],
  ['app://gapwright/../secret.txt', 404],
  ['app://gapwright/main.js%00.html', 403],
  ['app://gapwright/%ff', 400],
  ['app://gapwright/none.js', 404],
  ['app://elsewhere/', 400],
  ['app://user@gapwright/', 400],
  ['https://gapwright/', 400],
])('refuses %s with %i', async (url, status) => {
  const request = { url, method: 'GET' } as Request
  expect((await pageHandler(pageIn(join(folder, 'window')))(request)).status).toBe(status)
})

it('refuses to be written to', async () => {
  expect((await ask('app://gapwright/', 'POST')).status).toBe(405)
})

it('knows its own addresses by scheme and host, not by how they begin', () => {
  expect(isOurs('app://gapwright/assets/x?y#z')).toBe(true)
  for (const other of [
    'app://gapwright.example/',
    'app:gapwright',
    'apps://gapwright/',
    'file:///app://gapwright/',
    '',
  ])
    expect(isOurs(other), other).toBe(false)
})

it('never asks to get round a content policy', () => {
  expect(schemePrivileges.privileges?.bypassCSP).toBe(false)
})
