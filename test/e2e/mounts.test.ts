import { readFileSync } from 'node:fs'
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { wrongOn } from './axe.ts'
import { openWindow } from './harness.ts'
import { settled, stage } from './pipesStage.ts'

const mounts = (page: Page) => page.getByRole('region', { name: 'Mounts' })
const fixings = (page: Page) => page.getByRole('region', { name: 'Fixing points on the car' })
const judged = (page: Page) => page.locator('.seat[data-state="fresh"]').waitFor()
const verdict = (mount: Locator) => mount.locator('.callout-brief').textContent()
const press = async (at: Locator, key = 'Enter') => {
  await at.focus()
  await at.press(key)
}

async function pick(page: Page, at: Locator, label: string, option: string) {
  await press(at.getByRole('button', { name: label }))
  await page.locator('.picker-popover').waitFor()
  await page.getByRole('option', { name: option, exact: true }).focus()
  await page.keyboard.press('Enter')
  await page.locator('.picker-popover').waitFor({ state: 'detached' })
}

async function type(at: Locator, label: string, text: string) {
  const field = at.getByRole('textbox', { name: label, exact: true })
  await field.focus()
  await field.fill(text)
  await field.press('Enter')
  return field
}

const mark = (page: Page, name: string) => page.getByRole('button', { name: `Mark of the ${name}`, exact: true })
const isLit = (at: Locator) => at.evaluate((knob) => knob.classList.contains('place-mark-lit'))
const pointed = (page: Page) => page.locator('.callout-pointed .callout-title').allTextContents()
/** The row that has the focus. A mark has its name as well: it is not enough to look for that. */
const focusedRow = (page: Page) =>
  page.evaluate(() => document.activeElement?.closest('[data-row]')?.getAttribute('data-row') ?? null)

/** What is marked in the drawing and its row light each other, and the mark opens the row; from the Seat stage and back. */
async function marksAndRows(page: Page, screenshot: (name: string) => Promise<string>) {
  const bracket = mark(page, 'mount Bracket, lower right')
  const lug = mark(page, 'fixing Radiator frame, lower lug right')
  expect(await isLit(bracket)).toBe(false)
  await mounts(page)
    .getByRole('button', { name: /^Bracket, lower right/ })
    .focus()
  await expect.poll(() => isLit(bracket)).toBe(true)
  expect(await isLit(lug)).toBe(false)
  await lug.hover()
  await expect.poll(() => pointed(page)).toEqual(['Radiator frame, lower lug right'])
  expect(await isLit(bracket)).toBe(false)
  // By mouse; the mark stays lit while its numbers are open, and its mount is opened beside it by keyboard.
  await lug.click()
  await fixings(page).getByRole('textbox', { name: 'Uncertainty', exact: true }).waitFor()
  await page.mouse.move(2, 2)
  await mark(page, 'mount Bracket, upper left').focus()
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight')
  await expect.poll(() => pointed(page)).toEqual(['Bracket, lower right'])
  expect(await isLit(lug)).toBe(true)
  await screenshot('mounts-marks')
  expect(await wrongOn(page, '.place-marks-layer')).toEqual([])
  await page.keyboard.press('Enter')
  await expect.poll(() => focusedRow(page)).toBe('mount lower-right')
  await mounts(page).getByRole('textbox', { name: 'Across the face, u', exact: true }).waitFor()
  expect(await fixings(page).getByRole('textbox', { name: 'Uncertainty', exact: true }).count()).toBe(1)

  // Openings and ports where the bay is measured.
  await press(stage(page, 'Measure'))
  const ports = page.getByRole('region', { name: 'Ports' })
  await ports.getByRole('button', { name: /^Turbo outlet/ }).hover()
  await expect.poll(() => isLit(mark(page, 'port Turbo outlet'))).toBe(true)
  await mark(page, 'opening Lower grille').click()
  await page.getByRole('region', { name: 'Openings' }).getByRole('textbox', { name: 'At X' }).waitFor()
  await expect.poll(() => isLit(mark(page, 'port Turbo outlet'))).toBe(false)
  await press(mark(page, 'port Turbo outlet'), 'Space')
  await ports.getByRole('textbox', { name: 'Outside diameter' }).waitFor()

  // In the Core stage a mount has no row: its mark leads to the stage that has one.
  await press(stage(page, 'Core'))
  await press(mark(page, 'mount Bracket, upper right'))
  await expect.poll(() => focusedRow(page)).toBe('mount upper-right')
  expect(await stage(page, 'Seat').getAttribute('aria-current')).not.toBe(null)
  await page.keyboard.press('Enter')
  await expect.poll(() => mounts(page).locator('[data-open]').count()).toBe(0)
  await judged(page)
}

test('a fixing and a mount are added, judged, edited, undone and saved by keyboard', { timeout: 150_000 }, async () => {
  const { page, bayPath, screenshot } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await settled(page)
  await press(stage(page, 'Seat'))
  await judged(page)
  const fixing = fixings(page).locator('.seat-fixing').nth(4)
  const mount = mounts(page).locator('.seat-mount').last()

  await marksAndRows(page, screenshot)

  // A fixing on the car: the focus is on it, and it takes what was measured.
  await press(fixings(page).getByRole('button', { name: 'Add a fixing point' }))
  expect(await fixings(page).locator('.seat-fixing').count()).toBe(5)
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toMatch(/^Fixing point 1/)
  await pick(page, fixing, 'Kind', 'stud')
  await type(fixing, 'Uncertainty', '0.5')
  const diameter = await type(fixing, 'Stud ⌀', '-8')
  expect(await fixing.getByText(/positive|more than|above/i).count()).toBe(1)
  await diameter.press('Escape')
  await type(fixing, 'Stud ⌀', '6')
  expect(await fixing.locator('.callout-brief').textContent()).toBe('stud ⌀ 6')
  await press(fixing.getByText('Room for a tool'), 'Space')
  // A point all at once, in the units that people write. A direction by one number after the other, over nought.
  await type(fixing, 'X, rearward', '-80; 4 in; 305,5')
  await type(fixing, 'Axis Z', '0')
  await fixing.getByText(/a vector that is not zero.*tried again with the numbers beside it/).waitFor()
  await type(fixing, 'Axis X', 'sideways')
  expect(await fixing.locator('.figure-fault').count()).toBe(2)
  await screenshot('mounts-direction')
  await type(fixing, 'Axis X', '1')
  expect(await fixing.locator('.figure-fault').count()).toBe(0)
  await page.keyboard.press('Control+z')
  await expect.poll(() => fixing.getByRole('textbox', { name: 'Axis Z' }).inputValue()).toBe('1')
  await page.keyboard.press('Control+y')

  // A mount with a fixing of its own: not measured yet, 3 mm are assumed and it does not go on; measured, it does.
  await press(mounts(page).getByRole('button', { name: 'Add a mount' }))
  expect(await mounts(page).locator('.seat-mount').count()).toBe(5)
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toMatch(/^Bracket 1/)
  await expect.poll(() => verdict(mount), { timeout: 15_000 }).toBe('✕ does not go on')
  const own = fixings(page).locator('.seat-fixing').last()
  await press(own.locator('.callout-button'))
  await type(own, 'Uncertainty', '0.5')
  await expect.poll(() => verdict(mount), { timeout: 15_000 }).toBe('✓ goes on')
  // Moved along its face its hole is beside the fixing: refuted live, and brought back.
  await type(mount, 'Across the face, u', '0.5')
  await expect.poll(() => verdict(mount), { timeout: 15_000 }).toBe('✕ does not go on')
  await press(mount.getByRole('button', { name: 'Bring it over its fixing' }))
  await expect.poll(() => verdict(mount), { timeout: 15_000 }).toBe('✓ goes on')
  expect(await mount.getByRole('textbox', { name: 'Across the face, u' }).inputValue()).toBe('0')

  // Form, face, holes and fitting; each is a step of its own.
  await press(mount.getByRole('button', { name: 'Add a hole' }))
  expect(await mount.locator('.mount-hole').count()).toBe(2)
  await press(mount.getByRole('button', { name: 'Take out hole 2' }))
  expect(await mount.locator('.mount-hole').count()).toBe(1)
  await type(mount, 'Slot, over all', '16')
  await type(mount, 'Slot turned by', '90')
  await pick(page, mount, 'Goes in', 'after the core sits')
  await screenshot('mounts-wide')
  expect(await wrongOn(page, '.seat-mounts')).toEqual([])
  await page.setViewportSize({ width: 1000, height: 700 })
  await own.locator('.callout-button').scrollIntoViewIfNeeded()
  await page.waitForTimeout(400)
  await screenshot('mounts-narrow')

  // Taken out, what goes along is said first; one step back brings both back.
  await press(own.getByRole('button', { name: 'Take out Fixing point 2' }))
  const asked = page.getByRole('alertdialog')
  expect(await asked.textContent()).toMatch(/Bracket 1: the mount goes along/)
  await page.keyboard.press('Enter')
  await asked.waitFor({ state: 'detached' })
  expect(await mounts(page).locator('.seat-mount').count()).toBe(4)
  await page.keyboard.press('Control+z')
  await expect.poll(() => mounts(page).locator('.seat-mount').count()).toBe(5)

  await page.keyboard.press('Control+s')
  const saved = () => JSON.parse(readFileSync(bayPath as string, 'utf8')) as Bay
  await expect.poll(() => saved().fixings?.length, { timeout: 10_000 }).toBe(6)
  expect(saved().fixings?.[4]).toMatchObject({
    name: 'Fixing point 1',
    kind: 'stud',
    diameter: 6,
    uncertainty: 0.5,
    at: [-80, 101.6, 305.5],
    axis: [1, 0, 0],
    tool: { diameter: 20, length: 100 },
  })
  expect(saved().candidates[0].mounts?.[4]).toMatchObject({
    name: 'Bracket 1',
    on: { part: 'core', face: 'rear', u: 0, v: 0 },
    fitting: 'after',
    shape: { kind: 'plate', holes: [{ diameter: 11, length: 16, angle: 90, fixing: 'fixing-point-2' }] },
  })
})
