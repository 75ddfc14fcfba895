import { describe, expect, test } from 'vitest'
import { wrongOn } from './axe.ts'
import { openWindow } from './harness.ts'
import { settled, stage } from './pipesStage.ts'

const stages = ['Measure', 'Core', 'Gaps', 'Pipes', 'Seat', 'Sheets']

describe('what axe-core says of the window', () => {
  for (const dark of [false, true])
    test(`nothing against it on any stage, ${dark ? 'dark' : 'light'}`, async () => {
      const { page } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json', dark })
      await settled(page)
      expect(await page.locator('html').getAttribute('data-theme')).toBe(dark ? 'dark' : 'light')
      for (const name of stages) {
        await stage(page, name).click()
        await page.waitForTimeout(800)
        expect(await wrongOn(page), name).toEqual([])
      }
      // A gap chosen, an editor open, the help.
      await stage(page, 'Gaps').click()
      await page.getByRole('option').first().click()
      await page.waitForTimeout(500)
      expect(await wrongOn(page), 'a gap chosen').toEqual([])
      await page.keyboard.press('F1')
      await page.getByRole('dialog').waitFor()
      expect(await wrongOn(page), 'help').toEqual([])
    })

  test('nothing against the empty paper', async () => {
    const { page } = await openWindow()
    await page.getByRole('button').first().waitFor()
    expect(await wrongOn(page)).toEqual([])
  })
})
