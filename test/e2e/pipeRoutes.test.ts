import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import {
  changed,
  handle,
  hot,
  item,
  opened,
  panel,
  place,
  reasons,
  rested,
  stage,
  undoable,
  view,
} from './pipesStage.ts'

describe('routes', () => {
  const routes = (page: Page) => panel(page).getByRole('region', { name: 'Routes' })
  const find = (page: Page) => routes(page).getByRole('button', { name: 'Find routes', exact: true })
  const found = (page: Page) => routes(page).getByRole('list', { name: 'Routes for Hot side' })

  test('are found with their proofs, seen as ghosts, and adopted in one step: made and clear', async () => {
    const { page, screenshot } = await opened({ size: { width: 1600, height: 1000 } })
    await view(page, 'side')
    await find(page).click()
    await found(page).waitFor({ timeout: 60_000 })
    const rows = found(page).getByRole('listitem')
    expect(await rows.count()).toBeGreaterThan(1)
    for (const text of await rows.allTextContents())
      expect(text).toMatch(
        /\d+ bends? · [\d.]+ mm.*to spare at .*Passes (in front of|behind|left of|right of|below|above) /,
      )
    expect(await routes(page).textContent()).toMatch(/cheap/)
    await routes(page).getByText('Proved beside it').click()
    expect(await routes(page).textContent()).toMatch(/no route is shorter than [\d.]+ mm/)
    // What is drawn while nothing is pointed at, and with a route as a ghost, by pointer and by keyboard.
    const box = await page.locator('.viewport-canvas').boundingBox()
    if (!box) throw new Error('the window has no drawing')
    const clip = { x: box.x + 20, y: box.y + 110, width: box.width - 40, height: box.height / 2 }
    const drawn = async () => (await page.screenshot({ clip })).toString('base64')
    await page.mouse.move(box.x + 5, box.y + box.height - 5)
    await page.waitForTimeout(2000)
    const plain = await drawn()
    const isPlain = async () => (await drawn()) === plain
    const other = rows.filter({ hasNotText: 'as it is now' }).last()
    await other.hover()
    await expect.poll(isPlain, { timeout: 10_000 }).toBe(false)
    await page.waitForTimeout(800)
    await screenshot('pipes-routes')
    await page.mouse.move(box.x + 5, box.y + box.height - 5)
    await expect.poll(isPlain, { timeout: 10_000 }).toBe(true)
    const adopt = other.getByRole('button', { name: /^Adopt/ })
    await adopt.focus()
    await expect.poll(isPlain, { timeout: 10_000 }).toBe(false)
    await adopt.press('Enter')
    await rested(page)
    expect(await found(page).getByText('as it is now').count()).toBe(1)
    expect(await routes(page).getAttribute('data-state')).toBe('fresh')
    const counts = page.getByRole('region', { name: 'Gap ledger' }).locator('.counts')
    expect(((await counts.textContent()) ?? '').replace(/\s+/g, ' ')).toMatch(/0 foul.*0 short.*0 unproved/)
    const bent = await reasons(page).allTextContents()
    expect(bent.filter((text) => /bender|bend and the next|radius/.test(text))).toEqual([])
    await page.keyboard.press('Control+z')
    await rested(page)
    expect(await place(handle(page, 2))).toEqual(hot.path[1])
    expect(await undoable(page)).toBe(false)
  })

  test('for all pipes, one after the other; ended, those found stay; another edit makes them old', async () => {
    const { page } = await opened()
    const all = routes(page).getByRole('button', { name: /^Routes for all pipes/ })
    await all.click()
    await routes(page)
      .getByText(/searching for Hot side, Cold side/)
      .waitFor()
    await routes(page).getByRole('button', { name: 'Cancel: keep the routes found so far' }).click()
    await all.waitFor({ timeout: 20_000 })
    expect(await routes(page).locator('.routes-outcome').textContent()).toMatch(/^Stopped|before it was stopped/)
    await all.click()
    await routes(page)
      .getByText(/Routed in this order: (Hot side, Cold side|Cold side, Hot side)\./)
      .waitFor({
        timeout: 90_000,
      })
    await routes(page).getByRole('button', { name: 'Adopt the best of each' }).click()
    await rested(page)
    expect(await found(page).getByText('as it is now').count()).toBe(1)
    expect(await stage(page, 'Gaps').textContent()).toMatch(/gaps clear/)
    await panel(page)
      .getByRole('radio', { name: /Cold side/ })
      .click()
    await rested(page)
    expect(await routes(page).getByText('as it is now').count()).toBe(1)
    await page.keyboard.press('Control+z')
    expect(await undoable(page)).toBe(false)
    await item(page, /^Tube/).click()
    const clearance = page.getByRole('textbox', { name: 'Clearance to parts' })
    await clearance.fill('7')
    await clearance.press('Enter')
    await expect.poll(() => routes(page).getAttribute('data-state')).toBe('outOfDate')
    expect(await routes(page).getByRole('button', { name: 'Adopt route 1' }).isDisabled()).toBe(true)
    await rested(page)
  })

  test('where a wall closes the way, that is told as proved, and by what', async () => {
    const bay = changed((whole) => {
      whole.keepOuts.push({
        id: 'wall',
        name: 'Wall without a hole',
        role: 'body',
        shape: { kind: 'box', at: [60, 0, 300], size: [8, 6000, 6000] },
      })
    })
    const { page } = await opened({ bay })
    await find(page).click()
    const outcome = routes(page).locator('.routes-outcome')
    await outcome.waitFor({ timeout: 60_000 })
    expect(await outcome.textContent()).toMatch(/^No tube of this diameter gets through .*proved.*Wall without a hole/)
    expect(await found(page).getByRole('listitem').count()).toBe(0)
  })
})
