import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { fresh, openWindow } from './harness.ts'

const drawer = /\/pictureWorker-[^/]*\.js$/

/** The window opened anew, with words of the test's own before those of the worker that draws. */
async function openWith(page: Page, words: string): Promise<void> {
  await page.route(drawer, async (route) => {
    const response = await route.fetch()
    await route.fulfill({ response, body: `${words}\n${await response.text()}` })
  })
  await page.reload()
}

/** Puts what can lose the graphics within reach of the test. */
const keepLoss = `
const context = OffscreenCanvas.prototype.getContext
OffscreenCanvas.prototype.getContext = function (...wanted) {
  const made = context.apply(this, wanted)
  self.loss ??= made?.getExtension?.('WEBGL_lose_context')
  return made
}`

/** In the worker that draws. */
async function call(page: Page, name: 'loseContext' | 'restoreContext'): Promise<void> {
  const worker = page.workers().find((each) => drawer.test(each.url()))
  await worker?.evaluate((what) => (self as unknown as { loss: WEBGL_lose_context }).loss[what](), name)
}

test('when the graphics are lost and come back, the drawing is the same as before', async () => {
  const { page } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await openWith(page, keepLoss)
  await page.locator(fresh).waitFor()
  const frame = await page.locator('.viewport-canvas').boundingBox()
  if (!frame) throw new Error('the window has no drawing')
  // The upper half of the large drawing: the small ones lie over its lower edge.
  const clip = { ...frame, y: frame.y + 60, height: frame.height / 2 }
  const drawing = async () => (await page.screenshot({ clip })).toString('base64')
  let before = ''
  // At rest: all of it is drawn, and two looks in a row are the same.
  const rests = async () => {
    await page.locator('.viewport-stand:not([data-busy])').waitFor()
    const former = before
    before = await drawing()
    return before === former
  }
  await expect.poll(rests, { interval: 500, timeout: 20_000 }).toBe(true)
  const trouble = page.getByRole('alert')
  await call(page, 'loseContext')
  await trouble.waitFor()
  expect(await trouble.textContent()).toMatch(/graphics/)
  expect(await drawing()).not.toBe(before)
  await call(page, 'restoreContext')
  await trouble.waitFor({ state: 'detached' })
  await expect.poll(async () => (await drawing()) === before, { interval: 500, timeout: 20_000 }).toBe(true)
})

test('where there are no graphics at all the window says so, and the gaps are there', async () => {
  const { page, errors } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await openWith(page, 'OffscreenCanvas.prototype.getContext = () => null')
  await page.locator(fresh).waitFor()
  expect(await page.getByRole('alert').textContent()).toMatch(/WebGL/)
  expect(await page.getByRole('region', { name: 'Gap ledger' }).getByRole('option').count()).toBeGreaterThan(5)
  // The library tells the console as well.
  expect(errors.filter((error) => !/WebGL context/.test(error))).toEqual([])
  errors.length = 0
})

test('a drawing whose program cannot be loaded is told in the same way', async () => {
  const { page, errors } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await page.route(drawer, (route) => route.abort())
  await page.reload()
  await page.locator(fresh).waitFor()
  expect(await page.getByRole('alert').textContent()).toMatch(/WebGL/)
  // The browser tells its console of what it could not load.
  expect(errors.filter((error) => !/Failed to load|ERR_FAILED/.test(error))).toEqual([])
  errors.length = 0
})
