import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { writeBigBay } from '../kit/bigBay.ts'
import { fresh, openWindow } from './harness.ts'

test('300 keep-outs and three million triangles: opened with progress, turned from a lighter copy, gaps of the full meshes', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-big-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  const path = writeBigBay(join(folder, 'big'))
  const { page, screenshot } = await openWindow({ bay: path })
  await page.getByRole('progressbar').first().waitFor()
  await page.locator('.viewport-stand:not([data-busy])').waitFor({ timeout: 60_000 })
  await page.locator('.viewport-canvas').screenshot({ timeout: 60_000 })
  await page.locator(fresh).waitFor({ timeout: 60_000 })
  await expect.poll(() => page.locator('.drawn-note').textContent(), { timeout: 60_000 }).toMatch(/lighter copy/)
  expect(await page.locator('.counts').textContent()).toMatch(/300\s*clear/)
  const stand = page.getByRole('application')
  await stand.focus()
  const turned = page.locator('.viewport-canvas')
  const before = await turned.screenshot({ timeout: 60_000 })
  for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowLeft')
  await expect
    .poll(async () => (await turned.screenshot({ timeout: 60_000 })).equals(before), { timeout: 60_000 })
    .toBe(false)
  await page.waitForTimeout(1500)
  await screenshot('seeing-big')
}, 170_000)
