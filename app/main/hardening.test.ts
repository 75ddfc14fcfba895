import { expect, it, vi } from 'vitest'
import { hardenContents, hardenSession, mayFetch, webPreferences } from './hardening.ts'

it('runs pages in the sandbox, apart from the preload, without Node', () => {
  expect(webPreferences('/p.cjs')).toMatchObject({
    preload: '/p.cjs',
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    webviewTag: false,
    navigateOnDragDrop: false,
  })
})

it('refuses every permission and device, asked or checked', () => {
  const session = sessionDouble()
  hardenSession(session)
  const answer = vi.fn()
  session.setPermissionRequestHandler.mock.calls[0][0](null, 'geolocation', answer)
  expect(answer.mock.calls).toEqual([[false]])
  expect(session.setPermissionCheckHandler.mock.calls[0][0]()).toBe(false)
  expect(session.setDevicePermissionHandler.mock.calls[0][0]()).toBe(false)
})

it.each([
  ['app://gapwright/main.js', true],
  ['blob:app://gapwright/1', true],
  ['data:image/png;base64,', true],
  ['devtools://devtools/bundled/x.html', true],
  ['http://127.0.0.1/', false],
  ['https://elsewhere.example/', false],
  ['file:///etc/hostname', false],
  ['ws://elsewhere.example/', false],
  ['', false],
])('lets the page fetch %s: %s', (address, allowed) => {
  expect(mayFetch(address)).toBe(allowed)
  const session = sessionDouble()
  hardenSession(session)
  const answer = vi.fn()
  session.webRequest.onBeforeRequest.mock.calls[0][0]({ url: address }, answer)
  expect(answer.mock.calls).toEqual([[{ cancel: !allowed }]])
})

it('keeps a window on our page', () => {
  const contents = { on: vi.fn(), setWindowOpenHandler: vi.fn() }
  hardenContents(contents as unknown as Parameters<typeof hardenContents>[0])
  expect(contents.setWindowOpenHandler.mock.calls[0][0]({ url: 'app://gapwright/' })).toEqual({ action: 'deny' })
  const prevented = (name: string, event: object) => {
    const preventDefault = vi.fn()
    const listener = contents.on.mock.calls.find(([given]) => given === name)?.[1]
    listener({ ...event, preventDefault })
    return preventDefault.mock.calls.length > 0
  }
  expect(prevented('will-navigate', { url: 'https://elsewhere.example/' })).toBe(true)
  expect(prevented('will-navigate', { url: 'file:///etc/hostname' })).toBe(true)
  expect(prevented('will-navigate', { url: 'app://gapwright/' })).toBe(false)
  expect(prevented('will-redirect', { url: 'app://gapwright/' })).toBe(true)
  expect(prevented('will-attach-webview', {})).toBe(true)
  expect(prevented('will-frame-navigate', { url: 'app://gapwright/', isMainFrame: false })).toBe(true)
  expect(prevented('will-frame-navigate', { url: 'app://gapwright/', isMainFrame: true })).toBe(false)
})

/** Of the shell's session only what is set on it. */
function sessionDouble() {
  return {
    setPermissionRequestHandler: vi.fn(),
    setPermissionCheckHandler: vi.fn(),
    setDevicePermissionHandler: vi.fn(),
    webRequest: { onBeforeRequest: vi.fn() },
  } as unknown as Parameters<typeof hardenSession>[0] & {
    setPermissionRequestHandler: ReturnType<typeof vi.fn>
    setPermissionCheckHandler: ReturnType<typeof vi.fn>
    setDevicePermissionHandler: ReturnType<typeof vi.fn>
    webRequest: { onBeforeRequest: ReturnType<typeof vi.fn> }
  }
}
