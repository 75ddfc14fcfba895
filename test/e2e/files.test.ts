import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, it } from 'vitest'
import { root } from '../../bin/build.mjs'
import { openWindow } from './harness.ts'

/**
 * Files by the browser's own access to them. Its dialogs cannot be worked from outside, so they answer with real handles of
 * the page's private folder; reading, writing, keeping handles and asking them again is the browser's own.
 */
const corvane = readFileSync(join(root, 'assets', 'corvane', 'corvane.bay.json'), 'utf8')

async function dialogsAnswer(page: Page, name: string, text?: string): Promise<void> {
  await page.evaluate(
    async ({ name, text }) => {
      const folder = await navigator.storage.getDirectory()
      const handle = await folder.getFileHandle(name, { create: true })
      if (text !== undefined) {
        const stream = await handle.createWritable()
        await stream.write(text)
        await stream.close()
      }
      Object.assign(globalThis, {
        showOpenFilePicker: async () => [handle],
        showSaveFilePicker: async () => handle,
      })
    },
    { name, text },
  )
}
const inFile = (page: Page, name: string) =>
  page.evaluate(async (name) => {
    const folder = await navigator.storage.getDirectory()
    return (await (await folder.getFileHandle(name)).getFile()).text()
  }, name)

/** The machine may be busy with other tests. */
const soon = <T>(what: () => T) => expect.poll(what, { timeout: 30_000 })
const title = (page: Page) => page.locator('.brand-title')
const started = (page: Page) => page.locator('.window[data-state=empty], .window[data-state=fresh]').waitFor()

it('opens a bay by a handle, saves it in place, notices a change, and opens it again from the recent ones', async () => {
  const { page } = await openWindow()
  await started(page)
  await dialogsAnswer(page, 'hill.bay.json', corvane)
  await page.keyboard.press('Control+o')
  await soon(() => title(page).textContent()).toMatch(/Corvane/)
  await page.locator('.window[data-state=fresh]').waitFor()
  await page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name: 'Core' }).click()
  await page.getByRole('region', { name: 'Parts of the candidate' }).getByRole('button', { name: /^Core/ }).click()
  const depth = page.getByRole('textbox', { name: 'Depth', exact: true })
  const before = await depth.inputValue()
  await depth.fill('2"')
  await depth.press('Enter')
  await page.getByText('unsaved', { exact: true }).waitFor()

  // Leaving asks first.
  const asked = page.waitForEvent('dialog')
  // Not by the driver's own reload: that waits half a minute for a page which does not come.
  await page.evaluate(() => void setTimeout(() => location.reload()))
  const dialog = await asked
  expect(dialog.type()).toBe('beforeunload')
  await dialog.dismiss()

  await page.keyboard.press('Control+s')
  await soon(() => page.getByText('unsaved', { exact: true }).count()).toBe(0)
  expect(JSON.parse(await inFile(page, 'hill.bay.json')).candidates[0].core.depth).toBeCloseTo(50.8, 9)
  expect(before).not.toBe('2')

  await page.reload()
  await started(page)
  await page.keyboard.press('Control+Alt+o')
  const recent = page.getByRole('dialog', { name: 'Bays that were open before' })
  await recent.getByRole('option', { name: /hill\.bay\.json/ }).click()
  await soon(() => title(page).textContent()).toMatch(/Corvane/)

  await dialogsAnswer(page, 'hill.bay.json', corvane.replace('"name": "Corvane', '"name": "Theirs, Corvane'))
  await page.evaluate(() => dispatchEvent(new Event('focus')))
  const question = page.getByRole('alertdialog', { name: 'The file was changed by another program' })
  await question.getByRole('button', { name: 'Take theirs' }).click()
  await soon(() => title(page).textContent()).toMatch(/Theirs/)

  await page.keyboard.press('Control+Alt+o')
  await recent.getByRole('button', { name: 'Clear this list' }).click()
  await recent.getByText('None yet.').waitFor()
  await page.keyboard.press('Escape')
})

it('saves a copy elsewhere and goes on with it', async () => {
  const { page, bayPath } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await page.locator('.window[data-state=fresh]').waitFor()
  await dialogsAnswer(page, 'copy.bay.json')
  await page.keyboard.press('Control+Shift+s')
  await soon(() => inFile(page, 'copy.bay.json')).toContain('Tarnbeck')
  expect(JSON.parse(await inFile(page, 'copy.bay.json'))).toEqual(JSON.parse(readFileSync(bayPath ?? '', 'utf8')))
})
