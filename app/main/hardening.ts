import type { BrowserWindowConstructorOptions, Session, WebContents } from 'electron'
import { isOurs, scheme } from './appProtocol.ts'

/** What every window may do: nothing but run our page in a sandbox, with the preload as its only way out. */
export const webPreferences = (preload: string): BrowserWindowConstructorOptions['webPreferences'] => ({
  preload,
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  spellcheck: false,
})

/** Addresses that the page may fetch from. `devtools` serves the developer tools' own pages. */
const local = new Set([`${scheme}:`, 'blob:', 'data:', 'devtools:'])

export const mayFetch = (address: string): boolean => URL.canParse(address) && local.has(new URL(address).protocol)

type HardenedSession = Pick<
  Session,
  'setPermissionRequestHandler' | 'setPermissionCheckHandler' | 'setDevicePermissionHandler' | 'webRequest'
>

/** Refuses every permission and every request that would leave the machine. */
export function hardenSession(session: HardenedSession): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
  session.webRequest.onBeforeRequest((request, answer) => answer({ cancel: !mayFetch(request.url) }))
}

type HardenedContents = Pick<WebContents, 'on' | 'setWindowOpenHandler'>

/** Keeps a window on our page: no navigation, no further windows, no page within the page. */
export function hardenContents(contents: HardenedContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  contents.on('will-attach-webview', (event) => event.preventDefault())
  contents.on('will-navigate', (event) => {
    if (!isOurs(event.url)) event.preventDefault()
  })
  contents.on('will-redirect', (event) => event.preventDefault())
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame || !isOurs(event.url)) event.preventDefault()
  })
}
