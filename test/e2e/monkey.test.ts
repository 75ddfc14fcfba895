import { readFileSync } from 'node:fs'
import type { Locator, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../kit/random.ts'
import { openWindow } from './harness.ts'
import { settled, stage } from './pipesStage.ts'

/**
 * Someone who types and presses at random where the bay is edited: whatever comes of it, undoing all of it brings back the bay.
 * Five hundred random edits without a page are in `app/window/state/monkey.test.ts`.
 */
const steps = 150
const stages = ['Measure', 'Core', 'Gaps', 'Pipes', 'Seat']
const typed = ['12', '120 mm', '4 3/4"', '26 3/8" - 12 mm', '-3', '0', '1e9', 'nonsense', '', '7,5', '90']
/** What a step meant to reach can be covered, or gone with the step before: it is not waited for long. */
const soon = { timeout: 400 }
/** Searches take long, dialogs ask for files, and both are tested by themselves. */
const left =
  /find|route|search|largest|best|prove|file|picture|export|compare|recompute|bring|play|look at|stock and tool/i

async function picked(found: Locator, random: Random): Promise<Locator | null> {
  const count = await found.count()
  return count === 0 ? null : found.nth(random.int(count))
}

async function step(page: Page, random: Random): Promise<void> {
  const sheet = page.locator('main > .side-sheet, main > aside, main > section').first()
  const what = random.real(0, 1)
  if (what < 0.08) {
    const name = stage(page, random.pick(stages))
    if ((await name.count()) > 0) await name.click(soon)
    return
  }
  if (what < 0.2) {
    await page.keyboard.press(random.pick(['Control+z', 'Control+z', 'Control+Shift+z', 'Escape', 'Tab', 'Escape']))
    return
  }
  if (what < 0.6) {
    const field = await picked(sheet.getByRole('textbox').and(page.locator(':enabled')), random)
    if (!field) return
    await field.fill(random.pick(typed), soon)
    await page.keyboard.press(random.pick(['Enter', 'Enter', 'Tab', 'ArrowUp', 'Escape']))
    return
  }
  const button = await picked(sheet.getByRole(random.pick(['button', 'button', 'switch'] as const)), random)
  if (!button || !(await button.isEnabled(soon))) return
  const name = `${await button.getAttribute('aria-label', soon)} ${await button.textContent(soon)}`
  if (left.test(name)) return
  await button.click(soon)
}

describe('typed and pressed at random', () => {
  test(`${steps} steps, then all undone: the same bay, and no fault on the way (seed 17)`, async () => {
    const { page, bayPath } = await openWindow({ bay: 'assets/corvane/corvane.bay.json' })
    await settled(page)
    const before = readFileSync(bayPath ?? '', 'utf8')
    const random = seeded(17)
    const undo = page.getByRole('button', { name: /^Undo/ })
    let done = 0
    let edits = 0
    let last = await undo.getAttribute('aria-label')
    for (let i = 0; i < steps; i++) {
      // What is covered by a menu or gone in the meantime cannot be reached; that is no fault of the window.
      await step(page, random).then(
        () => done++,
        (error: Error) => {
          if (!/Timeout|intercepts|detached|not visible|not enabled/i.test(error.message)) throw error
        },
      )
      const now = await undo.getAttribute('aria-label')
      if (now !== last) edits++
      last = now
    }
    expect(done).toBeGreaterThan(0.6 * steps)
    await page.keyboard.press('Escape')
    await page.keyboard.press('Escape')
    // How many are left to undo is chance: the keys of the run undo as well.
    expect(edits).toBeGreaterThan(10)
    for (let undone = 0; undone < 2000 && (await undo.isEnabled()); undone++) await undo.click()
    expect(await page.locator('.brand-unsaved').count()).toBe(0)
    expect(readFileSync(bayPath ?? '', 'utf8')).toBe(before)
    await settled(page)
  }, 240_000)
})
