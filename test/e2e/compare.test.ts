import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { openWindow } from './harness.ts'
import { settled } from './pipesStage.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const dialog = (page: Page) => page.getByRole('dialog', { name: 'Candidates side by side' })
const computed = (page: Page) => dialog(page).getByText('all computed').waitFor({ timeout: 60_000 })
const row = (page: Page, name: RegExp) => dialog(page).getByRole('row', { name })
const cells = async (page: Page, name: RegExp) => row(page, name).getByRole('gridcell').allTextContents()

async function opened(more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, ...more })
  await settled(window.page)
  await window.page.keyboard.press('v')
  await dialog(window.page).waitFor()
  return window
}

describe('candidates side by side', () => {
  test('all that they differ in, with the best of each row', async () => {
    const { page, screenshot } = await opened()
    expect(await dialog(page).getByRole('columnheader').allTextContents()).toEqual([
      'Figure',
      'Wide 90 (shown)',
      'Deep 102',
      'Tall 90',
      'Standard part',
    ])
    await computed(page)
    await screenshot('compare')
    // As the example bay says them.
    expect(await cells(page, /Core depth/)).toEqual(['90 mm', '102 mm', '90 mm', '65 mm'])
    expect(await cells(page, /Core volume/)).toEqual(['12.6 L', '14.3 L ★, best', '14.1 L', '5.38 L'])
    const verdicts = (await cells(page, /^≠?\s*Verdict/)).map((text) => text.replace(/^\W+/, ''))
    expect(verdicts).toEqual(['clears', 'short', 'fouls', 'clears'])
    const shares = await cells(page, /Share of its largest/)
    for (const share of shares) expect(share).toMatch(/^\d+ %, proved/)
    expect((await cells(page, /Tightest gap 1/))[0]).toMatch(/0\.4 mm Crash beam to tank/)
    expect(
      await row(page, /Core depth/)
        .getByRole('rowheader')
        .textContent(),
    ).toContain('differs')
  })

  test('columns are chosen, never fewer than two, and go to a spreadsheet', async () => {
    const { page } = await opened()
    await computed(page)
    await dialog(page).getByText('Tall 90').first().click()
    await dialog(page).getByRole('checkbox', { name: 'Deep 102' }).focus()
    await page.keyboard.press('Space')
    expect(await dialog(page).getByRole('columnheader').allTextContents()).toEqual([
      'Figure',
      'Wide 90 (shown)',
      'Standard part',
    ])
    expect(await dialog(page).getByRole('checkbox', { name: 'Wide 90' }).isDisabled()).toBe(true)
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write'])
    await dialog(page).getByRole('button', { name: 'Copy for a spreadsheet' }).click()
    await dialog(page).getByRole('button', { name: 'Copied' }).waitFor()
    const lines = (await page.evaluate(() => navigator.clipboard.readText())).split('\n')
    expect(lines[0]).toBe('Figure\tWide 90\tStandard part')
    expect(lines).toContain('Core volume\t12.6 L\t5.38 L')
  })

  test('one is laid over the other in the drawing, and taken off again', async () => {
    const { page, screenshot } = await opened()
    await dialog(page).getByRole('radio', { name: 'Lay outlines of Deep 102 over the drawing' }).click()
    await dialog(page).getByRole('button', { name: 'Close' }).click()
    await page.getByText('Dashed: Deep 102').waitFor()
    await page.waitForTimeout(900)
    await screenshot('compare-overlaid')
    const canvas = page.locator('.viewport-canvas')
    const box = await canvas.boundingBox()
    if (!box) throw new Error('the window has no drawing')
    const clip = { x: box.x + 20, y: box.y + 150, width: box.width - 40, height: box.height / 2 }
    const drawn = async () => (await page.screenshot({ clip })).toString('base64')
    const overlaid = await drawn()
    await page.getByRole('button', { name: 'Take the outlines off' }).click()
    await expect.poll(drawn).not.toBe(overlaid)
    expect(await page.getByText('Dashed:').count()).toBe(0)
  })

  test('in a small window, by its button, on dark paper', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck, size: { width: 1000, height: 700 } })
    await settled(page)
    await page.keyboard.press('d')
    await page.getByRole('button', { name: 'Compare candidates' }).click()
    await computed(page)
    await screenshot('compare-small-dark')
    const box = await dialog(page).boundingBox()
    expect(box!.y).toBeGreaterThanOrEqual(0)
    expect(box!.y + box!.height).toBeLessThanOrEqual(700)
  })
})
