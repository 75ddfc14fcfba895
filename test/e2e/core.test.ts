import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, onTestFinished, test } from 'vitest'
import { root } from '../../bin/build.mjs'
import { writeSlowBay } from '../kit/slowBay.ts'
import { fresh, openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

const [example] = JSON.parse(readFileSync(join(root, tarnbeck), 'utf8')).candidates
const stock: readonly number[] = example.limits.depth.stock

const settled = (page: Page) => page.locator(fresh).waitFor()
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

function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-core-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** The example with wide limits, so that keep-outs hold the core and not the shop's sizes. */
function wideLimits(): string {
  const folder = temporaryFolder()
  cpSync(dirname(join(root, tarnbeck)), folder, { recursive: true })
  const path = join(folder, 'tarnbeck.bay.json')
  const bay = JSON.parse(readFileSync(path, 'utf8'))
  bay.candidates[0].limits = {
    depth: { min: 40, max: 200 },
    width: { min: 300, max: 640 },
    height: { min: 100, max: 420 },
    centre: { min: [-110, -30, 100], max: [0, 30, 300] },
  }
  writeFileSync(path, JSON.stringify(bay))
  return path
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
  // Shown to hundredths: the value rounded down, the bound rounded up.
  expect(bound).toBeLessThanOrEqual((value + 0.01) * 1.001 + 0.01)
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
  await stage(page, 'Core').click()
  await found(page)
  await panel(page).getByRole('button', { name: 'Table over stock depths' }).click()
  const table = panel(page).getByRole('table')
  await table.waitFor({ timeout: 60_000 })
  const rows = table.locator('tbody tr')
  expect(await rows.count()).toBe(stock.length)
  expect(await rows.locator('th').allTextContents()).toEqual(stock.map(String))
  await page.waitForTimeout(1200)
  await screenshot('core-dark')
  await table.getByRole('button', { name: `Adopt ${stock[1]} deep as a new candidate` }).click()
  await candidate(page, new RegExp(`^Largest ${stock[1]} deep`)).waitFor()
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
  // Corners of pipes follow their ports, but need not clear there; all else clears.
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

test('what holds the core lights up in the drawing; parts that must stay are never told to give way', async () => {
  const { page, screenshot } = await opened({ bay: wideLimits() })
  await stage(page, 'Core').click()
  const holds = panel(page).getByRole('list', { name: 'What holds it' }).getByRole('button')
  await expect.poll(() => holds.count(), { timeout: 30_000 }).toBeGreaterThan(1)
  const texts = await holds.allTextContents()
  // Tow eye, crash beam: the bay's safety parts.
  for (const text of texts.filter((each) => /^(Tow-eye|Crash)/.test(each))) expect(text).toMatch(/measured 1 mm surer/)
  for (const text of texts.filter((each) => /^(Radiator|Lower rail)/.test(each))) expect(text).toMatch(/\+1 mm here/)
  // The middle of the large drawing: buttons and small drawings lie over its edges.
  const box = await page.locator('.viewport-canvas').boundingBox()
  if (!box) throw new Error('the window has no drawing')
  const clip = { x: box.x + 20, y: box.y + 110, width: box.width - 40, height: box.height / 2 }
  const dressed = async () => (await page.screenshot({ clip })).toString('base64')
  await page.waitForTimeout(2500)
  const plain = await dressed()
  const isPlain = async () => (await dressed()) === plain
  const hold = holds
    .filter({ hasText: /surer|here/ })
    .filter({ hasNotText: /^Limit/ })
    .first()
  await hold.focus()
  await expect.poll(isPlain, { timeout: 10_000 }).toBe(false)
  await hold.press('Enter')
  expect(await hold.getAttribute('aria-pressed')).toBe('true')
  await page.waitForTimeout(1500)
  await screenshot('core-holds')
  await hold.press('Enter')
  await stage(page, 'Core').focus()
  await expect.poll(isPlain, { timeout: 10_000 }).toBe(true)
})

test('a long search shows how it closes in; ended, it keeps the best with its bound', async () => {
  const { page, screenshot } = await opened({ bay: await writeSlowBay(temporaryFolder()) })
  await stage(page, 'Core').click()
  const cancel = panel(page).getByRole('button', { name: 'Cancel: keep the best so far with its bound' })
  await cancel.waitFor({ timeout: 30_000 })
  expect(await panel(page).textContent()).toMatch(/working/)
  await panel(page)
    .getByText(/^[\d.]+ L so far, at most [\d.]+ L$/)
    .waitFor({ timeout: 30_000 })
  const chart = panel(page).getByRole('img', { name: /^Closing in: [\d.]+ L found, at most [\d.]+ L, after [\d.]+ s/ })
  await chart.waitFor({ timeout: 30_000 })
  await page.waitForTimeout(1500)
  await screenshot('core-working')
  // The ledger answers all the while.
  await part(page, /^Place/).click()
  const x = page.getByRole('textbox', { name: 'X, rearward' })
  await x.fill('5')
  await x.press('Enter')
  await settled(page)
  await cancel.waitFor({ timeout: 30_000 })
  await chart.waitFor({ timeout: 30_000 })
  await cancel.click()
  await expect.poll(() => panel(page).textContent(), { timeout: 10_000 }).toMatch(/[\d.]+ L.*stopped; at most [\d.]+ L/)
  expect(await panel(page).getAttribute('data-state')).toBe('fresh')
  await screenshot('core-cancelled')
  await panel(page).getByRole('button', { name: 'Search on' }).click()
  await cancel.waitFor({ timeout: 30_000 })
})

test('narrow: the panel stands beside the drawing, and nothing sticks out', async () => {
  const { page, screenshot } = await opened({ size: { width: 900, height: 700 } })
  await stage(page, 'Core').click()
  await found(page)
  await page.waitForTimeout(800)
  await screenshot('core-narrow')
  for (const width of [1440, 1100, 900, 760]) {
    await page.setViewportSize({ width, height: 700 })
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
  }
})

test('the largest that can be offered up: asked for, ended or finished, and adopted with its moves', async () => {
  const { page, screenshot } = await opened()
  await stage(page, 'Core').click()
  await found(page)
  const part = page.getByRole('region', { name: 'Largest that can be offered up' })
  await part.getByRole('button', { name: 'Find the largest that comes in' }).click()
  await part.getByRole('button', { name: 'Cancel: keep the largest that comes in so far' }).waitFor()
  await page.locator('.seated[data-state="fresh"] .largest-value').waitFor({ timeout: 120_000 })
  await part.scrollIntoViewIfNeeded()
  await screenshot('core-seated')
  const said = (await part.textContent()) ?? ''
  const inHand = litresIn(said)
  // What comes in clears at its seat, so it is no larger than the largest there, and no bound lies below it.
  const atSeat = litresIn(await page.locator('.largest-answer .largest-value').textContent())
  expect(inHand).toBeLessThanOrEqual(atSeat)
  for (const [, bound] of said.matchAll(/at most ([\d.]+) L/g)) expect(Number(bound)).toBeGreaterThanOrEqual(inHand)
  expect(said).toMatch(/Comes in with \d+ moves?, least margin .*: proved\./)
  await part.getByRole('button', { name: 'Adopt with its moves as a new candidate' }).click()
  await candidate(page, /^Comes in, \d+ deep/).waitFor()
  // The ledger and the proof of the motion are made anew, by other code than the search's own.
  await expect.poll(() => stage(page, 'Gaps').textContent(), { timeout: 20_000 }).toMatch(/clear/)
  await expect.poll(() => stage(page, 'Seat').textContent(), { timeout: 30_000 }).toMatch(/proved, \d+ move/)
}, 180_000)
