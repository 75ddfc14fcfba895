import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, it } from 'vitest'
import { root } from '../../bin/build.mjs'
import { fresh, openWindow } from './harness.ts'

/** The window in its browser home: what the server promises, seen from inside a real page. */
const bay = 'assets/tarnbeck/tarnbeck.bay.json'
/** The ledger of the bay as it is; the empty paper speaks of a beam, too. */
const ledger = (page: Page) => page.locator(fresh)

/** A browser that cannot write files: only inputs and downloads. */
const withoutFileAccess = async (page: Page): Promise<void> => {
  await page.evaluate(() => {
    Object.assign(globalThis, { showOpenFilePicker: undefined, showSaveFilePicker: undefined })
  })
}

it('is isolated, holds to its policy, and reaches nothing outside', async () => {
  const { page, errors } = await openWindow({ bay })
  await ledger(page).waitFor({ state: 'attached' })
  expect(await page.evaluate(() => globalThis.crossOriginIsolated)).toBe(true)
  expect(errors).toEqual([])
  const refused = await page.evaluate(() =>
    fetch('https://elsewhere.example/').then(
      () => 'reached',
      () => 'refused',
    ),
  )
  expect(refused).toBe('refused')
  // As a stranger's text would if the page ever took it for markup. (What the test itself evaluates is exempt.)
  const ran = await page.evaluate(() => {
    const script = document.createElement('script')
    script.textContent = 'globalThis.strangerRan = true'
    document.body.append(script)
    return 'strangerRan' in globalThis
  })
  expect(ran).toBe(false)
  // Both attempts were ours, and both left the policy's own message.
  expect(errors.length).toBeGreaterThanOrEqual(2)
  expect(errors.every((error) => /Content Security Policy/.test(error))).toBe(true)
  errors.length = 0
})

it('comes up again after a reload', async () => {
  const { page } = await openWindow({ bay })
  await ledger(page).waitFor({ state: 'attached' })
  await page.reload()
  await ledger(page).waitFor({ state: 'attached' })
})

it('saves over the bay that it was started with', async () => {
  const { page, bayPath } = await openWindow({ bay })
  await ledger(page).waitFor({ state: 'attached' })
  const before = readFileSync(bayPath ?? '', 'utf8')
  await page.keyboard.press('Control+s')
  await expect.poll(() => readFileSync(`${bayPath}.bak`, { encoding: 'utf8', flag: 'a+' })).toBe(before)
  expect(JSON.parse(readFileSync(bayPath ?? '', 'utf8'))).toEqual(JSON.parse(before))
})

it('where the browser cannot write files, opens through an input and saves as a download', async () => {
  const { page } = await openWindow()
  await page.getByRole('tab').or(page.getByRole('button')).first().waitFor()
  await withoutFileAccess(page)
  const folder = join(root, 'assets', 'tarnbeck')
  const asked = page.waitForEvent('filechooser')
  await page.keyboard.press('Control+o')
  await (await asked).setFiles([join(folder, 'tarnbeck.bay.json'), join(folder, 'bumper.ply.gz')])
  await ledger(page).waitFor({ state: 'attached' })
  const coming = page.waitForEvent('download')
  await page.keyboard.press('Control+Shift+s')
  const download = await coming
  expect(download.suggestedFilename()).toBe('tarnbeck.bay.json')
  const saved = JSON.parse(readFileSync(await download.path(), 'utf8'))
  expect(saved).toEqual(JSON.parse(readFileSync(join(folder, 'tarnbeck.bay.json'), 'utf8')))
})
