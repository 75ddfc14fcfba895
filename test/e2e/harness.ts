import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join, resolve } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { afterAll, expect, onTestFinished } from 'vitest'
import { type LoopbackServer, startServer } from '../../app/serve/server.ts'
import { findBrowser } from '../../bin/browser.mjs'
import { dist, ensureBuilt, root } from '../../bin/build.mjs'
import { browserFlags } from '../kit/openedWindow.ts'

export { fresh } from '../kit/openedWindow.ts'

export interface WindowWanted {
  /** Bay to open at the start, from the project's folder; its folder is copied, so tests may save. */
  readonly bay?: string
  /** Inside of the window, CSS pixels; default 1440 × 900. */
  readonly size?: { readonly width: number; readonly height: number }
  /** On dark paper, chosen in an earlier visit: the window does not ask the system. */
  readonly dark?: boolean
}

export interface OpenWindow {
  readonly page: Page
  readonly server: LoopbackServer
  /** The copy of the bay that this window has open. */
  readonly bayPath: string | null
  /** Messages of the console that are errors, in order. A test that provokes one empties the list itself. */
  readonly errors: string[]
  /** Writes test-results/NAME.png and answers its path. */
  readonly screenshot: (name: string) => Promise<string>
}

let browser: Browser | undefined
afterAll(async () => {
  await browser?.close()
  browser = undefined
})

/**
 * Opens the built window in a real browser over the loopback server, as `npm start` does. Everything is closed when
 * the test ends; the test fails if the console held an error, a page broke, or a policy was violated.
 */
export async function openWindow({
  bay,
  size = { width: 1440, height: 900 },
  dark = false,
}: WindowWanted = {}): Promise<OpenWindow> {
  await ensureBuilt(['window'])
  const executablePath = findBrowser()
  if (executablePath === null) throw new Error('no browser of the Chromium family here; `npm test` installs one')
  browser ??= await chromium.launch({ executablePath, args: browserFlags })
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-e2e-'))
  const bayPath = bay === undefined ? null : copied(resolve(root, bay), folder)
  const state = join(folder, 'state')
  const server = await startServer({ windowFolder: join(dist, 'window'), bay: bayPath ?? undefined, state })
  const context = await browser.newContext({
    viewport: { ...size },
    acceptDownloads: true,
    locale: 'en-GB',
  })
  if (dark) await context.addInitScript(() => localStorage.setItem('gapwright-theme', 'dark'))
  const page = await context.newPage()
  // Choosers are caught from the start: asked for with the key that opens one, the key can be the quicker of the two.
  page.on('filechooser', () => {})
  const errors: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text())
  })
  page.on('pageerror', (error) => errors.push(error.stack ?? error.message))
  page.on('crash', () => errors.push('the page crashed'))
  onTestFinished(async () => {
    await context.close()
    await server.close()
    rmSync(folder, { recursive: true, force: true })
    expect(errors, 'errors in the console').toEqual([])
  })
  await page.goto(server.address)
  const screenshot = async (name: string): Promise<string> => {
    const path = join(root, 'test-results', `${name}.png`)
    mkdirSync(dirname(path), { recursive: true })
    await page.screenshot({ path })
    return path
  }
  return { page, server, bayPath, errors, screenshot }
}

function copied(bay: string, folder: string): string {
  const copy = join(folder, basename(dirname(bay)))
  cpSync(dirname(bay), copy, { recursive: true })
  return join(copy, basename(bay))
}
