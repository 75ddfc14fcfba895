/** Finds a browser of the Chromium family, for the app window and for the tests. */
import { existsSync } from 'node:fs'
import { homedir } from 'node:os'
import { delimiter, join } from 'node:path'

const linuxNames = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'brave-browser',
  'brave',
  'microsoft-edge-stable',
  'microsoft-edge',
]

const macApps = ['Chromium', 'Google Chrome', 'Brave Browser', 'Microsoft Edge']

const windowsPrograms = [
  ['Chromium', 'Application', 'chrome.exe'],
  ['Google', 'Chrome', 'Application', 'chrome.exe'],
  ['BraveSoftware', 'Brave-Browser', 'Application', 'brave.exe'],
  ['Microsoft', 'Edge', 'Application', 'msedge.exe'],
]

/**
 * @param {{ platform?: string, env?: Record<string, string | undefined>, exists?: (path: string) => boolean, home?: string }} machine
 *   everything that is asked of the machine, so that a test can be another one
 * @returns {string | null} path of the program; `GAPWRIGHT_BROWSER` goes before all that is found
 */
export function findBrowser({
  platform = process.platform,
  env = process.env,
  exists = existsSync,
  home = homedir(),
} = {}) {
  const named = env.GAPWRIGHT_BROWSER
  if (named) return exists(named) ? named : null
  return candidates(platform, env, home).find((path) => exists(path)) ?? null
}

function candidates(platform, env, home) {
  if (platform === 'darwin')
    return macApps.flatMap((app) =>
      ['/Applications', `${home}/Applications`].map((folder) => `${folder}/${app}.app/Contents/MacOS/${app}`),
    )
  if (platform === 'win32') {
    const folders = [env.ProgramFiles, env['ProgramFiles(x86)'], env.LOCALAPPDATA].filter(Boolean)
    return windowsPrograms.flatMap((program) => folders.map((folder) => [folder, ...program].join('\\')))
  }
  const folders = (env.PATH ?? '').split(delimiter).filter(Boolean)
  return linuxNames.flatMap((name) => folders.map((folder) => join(folder, name)))
}

/** Whether a window can be shown at all. Windows and macOS always have a screen as far as a program can tell. */
export const hasDisplay = ({ platform = process.platform, env = process.env } = {}) =>
  platform === 'win32' || platform === 'darwin' || Boolean(env.DISPLAY || env.WAYLAND_DISPLAY)

/** Browsers and shells of this family refuse to start as root on Linux with their sandbox on. */
export const isLinuxRoot = ({ platform = process.platform, uid = process.getuid?.() } = {}) =>
  platform === 'linux' && uid === 0
