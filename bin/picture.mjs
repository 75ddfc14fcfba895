/** Takes the pictures in the README: the example in the window, as it comes up, and a page of its sheets. `node bin/picture.mjs` */
import { spawnSync } from 'node:child_process'
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
  await page.locator('.viewport-stand:not([data-busy])').waitFor()
  await page.screenshot({ path: join(root, 'docs', 'window.png') })
} finally {
  await browser.close()
  await server.close()
  rmSync(state, { recursive: true, force: true })
}
process.stdout.write('docs/window.png\n')

// The page needs poppler's pdftoppm; the picture stays as it is where that is not installed.
const set = mkdtempSync(join(tmpdir(), 'gapwright-sheets-'))
const bay = join('assets', 'tarnbeck', 'tarnbeck.bay.json')
const asked = ['sheets', bay, '--only', 'overview', '--date', '2026-01-01', '--force', '--out', set]
spawnSync(process.execPath, [join('bin', 'gapwright.mjs'), ...asked], { cwd: root, stdio: 'inherit' })
const page = ['-png', '-r', '80', '-f', '2', '-singlefile', join(set, 'sheets.pdf'), join(root, 'docs', 'sheet')]
if (spawnSync('pdftoppm', page).status === 0) process.stdout.write('docs/sheet.png\n')
rmSync(set, { recursive: true, force: true })
