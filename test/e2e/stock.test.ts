import type { Locator, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { wrongOn } from './axe.ts'
import { openWindow } from './harness.ts'
import { changed, item, opened as openPipes, panel, rested, settled, stage } from './pipesStage.ts'

/** The example as a shop has it that wrote nothing down yet. */
const withoutStock = () =>
  changed((bay) => {
    delete bay.stock
    delete bay.benders
    for (const { pipes = [] } of bay.candidates)
      for (const pipe of pipes) {
        delete pipe.tube
        delete pipe.bender
        delete pipe.elbows
        delete pipe.joints
      }
  })

const dialog = (page: Page) => page.getByRole('dialog', { name: 'Stock and tooling' })
const tab = (page: Page, name: string) => dialog(page).getByRole('tab', { name })

async function press(page: Page, at: Locator) {
  await at.focus()
  await page.keyboard.press('Enter')
}
const button = (page: Page, name: string) => dialog(page).getByRole('button', { name, exact: true })

/** Types over what stands in a field. */
async function type(page: Page, within: Locator, label: string, text: string) {
  const field = within.getByLabel(label, { exact: true })
  await field.focus()
  await page.keyboard.press('Control+a')
  await page.keyboard.type(text)
  await page.keyboard.press('Enter')
}

async function openStock(page: Page) {
  await page.keyboard.press('Control+k')
  await page.keyboard.type('stock and tool')
  await page.keyboard.press('Enter')
  await dialog(page).waitFor()
}

/** Opens one picker and chooses by its letters. */
async function pick(page: Page, within: Locator, label: RegExp, option: RegExp) {
  await press(page, within.getByRole('button', { name: label }))
  const found = page.getByRole('option', { name: option })
  await found.waitFor()
  await found.focus()
  await page.keyboard.press('Enter')
  await found.waitFor({ state: 'detached' })
}

const undoUntil = async (page: Page, times: number) => {
  for (let n = 0; n < times; n++) await page.keyboard.press('Control+z')
}

describe('stock and tooling', () => {
  test('a tube, a bender and a tool from nothing, picked by a pipe, all by keyboard; undone', async () => {
    const { page, screenshot } = await openWindow({ bay: withoutStock() })
    await settled(page)
    await openStock(page)
    await dialog(page).getByText('No tubes in stock yet').waitFor()
    await press(page, button(page, 'Add a tube'))
    await expect.poll(() => dialog(page).getByLabel('Name', { exact: true }).inputValue()).toBe('Tube 1')
    await type(page, dialog(page), 'Name', 'Bench tube')
    await type(page, dialog(page), 'Wall', '2')
    // Nonsense keeps the wall that there was, and so does a wall that leaves no bore.
    await type(page, dialog(page), 'Wall', 'thick')
    await dialog(page).locator('.figure-fault').waitFor()
    await page.keyboard.press('Escape')
    expect(await dialog(page).getByLabel('Wall', { exact: true }).inputValue()).toBe('2')
    await type(page, dialog(page), 'Wall', '40')
    await dialog(page).locator('.figure-fault').waitFor()
    await page.keyboard.press('Escape')
    await dialog(page)
      .getByRole('button', { name: /Bench tube.*57 × 2/ })
      .waitFor()

    await tab(page, 'Tubes').focus()
    for (let n = 0; n < 4; n++) await page.keyboard.press('ArrowRight')
    await dialog(page).getByText('No bender yet').waitFor()
    await press(page, button(page, 'Add a bender'))
    await press(page, button(page, 'Add a tool'))
    const second = dialog(page).getByRole('group', { name: 'Tool 2' })
    await type(page, second, 'Outside diameter', '60')
    await dialog(page)
      .getByRole('button', { name: /Bender 1.*2 tools/ })
      .waitFor()
    await screenshot('stock-bender')
    expect(await wrongOn(page, '.sheet-stock')).toEqual([])
    // Any die goes, not the last one; a tool is copied where it stands. The keys for steps work in the dialog.
    await press(page, second.getByRole('button', { name: 'Take out die 1' }))
    expect(await second.getByLabel('Die 1, radius').inputValue()).toBe('85.5')
    await press(page, second.getByRole('button', { name: 'Take out die 1' }))
    expect(await second.getByRole('alert').textContent()).toMatch(/a tool has one die at least/)
    await press(page, button(page, 'Copy tool 2'))
    const third = dialog(page).getByRole('group', { name: 'Tool 3' })
    expect(await third.getByLabel('Outside diameter').inputValue()).toBe('60')
    await page.keyboard.press('Control+z')
    await third.waitFor({ state: 'detached' })
    await page.keyboard.press('Control+z')
    await expect.poll(() => second.getByLabel('Die 1, radius').inputValue()).toBe('57')
    await press(page, button(page, 'Close'))

    await press(page, stage(page, 'Pipes'))
    await rested(page)
    await press(page, item(page, /^Tube/))
    await pick(page, panel(page), /Stock tube/, /Bench tube/)
    await rested(page)
    await panel(page)
      .getByRole('button', { name: /Bench tube/ })
      .waitFor()
    await panel(page).getByText('No bender in the bay').waitFor({ state: 'detached' })
    // Picked; tool added and sized; bender; the tube's wall, name and itself.
    await undoUntil(page, 7)
    await openStock(page)
    await dialog(page).getByText('No tubes in stock yet').waitFor()
    await tab(page, 'Tubes').focus()
    await page.keyboard.press('End')
    await page.keyboard.press('ArrowLeft')
    await dialog(page).getByText('No bender yet').waitFor()
  })
  test('a pipe takes an elbow, other ends, another time to go in, and another flow; what goes with stock is said', async () => {
    const { page, screenshot } = await openPipes({ size: { width: 1000, height: 700 } })
    const pipes = panel(page)
    await press(page, item(page, /^Welded elbows/))
    await pick(page, pipes, /Corner 1/, /Pressed elbow/)
    await item(page, /^Welded elbows.*1 welded in/).waitFor()
    await press(page, item(page, /^Name and ends/))
    await pick(page, pipes, /Goes in/, /together with the core/)
    await pick(page, pipes, /^.*From/, /Throttle inlet/)
    await pipes
      .getByText(/Throttle inlet.*tank left, hot/)
      .first()
      .waitFor()
    await page.keyboard.press('Control+z')
    await pipes
      .getByText(/Turbo outlet.*tank left, hot/)
      .first()
      .waitFor()
    await rested(page)

    // 155 °C and 231 kPa are the example's 428.15 K and 231,000 Pa.
    const loss = pipes.getByRole('region', { name: 'Flow loss' })
    await loss.getByText('Flow conditions').focus()
    await page.keyboard.press('Enter')
    const hotter = loss.getByRole('group', { name: 'To the cooler' })
    expect(await hotter.getByLabel('Temperature, °C').inputValue()).toBe('155')
    expect(await hotter.getByLabel('Absolute pressure, kPa').inputValue()).toBe('231')
    const band = async () => loss.locator('.loss-band').textContent()
    const before = await band()
    await type(page, hotter, 'Temperature, °C', '200')
    await expect.poll(band).not.toBe(before)
    await type(page, hotter, 'Temperature, °C', '−300')
    await hotter.locator('.figure-fault').waitFor()
    await page.keyboard.press('Escape')
    expect(await hotter.getByLabel('Temperature, °C').inputValue()).toBe('200')
    await screenshot('stock-flow-small')

    await openStock(page)
    await tab(page, 'Tubes').focus()
    await page.keyboard.press('ArrowRight')
    await press(page, dialog(page).getByRole('button', { name: /^Pressed elbow/ }))
    await press(page, button(page, 'Copy Pressed elbow 57, 45°'))
    await dialog(page)
      .getByRole('button', { name: /^Pressed elbow 57, 45°, copy/ })
      .waitFor()
    await press(page, dialog(page).getByRole('button', { name: /^Pressed elbow 57, 45° / }))
    await screenshot('stock-elbow-small')
    expect(await wrongOn(page, '.sheet-stock')).toEqual([])
    await press(page, button(page, 'Take out Pressed elbow 57, 45°'))
    const question = page.getByRole('alertdialog')
    expect(await question.textContent()).toMatch(/Hot side: the corner is bent instead/)
    await page.keyboard.press('Enter')
    await question.waitFor({ state: 'detached' })
    // What pipes are bent with stays, and why is said.
    await tab(page, 'Tubes').focus()
    for (let n = 0; n < 4; n++) await page.keyboard.press('ArrowRight')
    await press(page, dialog(page).locator('.stock-panel .callout-button').first())
    const tool = dialog(page).getByRole('group', { name: 'Tool 1' })
    const had = await tool.locator('.stock-row').count()
    await press(page, tool.getByRole('button', { name: 'Take out die 1' }))
    expect(await tool.getByRole('alert').textContent()).toMatch(/It stays: .*would be bent otherwise or not at all/)
    expect(await tool.locator('.stock-row').count()).toBe(had)
    await tool.getByRole('alert').scrollIntoViewIfNeeded()
    await screenshot('stock-die-needed-small')
    await page.keyboard.press('Escape')
    await item(page, /^Welded elbows.*all corners bent/).waitFor()
    await page.keyboard.press('Control+z')
    await item(page, /^Welded elbows.*1 welded in/).waitFor()
  })
})
