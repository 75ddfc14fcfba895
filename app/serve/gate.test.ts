import { describe, expect, it } from 'vitest'
import { passed, sameSecret } from './gate.ts'

const token = 'p7Qk-long-enough_to.be~a-secret'
const port = 40123
const host = `127.0.0.1:${port}`
const ask = (over: { method?: string; url?: string; headers?: Record<string, string> } = {}) =>
  passed(
    { method: over.method ?? 'GET', url: over.url ?? `/${token}/api/first?a=1`, headers: { host, ...over.headers } },
    token,
    port,
  )

describe('the gate of the loopback server', () => {
  it('lets our own window in and hands on what lies below the token', () => {
    const pass = ask()
    expect(pass).toMatchObject({ path: '/api/first' })
    expect('query' in pass && pass.query.get('a')).toBe('1')
    expect(ask({ headers: { host: `localhost:${port}` } })).toHaveProperty('path')
    expect(ask({ headers: { 'sec-fetch-site': 'same-origin', origin: `http://${host}` } })).toHaveProperty('path')
  })

  it.each([
    ['another name that leads to this machine', { headers: { host: `rebound.example:${port}` } }, 421],
    ['our name with another port', { headers: { host: '127.0.0.1:1' } }, 421],
    ['no host', { headers: { host: '' } }, 421],
    ['a method that is not used', { method: 'PUT' }, 405],
    ['a preflight', { method: 'OPTIONS' }, 405],
    ['no token', { url: '/' }, 404],
    ['a wrong token', { url: `/${token.slice(1)}x/` }, 404],
    ['the beginning of the token', { url: `/${token.slice(0, -1)}/` }, 404],
    ['the token and more', { url: `/${token}x/` }, 404],
    ['the token without a path', { url: `/${token}` }, 404],
    ['the token as a query', { url: `/?${token}/` }, 404],
    ['the token not first', { url: `/x/${token}/` }, 404],
    ['an absolute address', { url: `http://${host}/${token}/` }, 404],
    ['a page of another origin', { headers: { origin: 'http://elsewhere.example' } }, 403],
    ['a page of another port', { headers: { 'sec-fetch-site': 'same-site' } }, 403],
    ['a page of another site', { headers: { 'sec-fetch-site': 'cross-site' } }, 403],
    ['writing without an origin', { method: 'POST' }, 403],
    ['an opaque origin', { method: 'POST', headers: { origin: 'null' } }, 403],
    ['a path that is not text', { url: `/${token}/%ff%fe` }, 400],
  ])('refuses %s', (_, over, status) => {
    expect(ask(over)).toEqual({ refused: status })
  })

  it('compares secrets of any length', () => {
    expect(sameSecret('', token)).toBe(false)
    expect(sameSecret(token, token)).toBe(true)
    expect(sameSecret(`${token}${token}`, token)).toBe(false)
  })
})
