import { expect, test } from 'vitest'
import { openWindow } from './harness.ts'
import { settled, stage } from './pipesStage.ts'

test('an edit leaves a way in that was found out of date, said in the stage bar; a press searches anew', async () => {
  const { page, screenshot } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await settled(page)
  await stage(page, 'Seat').click()
  await page.getByRole('button', { name: 'Find a way in' }).click()
  await stage(page, 'Seat')
    .getByText(/proved/)
    .waitFor({ timeout: 60_000 })
  const again = page.getByRole('button', { name: 'Bring it up to date' })
  expect(await again.count()).toBe(0)
  await stage(page, 'Core').click()
  await page.locator('.side-sheet').getByRole('button', { name: /^Core/ }).click()
  const depth = page.getByRole('textbox', { name: 'Depth', exact: true })
  await depth.fill('76')
  await depth.press('Enter')
  await stage(page, 'Seat').getByText('out of date').waitFor()
  await screenshot('out-of-date')
  // The other answers follow by themselves.
  await expect.poll(() => stage(page, 'Core').textContent(), { timeout: 30_000 }).toMatch(/10\.7 L, \d+ % of largest/)
  expect(await again.count()).toBe(1)
  await again.focus()
  await page.keyboard.press('Enter')
  await stage(page, 'Seat')
    .getByText(/proved/)
    .waitFor({ timeout: 60_000 })
  expect(await again.count()).toBe(0)
})
