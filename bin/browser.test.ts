import { describe, expect, it } from 'vitest'
import { findBrowser, hasDisplay, isLinuxRoot } from './browser.mjs'

const only = (...paths: string[]) => ({ exists: (path: string) => paths.includes(path), home: '/Users/me' })

describe('finding a browser', () => {
  it('looks along the path on Linux, in order of preference and not of folders', () => {
    const env = { PATH: '/opt/bin:/usr/bin' }
    expect(findBrowser({ platform: 'linux', env, ...only('/opt/bin/google-chrome', '/usr/bin/chromium') })).toBe(
      '/usr/bin/chromium',
    )
    expect(findBrowser({ platform: 'linux', env, ...only('/usr/bin/microsoft-edge') })).toBe('/usr/bin/microsoft-edge')
    expect(findBrowser({ platform: 'linux', env, ...only('/elsewhere/chromium') })).toBe(null)
    expect(findBrowser({ platform: 'linux', env: {}, ...only() })).toBe(null)
  })

  it('looks in the application folders of macOS and Windows', () => {
    const brave = '/Users/me/Applications/Brave Browser.app/Contents/MacOS/Brave Browser'
    expect(findBrowser({ platform: 'darwin', env: {}, ...only(brave) })).toBe(brave)
    const edge = 'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe'
    const env = { ProgramFiles: 'C:\\Program Files', 'ProgramFiles(x86)': 'C:\\Program Files (x86)' }
    expect(findBrowser({ platform: 'win32', env, ...only(edge) })).toBe(edge)
  })

  it('takes the one that is named, and no other in its place', () => {
    const env = { PATH: '/usr/bin', GAPWRIGHT_BROWSER: '/my/browser' }
    expect(findBrowser({ platform: 'linux', env, ...only('/my/browser', '/usr/bin/chromium') })).toBe('/my/browser')
    expect(findBrowser({ platform: 'linux', env, ...only('/usr/bin/chromium') })).toBe(null)
  })

  it('knows when there is no screen', () => {
    expect(hasDisplay({ platform: 'linux', env: {} })).toBe(false)
    expect(hasDisplay({ platform: 'linux', env: { DISPLAY: '' } })).toBe(false)
    expect(hasDisplay({ platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' } })).toBe(true)
    expect(hasDisplay({ platform: 'win32', env: {} })).toBe(true)
    expect(isLinuxRoot({ platform: 'linux', uid: 0 })).toBe(true)
    expect(isLinuxRoot({ platform: 'linux', uid: 1000 })).toBe(false)
    expect(isLinuxRoot({ platform: 'darwin', uid: 0 })).toBe(false)
  })
})
