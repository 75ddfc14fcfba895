import { expect, test } from 'vitest'
import { fresh, openWindow } from './harness.ts'

test('when the graphics are lost and come back, the drawing is the same as before', async () => {
  const { page } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await page.locator(fresh).waitFor()
  const canvas = page.locator('canvas').first()
  const frame = await canvas.boundingBox()
  if (!frame) throw new Error('the window has no drawing')
  // The upper half of the large drawing: the small ones lie over its lower edge.
  const clip = { ...frame, y: frame.y + 60, height: frame.height / 2 }
  const drawing = async () => (await page.screenshot({ clip })).toString('base64')
  let before = ''
  // At rest: two looks in a row are the same.
  const rests = async () => {
    const former = before
    before = await drawing()
    return before === former
  }
  await expect.poll(rests, { interval: 500, timeout: 20_000 }).toBe(true)
  const lost = await canvas.evaluate(async (element) => {
    const context = (element as HTMLCanvasElement).getContext('webgl2')
    const loss = context?.getExtension('WEBGL_lose_context')
    loss?.loseContext()
    await new Promise((done) => setTimeout(done, 100))
    const wasLost = context?.isContextLost()
    loss?.restoreContext()
    return wasLost
  })
  expect(lost).toBe(true)
  await expect.poll(async () => (await drawing()) === before, { interval: 500, timeout: 20_000 }).toBe(true)
})
