import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { openWindow } from './harness.ts'
import { changed, settled, stage, undoable } from './pipesStage.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const panel = (page: Page) => page.getByRole('region', { name: 'Offering up to the seat' })
const search = (page: Page) => panel(page).getByRole('region', { name: 'A way in' })
const slider = (page: Page) => panel(page).getByRole('slider', { name: 'How far it is in' })
const moves = (page: Page) => panel(page).locator('.seat-move-words')
const own = (page: Page) => panel(page).locator('.seat-own')
const judged = (page: Page) => page.locator('.seat[data-state="fresh"]').waitFor()
const field = (page: Page, name: string) => panel(page).getByRole('textbox', { name, exact: true })

async function opened(more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, size: { width: 1600, height: 1000 }, ...more })
  await settled(window.page)
  await stage(window.page, 'Seat').click()
  await judged(window.page)
  return window
}

async function found(page: Page) {
  await search(page).getByRole('button', { name: 'Find a way in' }).click()
  await panel(page).locator('.seat-outcome').waitFor({ timeout: 60_000 })
}

describe('the Seat stage', () => {
  test('finds a way in, tells what is proved, plays it, and stops where it is tightest', async () => {
    const { page, screenshot } = await opened()
    expect(await stage(page, 'Seat').textContent()).toMatch(/not searched/)
    expect(await panel(page).textContent()).toMatch(/Comes off.*under-tray.*Stays.*beam/i)
    expect(await panel(page).locator('.seat-mount').allTextContents()).toHaveLength(4)
    await found(page)
    expect(await search(page).textContent()).toMatch(/Proved: it goes in with \d moves?, past all that stays/)
    expect(await stage(page, 'Seat').textContent()).toMatch(/proved, \d moves?, \d+\.\d mm/)
    expect((await moves(page).allTextContents()).join()).toMatch(/up \d+/)
    await screenshot('seat-found')
    const tightest = page.getByTestId('tightest-place')
    expect(await tightest.count()).toBe(0)
    await panel(page).getByRole('button', { name: 'Tightest place' }).click()
    await tightest.waitFor()
    expect(await tightest.textContent()).toMatch(/mm to spare.*on the way in/)
    await page.waitForTimeout(900)
    await screenshot('seat-tightest')
    // From there it plays on to the seat; played from the beginning it stops there by itself.
    await panel(page).getByRole('button', { name: 'Play in' }).click()
    await expect.poll(() => slider(page).getAttribute('aria-valuetext'), { timeout: 15_000 }).toBe('at its seat')
    await slider(page).focus()
    await page.keyboard.press('Home')
    expect(await slider(page).getAttribute('aria-valuetext')).toBe('before move 1')
    expect(await tightest.count()).toBe(0)
    await panel(page).getByRole('button', { name: 'Play in' }).click()
    await tightest.waitFor({ timeout: 15_000 })
    await slider(page).focus()
    await page.keyboard.press('ArrowLeft')
    expect(await slider(page).getAttribute('aria-valuetext')).toMatch(/^move 1, \d+ %$/)
    await panel(page).getByText('Outlines of what it sweeps over').click()
    await page.waitForTimeout(900)
    await screenshot('seat-swept')
    await panel(page).getByRole('radio', { name: 'Fewest moves' }).click()
    expect(await moves(page).count()).toBeLessThanOrEqual(2)
    await stage(page, 'Gaps').click()
    expect(await tightest.count()).toBe(0)
  })

  test('the drawing moves with the slider, and is as it was at the seat', async () => {
    const { page } = await opened()
    await found(page)
    const box = await page.locator('.viewport-canvas').boundingBox()
    if (!box) throw new Error('the window has no drawing')
    const clip = { x: box.x + 20, y: box.y + 110, width: box.width - 40, height: box.height / 2 }
    const drawn = async () => (await page.screenshot({ clip })).toString('base64')
    await slider(page).focus()
    await page.keyboard.press('Home')
    await page.keyboard.press('End')
    await page.waitForTimeout(2000)
    const seated = await drawn()
    await page.keyboard.press('ArrowLeft')
    await expect.poll(async () => (await drawn()) === seated, { timeout: 10_000 }).toBe(false)
    await page.keyboard.press('End')
    await expect.poll(async () => (await drawn()) === seated, { timeout: 10_000 }).toBe(true)
  })

  test('adopted moves are the candidate’s own: edited by number, judged at once, undone, saved', async () => {
    const { page, bayPath, screenshot } = await opened()
    await found(page)
    const before = await moves(page).allTextContents()
    await panel(page)
      .getByRole('button', { name: /^Adopt these moves/ })
      .click()
    await own(page).getByText('Proved on the whole motion').waitFor()
    expect(await moves(page).allTextContents()).toEqual(before)
    await panel(page).getByRole('button', { name: 'Edit move 1 by number' }).click()
    // Begun farther back it meets the lower rail on its way up: refuted, with the place.
    await field(page, 'Back (X)').fill('-40')
    await field(page, 'Back (X)').press('Enter')
    await own(page).getByText('Refuted').waitFor()
    expect(await panel(page).locator('.seat-least').textContent()).toMatch(/Least margin −.* of move 1: .*Lower rail/)
    expect(await stage(page, 'Seat').textContent()).toMatch(/refuted/)
    await screenshot('seat-refuted')
    await page.keyboard.press('Control+z')
    await own(page).getByText('Proved on the whole motion').waitFor()
    expect(await moves(page).allTextContents()).toEqual(before)
    // A turn about an edge of the core, by its pickers.
    await field(page, 'Turn').fill('2')
    await field(page, 'Turn').press('Enter')
    await panel(page).getByRole('button', { name: 'Turned as' }).click()
    await page.getByRole('option', { name: 'tilt (Y)' }).click()
    await panel(page).getByRole('button', { name: 'About its' }).click()
    await page.getByRole('option', { name: 'top rear edge' }).click()
    expect((await moves(page).allTextContents())[0]).toMatch(/^tilt 2° top rearward about .* while moving up/)
    await judged(page)
    await screenshot('seat-edited')
    // Added, in another order, taken out.
    await panel(page).getByRole('button', { name: 'Add a move before the first' }).click()
    expect(await moves(page).count()).toBe(before.length + 1)
    await panel(page).getByRole('button', { name: 'Move 1 one later' }).click()
    expect((await moves(page).allTextContents())[1]).toBe('up 20.0 mm')
    await panel(page).getByRole('button', { name: 'Take move 2 out' }).click()
    expect(await moves(page).count()).toBe(before.length)
    await judged(page)
    await page.keyboard.press('Control+s')
    await expect
      .poll(() => (JSON.parse(readFileSync(bayPath ?? '', 'utf8')) as Bay).candidates[0].offering?.moves.length)
      .toBe(before.length)
  })

  test('the way goes along when the candidate is moved, is judged anew, and what was found is out of date', async () => {
    const { page } = await opened()
    await found(page)
    await panel(page)
      .getByRole('button', { name: /^Adopt these moves/ })
      .click()
    await own(page).getByText('Proved on the whole motion').waitFor()
    // Adopting asks nothing new of the search.
    expect(await search(page).getAttribute('data-state')).toBe('fresh')
    await field(page, 'Wanted on the way').fill('40')
    await field(page, 'Wanted on the way').press('Enter')
    await expect.poll(() => search(page).getAttribute('data-state')).toBe('outOfDate')
    await judged(page)
    await field(page, 'Wanted on the way').fill('3')
    await field(page, 'Wanted on the way').press('Enter')
    await expect.poll(() => search(page).getAttribute('data-state')).toBe('fresh')
    await stage(page, 'Core').click()
    await page.getByRole('button', { name: /^Place/ }).click()
    const height = page.getByRole('textbox', { name: 'Z, up' })
    await height.fill('183')
    await height.press('Enter')
    await settled(page)
    await stage(page, 'Seat').click()
    await judged(page)
    expect(await search(page).getAttribute('data-state')).toBe('outOfDate')
    expect(await search(page).textContent()).toMatch(/Out of date: the bay has changed since/)
    expect(await panel(page).getByRole('alert').count()).toBe(0)
    expect(await undoable(page)).toBe(true)
  })

  test('a candidate that does not clear at its seat is told first, with the pair', async () => {
    const { page } = await opened()
    await page.getByRole('radio', { name: /Deep/ }).click()
    await judged(page)
    await found(page)
    expect(await search(page).textContent()).toMatch(
      /does not clear at its seat: tank left to .*beam.*, margin −7\.67 mm/,
    )
    expect(await stage(page, 'Seat').textContent()).toMatch(/not clear at its seat/)
  })

  test('a mount that does not go on is told with what to better', async () => {
    const bay = changed((whole) => {
      for (const fixing of whole.fixings ?? []) fixing.uncertainty = 2
    })
    const { page } = await opened({ bay })
    const mounts = panel(page).getByRole('region', { name: 'Mounts' })
    expect(await mounts.textContent()).toMatch(/root-sum-square only|does not go on/)
    expect(await mounts.textContent()).toMatch(/To better first: where .* is measured to be, from ±2\.00 mm to ±/)
  })

  test('narrow, dark and without motion: all there, and each press goes to the next stop', async () => {
    const { page, screenshot } = await opened({ dark: true, size: { width: 1000, height: 820 } })
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await found(page)
    await panel(page).getByRole('button', { name: 'Play in' }).press('Enter')
    expect(await slider(page).getAttribute('aria-valuetext')).toBe('before move 1')
    await panel(page).getByRole('button', { name: 'Play in' }).press('Enter')
    await page.getByTestId('tightest-place').waitFor()
    await page.waitForTimeout(600)
    await screenshot('seat-narrow-dark')
    const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)
    expect(wide).toBe(false)
  })
})
