import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/** What a person does who has no pointer: nothing here clicks. */

export const editor = (page: Page) => page.locator('.callout-open')
export const field = (page: Page, name: string | RegExp) => editor(page).getByRole('textbox', { name, exact: true })

/** Presses Tab until something has the focus that a person would call so. */
export async function tabTo(page: Page, name: string | RegExp, role: 'textbox' | 'button' | 'switch' = 'textbox') {
  const wanted = page.getByRole(role, { name, exact: true })
  for (let n = 0; n < 120; n++) {
    const there = await wanted.evaluateAll((all) => all.includes(document.activeElement as HTMLElement))
    if (there) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab does not lead to ${name}`)
}

/** Types into a field that Tab leads to, and takes it with Enter. */
export async function enter(page: Page, name: string | RegExp, text: string) {
  await tabTo(page, name)
  await page.keyboard.press('Control+a')
  await page.keyboard.type(text)
  await page.keyboard.press('Enter')
}

export async function press(page: Page, name: string | RegExp) {
  await tabTo(page, name, 'button')
  await page.keyboard.press('Enter')
}

/** A new bay from the empty window. */
export async function begin(page: Page) {
  await page.keyboard.press('Control+Alt+n')
  await page.getByRole('dialog', { name: 'A new bay' }).waitFor()
  await page.keyboard.type('Hill van, front')
  await page.keyboard.press('Tab')
  await page.keyboard.type('centre of the lower rail')
  await page.keyboard.press('Enter')
  await page.locator('.side-sheet-measure').waitFor()
}

/** Opens the list of kinds by its key, takes one by its first letters, and names what begins. */
export async function add(page: Page, kind: string, name: string) {
  // Letters are no commands while a field has the focus: out of the editor first.
  await leaveFields(page)
  await page.keyboard.press('a')
  await page.getByRole('menu').waitFor()
  await page.keyboard.type(kind.slice(0, 3))
  await page.keyboard.press('Enter')
  await page.getByRole('menu').waitFor({ state: 'detached' })
  await expect.poll(() => field(page, 'Name').evaluate((input) => input === document.activeElement)).toBe(true)
  await page.keyboard.type(name)
  await page.keyboard.press('Enter')
}

export async function leaveFields(page: Page) {
  const isField = () => page.evaluate(() => document.activeElement?.matches('input, textarea') ?? false)
  for (let n = 0; n < 60 && (await isField()); n++) await page.keyboard.press('Shift+Tab')
}
