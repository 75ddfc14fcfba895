import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

const settled = (page: Page) => page.locator('.window[data-state="fresh"]').waitFor()
const stage = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name })
const panel = (page: Page) => page.getByRole('region', { name: 'Largest core that clears' })
const found = (page: Page) => page.locator('.largest[data-state="fresh"] .largest-value').waitFor()
const candidate = (page: Page, name: RegExp) => page.getByRole('radio', { name })
const part = (page: Page, name: RegExp) =>
  page.getByRole('region', { name: 'Parts of the candidate' }).getByRole('button', { name })
const counts = async (page: Page) =>
  ((await page.getByRole('region', { name: 'Gap ledger' }).locator('.counts').textContent()) ?? '').replace(/\s+/g, ' ')
const litresIn = (text: string | null) => Number(/([\d.]+) L/.exec(text ?? '')?.[1])

async function opened(more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, ...more })
  await settled(window.page)
  return window
}

test('the largest core comes by itself with its proof; the stage tells the share; holds light up', async () => {
  const { page, screenshot } = await opened()
  await expect.poll(() => stage(page, 'Core').textContent(), { timeout: 20_000 }).toMatch(/12\.6 L, \d\d % of largest/)
  await stage(page, 'Core').click()
  await found(page)
  const text = (await panel(page).textContent()) ?? ''
  expect(text).toMatch(/[\d.]+ L.*at most [\d.]+ L, proved within 0\.1 %/)
  const [value, bound] = [...text.matchAll(/([\d.]+) L/g)].map(([, litres]) => Number(litres))
  expect(bound).toBeGreaterThanOrEqual(value)
  expect(bound).toBeLessThanOrEqual(value * 1.0011 + 0.01)
  const holds = panel(page).getByRole('list', { name: 'What holds it' }).getByRole('button')
  await expect.poll(() => holds.count(), { timeout: 20_000 }).toBeGreaterThan(0)
  expect(await holds.first().textContent()).toMatch(/buys/)
  await page.waitForTimeout(1200)
  await screenshot('core-wide')
})

test('an edit of a limit is followed; what contradicts is said beside; undo brings the former answer', async () => {
  const { page } = await opened()
  await stage(page, 'Core').click()
  await found(page)
  const before = litresIn(await panel(page).textContent())
  await part(page, /^Limits/).click()
  const most = page.getByRole('textbox', { name: 'Width at most' })
  await most.fill('450')
  await most.press('Enter')
  await expect.poll(async () => litresIn(await panel(page).textContent()), { timeout: 20_000 }).toBeLessThan(before)
  await found(page)
  const offset = page.getByRole('textbox', { name: 'Height at most' })
  await offset.fill('150')
  await offset.press('Enter')
  await expect.poll(() => panel(page).getByRole('alert').count(), { timeout: 20_000 }).toBe(1)
  expect(await panel(page).getByRole('alert').textContent()).toMatch(/limits\.height: the limits leave no size/)
  await page.keyboard.press('Control+z')
  await page.keyboard.press('Control+z')
  await found(page)
  await expect.poll(async () => litresIn(await panel(page).textContent()), { timeout: 20_000 }).toBe(before)
})

test('adopting adds a candidate whose gaps clear, as one step; undo takes it out', async () => {
  const { page, screenshot } = await opened()
  await stage(page, 'Core').click()
  await found(page)
  await panel(page).getByRole('button', { name: 'Adopt as a new candidate' }).click()
  await candidate(page, /^Largest \d+ deep/).waitFor()
  await settled(page)
  expect(await candidate(page, /^Largest/).getAttribute('aria-checked')).toBe('true')
  // Its pipes have no path yet: that, and nothing else, keeps it from clearing.
  expect(await counts(page)).toMatch(/0 foul.* 0 short.* 0 unproved/)
  expect(await page.getByRole('region', { name: 'Gap ledger' }).textContent()).toMatch(/Not routed/)
  await expect.poll(() => stage(page, 'Core').textContent(), { timeout: 20_000 }).toMatch(/(100|99) % of largest/)
  await screenshot('core-adopted')
  await page.keyboard.press('Control+z')
  await expect.poll(() => candidate(page, /^Largest/).count()).toBe(0)
  await page.keyboard.press('Control+Shift+Z')
  await candidate(page, /^Largest/).waitFor()
})

test('the table over stock depths, and one of its rows adopted', async () => {
  const { page, screenshot } = await opened({ dark: true })
  await page.keyboard.press('d')
  await stage(page, 'Core').click()
  await found(page)
  await panel(page).getByRole('button', { name: 'Table over stock depths' }).click()
  const table = panel(page).getByRole('table')
  await table.waitFor({ timeout: 60_000 })
  const rows = table.locator('tbody tr')
  expect(await rows.count()).toBe(4)
  expect(await rows.locator('th').allTextContents()).toEqual(['65', '76', '90', '102'])
  await page.waitForTimeout(1200)
  await screenshot('core-dark')
  await table.getByRole('button', { name: 'Adopt 76 deep as a new candidate' }).click()
  await candidate(page, /^Largest 76 deep/).waitFor()
  await expect.poll(() => panel(page).textContent()).toMatch(/out of date/)
})

test('the best place clears a candidate that fouled, as one step', async () => {
  const { page, screenshot } = await opened()
  await candidate(page, /^Tall/).click()
  await expect.poll(() => counts(page)).toMatch(/[1-9]\d* foul/)
  await stage(page, 'Core').click()
  await part(page, /^Place/).click()
  const best = page.getByRole('region', { name: 'Best place' })
  await best.getByRole('button', { name: 'Best place' }).click()
  await best.getByText(/Clears with [\d.]+ mm to spare/).waitFor({ timeout: 30_000 })
  await page.waitForTimeout(800)
  await screenshot('core-best-place')
  const tall = await counts(page)
  await best.getByRole('button', { name: 'Move there' }).click()
  await settled(page)
  // The pipes keep their corners; all else clears.
  const bad = () => page.getByRole('option', { name: /(core|tank|stub).*, (fouls|short|unproved)/ }).count()
  await expect.poll(bad).toBe(0)
  expect(await counts(page)).not.toBe(tall)
  await page.keyboard.press('Control+z')
  await expect.poll(() => counts(page)).toBe(tall)
})

test('a gap that does not clear offers the least moves, each as one step', async () => {
  const { page, screenshot } = await opened()
  await candidate(page, /^Tall/).click()
  await expect.poll(() => counts(page)).toMatch(/[1-9]\d* foul/)
  await settled(page)
  const row = page.getByRole('option', { name: /(core|tank).*fouls/ }).first()
  const name = (await row.getAttribute('aria-label')) ?? ''
  await row.click()
  const moves = page.getByRole('region', { name: 'Least move that clears this gap' })
  await moves.waitFor({ timeout: 30_000 })
  await page.waitForTimeout(800)
  await screenshot('core-moves')
  await moves.getByRole('button').first().click()
  await settled(page)
  const pair = name.slice(0, name.indexOf(','))
  await expect.poll(() => page.getByRole('region', { name: 'Chosen gap' }).textContent()).toMatch(`${pair}: clears`)
  await page.keyboard.press('Control+z')
  await expect.poll(() => page.getByRole('region', { name: 'Chosen gap' }).textContent()).toMatch(`${pair}: fouls`)
})
