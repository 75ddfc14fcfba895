/** Takes the picture in the README: the example in the window, as it comes up. `node bin/picture.mjs` */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { chromium } from 'playwright-core'
import { findBrowser } from './browser.mjs'
import { dist, ensureBuilt, root } from './build.mjs'

await ensureBuilt(['window', 'serve'])
const { startServer } = await import(pathToFileURL(join(dist, 'node', 'serve.mjs')).href)
const state = mkdtempSync(join(tmpdir(), 'gapwright-picture-'))
const server = await startServer({
  state,
  windowFolder: join(dist, 'window'),
  bay: join(root, 'assets', 'tarnbeck', 'tarnbeck.bay.json'),
})
const browser = await chromium.launch({
  executablePath: findBrowser() ?? undefined,
  // Drawn in software, so that the picture is the same on every machine.
  args: ['--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist'],
})
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  await page.goto(server.address)
  // The ledger comes last: when it tells how long it took, the bay is read, drawn and judged.
  await page.getByText(/\d gaps in/).waitFor({ timeout: 60_000 })
  // The camera has settled a moment later.
  await page.waitForTimeout(1500)
  await page.screenshot({ path: join(root, 'docs', 'window.png') })
} finally {
  await browser.close()
  await server.close()
  rmSync(state, { recursive: true, force: true })
}
process.stdout.write('docs/window.png\n')
