import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { openWindow } from './harness.ts'
import { settled, stage } from './pipesStage.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const note = (page: Page) => page.locator('.tour')
const title = (page: Page) => note(page).getByRole('heading').textContent()
const where = (page: Page) => page.locator('.window').getAttribute('data-stage')

describe('the first start', () => {
  test('shows an example and a way round in four steps, by keyboard', async () => {
    const { page, screenshot } = await openWindow()
    const example = page.getByRole('button', { name: /^Corvane HC/ })
    await example.waitFor()
    await screenshot('first-start')
    await example.focus()
    await page.keyboard.press('Enter')
    await note(page).waitFor({ timeout: 30_000 })
    const seen: [string | null, string | null][] = []
    for (let i = 0; i < 4; i++) {
      await page.getByText(`Way round the window, ${i + 1} of 4`).waitFor()
      await screenshot(`tour-${i + 1}`)
      seen.push([await where(page), await title(page)])
      // What it tells of is marked, and in sight.
      expect(await page.locator('[data-toured]').count()).toBe(1)
      await page.keyboard.press('Enter')
    }
    await note(page).waitFor({ state: 'detached' })
    expect(seen.map(([at]) => at)).toEqual(['measure', 'core', 'gaps', 'gaps'])
    expect(seen.map(([, said]) => said?.split(':')[0])).toEqual(['Measure', 'Core', 'Gaps', 'Hand over'])
    expect(await page.locator('[data-toured]').count()).toBe(0)
  })

  test('is left at any step, and comes back only when it is asked for', async () => {
    const { page } = await openWindow()
    await page.getByRole('button', { name: /^Tarnbeck 300/ }).click()
    await note(page).waitFor({ timeout: 30_000 })
    // The example came with its mesh: the ledger is whole.
    await settled(page)
    expect(await stage(page, 'Gaps').textContent()).toMatch(/\d+ gaps clear/)
    await page.keyboard.press('Enter')
    await page.getByText('2 of 4').waitFor()
    await page.keyboard.press('Escape')
    await note(page).waitFor({ state: 'detached' })
    await page.reload()
    await page.getByRole('button', { name: /^Corvane HC/ }).click()
    await settled(page)
    await page.waitForTimeout(500)
    expect(await note(page).count()).toBe(0)
    await page.keyboard.press('Shift+F1')
    await page.getByText('1 of 4').waitFor()
    await note(page).getByRole('button', { name: 'Leave' }).click()
    await note(page).waitFor({ state: 'detached' })
  })
})

describe('numbers explain themselves', () => {
  test('on focus, for a screen reader too; rows of the ledger by arrow keys', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await settled(page)
    const line = page.getByTestId('explains')
    await page.getByRole('option').first().click()
    await line.getByText(/^Gap: the shortest distance.*Rounded down/).waitFor()
    const margin = page.getByRole('note').filter({ hasText: '0.47 mm' })
    await margin.focus()
    await line.getByText(/^Margin: what is left.*taken off already\.$/).waitFor()
    const described = await margin.getAttribute('aria-describedby')
    expect(await page.locator(`[id="${described}"]`).textContent()).toBe(await line.textContent())
    await page.keyboard.press('Tab')
    await line.getByText(/^Tolerance:/).waitFor()
    await page.keyboard.press('Escape')
    await line.waitFor({ state: 'detached' })
    await stage(page, 'Measure').click()
    await page
      .getByRole('region', { name: 'Keep-outs' })
      .getByRole('button', { name: /Crash beam/ })
      .focus()
    await line.getByText(/^The clearance that the keep-out asks for, ±.*common practice, no source/).waitFor()
  })

  test('every number of a stage that is explained is reached by Tab', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await page.getByRole('option').first().click()
    for (const name of ['Core', 'Pipes', 'Gaps']) {
      await stage(page, name).click()
      await page.locator(`.window[data-stage="${name.toLowerCase()}"]`).waitFor()
      if (name === 'Core') await page.locator('.largest .explained').first().waitFor({ timeout: 30_000 })
      if (name === 'Pipes') await page.locator('.pipes .explained').first().waitFor({ timeout: 30_000 })
      const wanted = await page.locator('.explained:visible').count()
      expect(wanted).toBeGreaterThan(2)
      const reached = new Set<number>()
      for (let i = 0; i < 150 && reached.size < wanted; i++) {
        await page.keyboard.press('Tab')
        const at = await page.evaluate(() =>
          [...document.querySelectorAll('.explained')].indexOf(document.activeElement as Element),
        )
        if (at >= 0) reached.add(at)
      }
      expect([name, reached.size]).toEqual([name, wanted])
    }
  })
})
