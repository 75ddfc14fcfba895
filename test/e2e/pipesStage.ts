import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { onTestFinished } from 'vitest'
import { root } from '../../bin/build.mjs'
import type { Bay } from '../../core/bay/schema.ts'
import { fresh, openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

export const settled = (page: Page) => page.locator(fresh).waitFor()
/** Ledger and bends belong to the bay as it is now. */
export const rested = async (page: Page) => {
  await settled(page)
  await page.locator('.pipes[data-state="fresh"]').waitFor()
}
export const stage = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name })
export const panel = (page: Page) => page.getByRole('region', { name: 'Pipes of the candidate' })
export const reasons = (page: Page) =>
  panel(page).getByRole('region', { name: 'Why it cannot be made' }).getByRole('listitem')
export const item = (page: Page, name: RegExp) => panel(page).getByRole('button', { name })
export const handle = (page: Page, corner: number) =>
  page.getByRole('button', { name: new RegExp(`^Corner ${corner} of Hot`) })
export const place = async (at: Locator) =>
  (/at (.*)$/.exec((await at.getAttribute('aria-label')) ?? '')?.[1] ?? '')
    .split(', ')
    .map((text) => Number(text.replace('−', '-')))
export const undoable = async (page: Page) => !(await page.getByRole('button', { name: /^Undo/ }).isDisabled())
export const view = (page: Page, name: string) => page.getByRole('radio', { name, exact: true }).click()

/** A copy of the example with something about it changed. */
export function changed(change: (bay: Bay) => void): string {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-pipes-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  cpSync(dirname(join(root, tarnbeck)), folder, { recursive: true })
  const path = join(folder, 'tarnbeck.bay.json')
  const bay = JSON.parse(readFileSync(path, 'utf8')) as Bay
  change(bay)
  writeFileSync(path, JSON.stringify(bay))
  return path
}

export const example = JSON.parse(readFileSync(join(root, tarnbeck), 'utf8')) as Bay
export const [hot] = example.candidates[0].pipes ?? []

export async function opened(more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, ...more })
  await settled(window.page)
  await stage(window.page, 'Pipes').click()
  await rested(window.page)
  return window
}

/** Where something is once it moves no more: the eye may still be on its way, and a press would miss it. */
async function stillBox(page: Page, element: Locator) {
  let before = await element.boundingBox()
  for (let i = 0; i < 50; i++) {
    await page.waitForTimeout(100)
    const box = await element.boundingBox()
    if (box && before && box.x === before.x && box.y === before.y) return box
    before = box
  }
  throw new Error('there is nothing at rest to take hold of')
}

/** Presses the left button on something and moves the pointer in small steps; the button stays down. */
export async function dragBy(page: Page, element: Locator, dx: number, dy: number, steps = 12) {
  const box = await stillBox(page, element)
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  for (let i = 1; i <= steps; i++) await page.mouse.move(x + (dx * i) / steps, y + (dy * i) / steps)
}
