import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { PNG } from 'pngjs'
import { describe, expect, test } from 'vitest'
import { root } from '../../bin/build.mjs'
import { unlike } from '../kit/goldenPicture.ts'
import { fresh, openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

const settled = (page: Page) => page.locator(fresh).waitFor()
const rows = (page: Page) => page.getByRole('region', { name: 'Gap ledger' }).getByRole('option')
const counts = (page: Page) => page.locator('.counts').textContent()
const drawn = (page: Page) => page.getByRole('button', { name: 'What is drawn' })
/** The large drawing at rest, as pixels. */
async function picture(page: Page): Promise<Buffer> {
  await page.waitForTimeout(900)
  return page.locator('.viewport-canvas').screenshot()
}

/** What the three small drawings show. */
async function small(page: Page): Promise<PNG[]> {
  const urls = await page
    .locator('.small-drawing canvas')
    .evaluateAll((all) => all.map((each) => (each as HTMLCanvasElement).toDataURL()))
  return urls.map((url) => PNG.sync.read(Buffer.from(url.split(',')[1], 'base64')))
}

/** They are made some time after the large drawing has come to rest. */
async function smallAtRest(page: Page): Promise<PNG[]> {
  let before: PNG[] = []
  for (;;) {
    const now = await small(page)
    if (now.length === before.length && now.every(({ data }, i) => data.equals(before[i].data))) return now
    before = now
    await page.waitForTimeout(1500)
  }
}

/** Waits until so many of the small drawings are others than before. */
const changedSmall = (page: Page, before: readonly PNG[], count: number) =>
  expect
    .poll(async () => (await small(page)).filter((now, i) => unlike(before[i], now) !== null).length, {
      timeout: 10_000,
    })
    .toBe(count)

describe('seeing', () => {
  test('keep-outs are ghosted and hidden by role, or by how near they are; the ledger stays as it is', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    const [before, all, smallAll] = [await counts(page), await picture(page), await smallAtRest(page)]
    expect(smallAll).toHaveLength(3)
    await drawn(page).click()
    const panel = page.getByRole('dialog', { name: 'What is drawn' })
    const body = panel.getByRole('radiogroup', { name: 'Keep-outs of the role body' })
    await body.getByRole('radio', { name: 'hidden' }).click()
    await screenshot('seeing-panel')
    await page.keyboard.press('Escape')
    await expect.poll(() => page.locator('.drawn-note').textContent()).toMatch(/^\d+ keep-outs? (is|are) not drawn/)
    const without = await picture(page)
    expect(without.equals(all)).toBe(false)
    await changedSmall(page, smallAll, 3)
    expect(await counts(page)).toBe(before)
    await drawn(page).click()
    await panel.getByRole('button', { name: 'All drawn' }).click()
    await panel.getByRole('checkbox', { name: /near the candidate/ }).click({ force: true })
    await panel.getByRole('textbox', { name: 'Within' }).fill('1 1/2"')
    await page.keyboard.press('Enter')
    expect(await panel.getByRole('textbox', { name: 'Within' }).inputValue()).toBe('38.1')
    await page.keyboard.press('Escape')
    const near = Number(/^\d+/.exec((await page.locator('.drawn-note').textContent()) ?? '')?.[0])
    expect(near).toBeGreaterThan(3)
    expect(await counts(page)).toBe(before)
    // The key does what the switch does.
    await page.keyboard.press('n')
    expect(await page.locator('.drawn-note').count()).toBe(0)
    await changedSmall(page, smallAll, 0)
  })

  test('a cut goes through the chosen gap, is moved by slider and keys, turned over and taken away', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await rows(page).first().click()
    const [whole, smallWhole] = [await picture(page), await smallAtRest(page)]
    await page.keyboard.press('c')
    const bar = page.getByRole('region', { name: 'Cut through a gap' })
    await bar.waitFor()
    const cut = await picture(page)
    expect(cut.equals(whole)).toBe(false)
    await changedSmall(page, smallWhole, 3)
    expect(await page.locator('[data-testid="chosen-gap"]').count()).toBe(1)
    await screenshot('seeing-cut')
    const slider = bar.getByRole('slider')
    expect(await slider.getAttribute('aria-valuetext')).toBe('through the gap')
    await slider.focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press(']')
    await page.keyboard.press('[')
    await page.keyboard.press(']')
    expect(await slider.getAttribute('aria-valuetext')).toBe('2.0 mm from the gap')
    await page.keyboard.press('x')
    const other = await picture(page)
    expect(other.equals(cut)).toBe(false)
    await bar.getByRole('button', { name: /other side/ }).click()
    expect((await picture(page)).equals(other)).toBe(false)
    for (const way of ['x', 'y', 'z']) {
      await bar.getByRole('combobox').selectOption(way)
      await page.waitForTimeout(400)
      await screenshot(`seeing-cut-${way}`)
    }
    await page.keyboard.press('Shift+X')
    await expect.poll(() => bar.count()).toBe(0)
    await changedSmall(page, smallWhole, 0)
    expect(await page.getByRole('button', { name: 'Undo' }).first().isDisabled()).toBe(true)
  })

  test('letters grow in window and drawing, and the drawing is still steered where the pointer is', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    const height = async () => (await rows(page).first().boundingBox())?.height ?? 0
    const normal = await height()
    await rows(page).first().click()
    await page.keyboard.press('l')
    await expect.poll(height).toBeGreaterThan(normal * 1.2)
    await page.waitForTimeout(700)
    await screenshot('seeing-large')
    await page.keyboard.press('l')
    await page.keyboard.press('d')
    await page.waitForTimeout(900)
    await screenshot('seeing-projector')
    const canvas = await page.locator('.viewport-canvas').boundingBox()
    const frame = await page.locator('.overlay').first().boundingBox()
    expect(frame?.width).toBeCloseTo(canvas?.width ?? 0, 0)
    // A reload remembers it.
    await page.reload()
    await settled(page)
    expect(await page.evaluate(() => document.documentElement.dataset.text)).toBe('projector')
    await page.keyboard.press('l')
  })

  test('front, side and plan carry the nearest keep-outs and the overall sizes; the tightest gaps on wish', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    const dimensions = page.getByTestId('dimensions')
    for (const [key, view] of [
      ['1', 'front'],
      ['2', 'side'],
      ['3', 'plan'],
    ]) {
      await page.keyboard.press(key)
      await expect.poll(() => dimensions.locator('[data-size]').count()).toBe(2)
      const numbers = await dimensions.locator('.side-number').allTextContents()
      expect(numbers.length).toBeGreaterThan(0)
      expect(numbers.length).toBeLessThan(5)
      await page.waitForTimeout(700)
      await screenshot(`seeing-${view}`)
      const boxes = await dimensions
        .locator('text')
        .evaluateAll((all) => all.map((text) => text.getBoundingClientRect().toJSON()))
      for (const [i, a] of boxes.entries())
        for (const b of boxes.slice(i + 1))
          expect(a.left < b.right && b.left < a.right && a.top + 3 < b.bottom && b.top + 3 < a.bottom).toBe(false)
    }
    // Core of 540 wide with tanks of 70 on both sides.
    await page.keyboard.press('1')
    await expect.poll(() => dimensions.locator('[data-size="across"]').textContent()).toBe('680.0')
    await page.keyboard.press('m')
    await expect.poll(() => dimensions.locator('text').count()).toBe(0)
    await page.keyboard.press('0')
    await page.keyboard.press('t')
    await expect.poll(() => dimensions.locator('.gap-line').count()).toBe(5)
    await screenshot('seeing-tightest')
  })

  test.each([
    ['narrow', false],
    ['narrow-dark', true],
  ])('in a small window (%s) cut, panel and large letters find their room', async (name, dark) => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck, size: { width: 1000, height: 700 } })
    await settled(page)
    if (dark) await page.keyboard.press('d')
    await rows(page).first().click()
    await page.keyboard.press('c')
    const bar = page.getByRole('region', { name: 'Cut through a gap' })
    await bar.waitFor()
    await page.waitForTimeout(900)
    await screenshot(`seeing-${name}-cut`)
    await page.keyboard.press('l')
    await page.waitForTimeout(400)
    await drawn(page).click()
    const panel = page.getByRole('dialog', { name: 'What is drawn' })
    await panel.waitFor()
    await screenshot(`seeing-${name}-large`)
    for (const thing of [bar, panel]) {
      const box = await thing.boundingBox()
      expect(box?.x).toBeGreaterThanOrEqual(0)
      expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual(1000)
    }
    await page.keyboard.press('Escape')
  })

  test('pictures go out: pixels with a caption, drawings in lines that a browser opens again', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await page.evaluate(() => Reflect.deleteProperty(globalThis, 'showSaveFilePicker'))
    await settled(page)
    await rows(page).first().click()
    await drawn(page).click()
    const saved = async (button: string) => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: button }).click(),
      ])
      return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) }
    }
    const frame = await page.locator('.overlay').first().boundingBox()
    const png = await saved('Save the present view as a picture, twice its size')
    expect(png.name).toBe('tarnbeck-300-front-bay-space.png')
    keep('seeing-picture.png', png.bytes)
    expect([...png.bytes.subarray(1, 4)]).toEqual([...Buffer.from('PNG')])
    expect(png.bytes.readUInt32BE(16)).toBe(Math.round(2 * (frame?.width ?? 0)))
    expect(png.bytes.readUInt32BE(20)).toBeGreaterThan(2 * (frame?.height ?? 0))
    for (const view of ['Front', 'Side', 'Plan']) {
      const svg = await saved(`${view} drawing (SVG)`)
      keep(`seeing-${view.toLowerCase()}.svg`, svg.bytes)
      const text = svg.bytes.toString('utf8')
      expect(text).toContain('A drawing aid.')
      // What stands behind something else is dashed.
      expect(text).toMatch(/stroke-width="0.5" stroke-dasharray/)
      const read = await page.evaluate((source) => {
        const opened = new DOMParser().parseFromString(source, 'image/svg+xml')
        return {
          broken: opened.querySelector('parsererror') !== null,
          things: opened.querySelectorAll('[data-name]').length,
          dimensions: [...opened.querySelectorAll('.dimension')].map((each) => [
            each.getAttribute('data-kind'),
            Number(each.getAttribute('data-mm')),
            each.querySelector('text')?.textContent,
          ]),
        }
      }, text)
      expect(read.broken).toBe(false)
      expect(read.things).toBeGreaterThan(20)
      const across = read.dimensions.find(([kind]) => kind === 'across')
      expect(across?.[1]).toBe(view === 'Side' ? 90 : 680)
      for (const [kind, mm, said] of read.dimensions)
        if (kind === 'gap' && said)
          expect(Math.abs(Number(/[\d.]+/.exec(String(said))?.[0]) - Number(mm))).toBeLessThan(0.011)
    }
  })
})

function keep(name: string, bytes: Buffer): void {
  mkdirSync(join(root, 'test-results'), { recursive: true })
  writeFileSync(join(root, 'test-results', name), bytes)
}
