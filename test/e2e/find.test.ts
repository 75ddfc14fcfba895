import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { root } from '../../bin/build.mjs'
import type { Bay } from '../../core/bay/schema.ts'
import { openWindow } from './harness.ts'
import { changed, settled, stage } from './pipesStage.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const field = (page: Page) => page.getByRole('searchbox', { name: /^Find a command/ })
const found = (page: Page) => page.getByRole('menuitem')
const where = (page: Page) => page.locator('.window').getAttribute('data-stage')

async function opened(more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, ...more })
  await settled(window.page)
  return window
}

/** Open, and what is typed goes into it. */
async function ready(page: Page) {
  await field(page).waitFor()
  await expect.poll(() => field(page).evaluate((input) => input === document.activeElement)).toBe(true)
}

/** Types into the search field that a key opens, and takes what is found first. */
async function find(page: Page, typed: string) {
  await page.keyboard.press('Control+k')
  await ready(page)
  await page.keyboard.type(typed)
  await found(page).first().waitFor()
}

describe('the search field', () => {
  test('is opened by two keys and a button, and closed by Escape with the focus where it was', async () => {
    const { page, screenshot } = await opened()
    await stage(page, 'Gaps').focus()
    for (const key of ['Control+k', '/']) {
      await page.keyboard.press(key)
      await ready(page)
      await page.keyboard.press('Escape')
      await field(page).waitFor({ state: 'detached' })
      // Focus goes back with the next frame.
      await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toMatch(/^Gaps/)
    }
    await page.getByRole('button', { name: 'Find anything' }).click()
    await field(page).waitFor()
    expect(await found(page).count()).toBeGreaterThan(30)
    await screenshot('find')
  })

  test('finds a gap by words in any order, and flies to it', async () => {
    const { page } = await opened()
    await find(page, 'tank RIGHT béam')
    expect(await found(page).first().textContent()).toMatch(/^Crash beam to tank right.*clears, margin/)
    await page.keyboard.press('Enter')
    await field(page).waitFor({ state: 'detached' })
    await page.getByRole('region', { name: 'Chosen gap' }).waitFor()
    expect(await page.getByRole('option', { selected: true }).textContent()).toMatch(/Crash beam to tank right/)
  })

  test('opens the numbers of a keep-out, a part and a pipe, and goes to stages and candidates', async () => {
    const { page } = await opened()
    await find(page, 'washer bottle')
    await page.keyboard.press('Enter')
    await expect.poll(() => where(page)).toBe('measure')
    await page.getByRole('textbox', { name: 'Washer bottle, Points, row 1, X' }).waitFor()
    await find(page, 'part tank left')
    await page.keyboard.press('Enter')
    await expect.poll(() => where(page)).toBe('core')
    await find(page, 'pipe cold')
    await page.keyboard.press('Enter')
    await expect.poll(() => where(page)).toBe('pipes')
    await find(page, 'seat stage')
    await page.keyboard.press('Enter')
    await expect.poll(() => where(page)).toBe('seat')
    await find(page, 'candidate deep')
    await page.keyboard.press('Enter')
    await page.getByRole('radio', { name: /Deep 102/, checked: true }).waitFor()
  })

  test('opens the numbers of openings, ports, mounts and fixings', async () => {
    const { page } = await opened()
    const bay = JSON.parse(readFileSync(join(root, tarnbeck), 'utf8')) as Bay
    const take = async (typed: string, said: RegExp) => {
      await find(page, typed)
      expect(await found(page).first().textContent()).toMatch(said)
      await page.keyboard.press('Enter')
      await field(page).waitFor({ state: 'detached' })
    }
    const opening = bay.openings?.[0].name ?? ''
    const port = bay.ports?.[0].name ?? ''
    await take(`opening ${opening}`, /opening, Measure$/)
    await page.locator('.callout-open', { hasText: opening }).waitFor()
    await take(`port ${port}`, /port, Measure$/)
    await page.locator('.callout-open', { hasText: port }).waitFor()
    const mount = bay.candidates[0].mounts?.[0].name ?? ''
    await take(`mount seat ${mount}`, /mount, Seat$/)
    await page.locator('.seat-mount .callout-open', { hasText: mount }).waitFor()
    const fixing = bay.fixings?.[0].name ?? ''
    await take(`fixing seat ${fixing}`, /fixing, Seat$/)
    await page.locator('.seat-fixing .callout-open', { hasText: fixing }).waitFor()
  })

  test('does commands, shows their keys, and says why one cannot be done', async () => {
    const { page } = await opened()
    await find(page, 'dark paper')
    expect(await found(page).first().textContent()).toMatch(/D$/)
    await page.keyboard.press('Enter')
    await page.locator(':root[data-theme="dark"]').waitFor()
    await find(page, 'redo')
    expect(await found(page).first().textContent()).toContain('nothing to redo')
    await page.keyboard.press('Enter')
    await page.getByText('Redo: nothing to redo.').waitFor()
    // By a word that stands nowhere in its name.
    await page.getByRole('searchbox').fill('letters')
    await expect.poll(() => found(page).allTextContents()).toEqual([expect.stringMatching(/^Next text size.*L$/)])
    await page.getByRole('searchbox').fill('xyzzy')
    await page.getByText('Nothing here is called “xyzzy”.').waitFor()
    await page.keyboard.press('Escape')
    await page.evaluate(() => Object.assign(globalThis, { showSaveFilePicker: undefined }))
    for (const [typed, ending] of [
      ['front drawing svg', /-front\.svg$/],
      ['picture twice', /-space\.png$/],
    ] as const) {
      await find(page, typed)
      const download = page.waitForEvent('download')
      await page.keyboard.press('Enter')
      expect((await download).suggestedFilename()).toMatch(ending)
      await page.locator('.banner', { hasText: /^Saved: .*/ }).waitFor()
    }
  })

  test('a reason why a pipe cannot be made is found and led to', async () => {
    const tight = changed((bay) => {
      const [pipe] = bay.candidates[0].pipes ?? []
      pipe.bendRadius = 40
    })
    const { page } = await openWindow({ bay: tight })
    await settled(page)
    await stage(page, 'Pipes')
      .getByText(/reason/)
      .waitFor()
    await find(page, 'fault hot')
    expect(await found(page).first().textContent()).toMatch(/^Hot side: .*fault, Pipes$/)
    await page.keyboard.press('Enter')
    await expect.poll(() => where(page)).toBe('pipes')
    await page.getByRole('region', { name: 'Why it cannot be made' }).waitFor()
  })

  test('works without a bay and in a small window', async () => {
    const { page, screenshot } = await openWindow({ size: { width: 1000, height: 700 }, dark: true })
    await page.getByRole('heading', { name: 'No bay is open' }).waitFor()
    await find(page, 'save')
    expect(await found(page).first().textContent()).toContain('needs an open bay')
    await screenshot('find-small')
  })
})
