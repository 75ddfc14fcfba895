import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { openWindow } from './harness.ts'
import { dragBy, settled, stage, undoable, view } from './pipesStage.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

async function atStage(name: 'Core' | 'Measure', more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, ...more })
  await settled(window.page)
  await stage(window.page, name).click()
  return window
}

const grip = (page: Page, id: string) => page.locator(`[data-grip="${id}"]`)
const plain = (text: string | null) => (text ?? '').replaceAll('−', '-')
const textOf = async (page: Page, id: string) => plain(await grip(page, id).getAttribute('aria-valuetext'))
const numberOf = async (page: Page, id: string) => Number.parseFloat(await textOf(page, id))
const placeOf = async (page: Page, id: string) =>
  plain(await grip(page, id).getAttribute('aria-label'))
    .replace(/^.* at /, '')
    .split(', ')
    .map(Number)
const told = (page: Page, id: string) => grip(page, id).locator('.handle-name i').allTextContents()
const undoName = async (page: Page) =>
  plain(await page.getByRole('button', { name: /^Undo/ }).getAttribute('aria-label'))
const focused = (page: Page) => page.evaluate(() => document.activeElement?.getAttribute('data-grip') ?? null)

async function press(page: Page, id: string, ...keys: string[]) {
  await grip(page, id).focus()
  for (const key of keys) await page.keyboard.press(key)
  await settled(page)
}

/** One step back, and nothing is left to take back. */
async function undoOnly(page: Page) {
  await page.keyboard.press('Control+z')
  await settled(page)
  expect(await undoable(page)).toBe(false)
}

async function moveOn(page: Page, dx: number, dy: number) {
  const box = await page.locator('[data-live]').boundingBox()
  if (!box) throw new Error('nothing is in the hand')
  await page.mouse.move(box.x + box.width / 2 + dx, box.y + box.height / 2 + dy)
}

describe('the candidate by its handles', () => {
  test('dragged along X its tightest gap goes along in the drawing; one step takes it back, and says what it was', async () => {
    const { page, screenshot } = await atStage('Core')
    await view(page, 'side')
    const before = await numberOf(page, 'along-x')
    await dragBy(page, grip(page, 'along-x'), 14, 3)
    const gap = page.getByTestId('held-gap')
    await expect.poll(() => gap.count()).toBe(1)
    await expect.poll(() => numberOf(page, 'along-x')).toBeGreaterThan(before)
    const first = await gap.locator('.gap-number').textContent()
    await moveOn(page, 40, 0)
    await expect.poll(() => gap.locator('.gap-number').textContent()).not.toBe(first)
    await screenshot('handles-along')
    await page.mouse.up()
    await settled(page)
    expect(await gap.count()).toBe(0)
    const went = (await numberOf(page, 'along-x')) - before
    expect(went).toBeGreaterThan(0)
    expect(await undoName(page)).toBe(`Undo Core moved ${went} mm rearward`)
    await undoOnly(page)
    expect(await numberOf(page, 'along-x')).toBe(before)
    // Freely in the drawing's plane; Escape takes it back without a trace.
    const place = await placeOf(page, 'place')
    await dragBy(page, grip(page, 'place'), -30, -20)
    await expect.poll(() => placeOf(page, 'place')).not.toEqual(place)
    await page.keyboard.press('Escape')
    await page.mouse.up()
    await settled(page)
    expect(await placeOf(page, 'place')).toEqual(place)
    expect(await undoable(page)).toBe(false)
    // What was taken back before can still be done again.
    expect(await page.getByRole('button', { name: /^Redo/ }).isDisabled()).toBe(false)
  })

  test('comes to rest where it just clears what is nearest, says so, and does clear', async () => {
    const { page, screenshot } = await atStage('Core')
    await view(page, 'side')
    await page.getByRole('button', { name: 'Fit' }).click()
    const before = await numberOf(page, 'along-x')
    const isAtGap = async () => (await numberOf(page, 'along-x')) > before && (await told(page, 'along-x')).length > 0
    await dragBy(page, grip(page, 'along-x'), 1, 0)
    const box = await page.locator('[data-live]').boundingBox()
    if (!box) throw new Error('nothing is in the hand')
    for (let i = 1; i < 40 && !(await isAtGap()); i++) {
      await page.mouse.move(box.x + box.width / 2 + i, box.y + box.height / 2)
      await page.waitForTimeout(60)
    }
    expect(await told(page, 'along-x')).toEqual([expect.stringMatching(/^just clears /)])
    await page.waitForTimeout(400)
    await screenshot('handles-just-clears')
    await page.mouse.up()
    await settled(page)
    const at = await numberOf(page, 'along-x')
    expect(at).toBeGreaterThan(before)
    // Not a round value, and still nothing is short: the gap is what is asked for.
    expect(Math.abs(at - Math.round(at))).toBeGreaterThan(0.001)
    expect(await page.locator('.ledger .row.verdict-short, .ledger .row.verdict-fouls').count()).toBe(0)
    await undoOnly(page)
  })

  test('faces come to rest at rows and stock, and Alt lets go; keys, typing and turns do the same to each handle', async () => {
    const { page, screenshot } = await atStage('Core', { size: { width: 1440, height: 900 } })
    await view(page, 'side')
    expect(await numberOf(page, 'face-above')).toBe(260)
    const middle = await placeOf(page, 'place')
    await dragBy(page, grip(page, 'face-above'), 0, -8)
    await expect.poll(() => numberOf(page, 'face-above')).toBe(270.5)
    expect(await told(page, 'face-above')).toEqual(['25 rows'])
    await screenshot('handles-rows')
    await page.keyboard.down('Alt')
    await moveOn(page, 0, -5)
    await expect.poll(() => told(page, 'face-above')).toEqual([])
    await page.keyboard.up('Alt')
    await moveOn(page, 0, 0)
    await expect.poll(() => told(page, 'face-above')).toHaveLength(1)
    await page.mouse.up()
    await settled(page)
    const height = await numberOf(page, 'face-above')
    expect((height - 8) % 10.5).toBeCloseTo(0, 6)
    // The lower face stays: the middle goes up by half.
    expect((await placeOf(page, 'place'))[2]).toBeCloseTo(middle[2] + (height - 260) / 2, 6)
    expect(await undoName(page)).toBe(`Undo Core, upper face, height: ${height} mm`)
    await undoOnly(page)

    // Stock by keys, as the arrow points: the front is at the left.
    await press(page, 'face-front', 'ArrowLeft')
    expect(await textOf(page, 'face-front')).toBe('102 mm, a stock size')
    await press(page, 'face-front', 'ArrowRight', 'ArrowRight')
    expect(await numberOf(page, 'face-front')).toBe(76)
    await page.keyboard.press('Alt+ArrowLeft')
    await expect.poll(() => numberOf(page, 'face-front')).toBe(76.1)
    await settled(page)
    // One visit to one handle is one step.
    await undoOnly(page)

    // A turn about the axis that the drawing looks along, by keys and by hand.
    await press(page, 'turn-y', 'ArrowUp', 'ArrowUp')
    expect(await textOf(page, 'turn-y')).toBe('2°')
    await undoOnly(page)
    await dragBy(page, grip(page, 'turn-y'), -24, 6)
    await expect.poll(() => numberOf(page, 'turn-y')).not.toBe(0)
    await page.mouse.up()
    await settled(page)
    expect(await undoName(page)).toMatch(/^Undo Core, turn about Y: -?\d+°$/)
    await undoOnly(page)

    // Typed, in any unit, with what cannot be read told beside it.
    await grip(page, 'along-z').focus()
    await page.keyboard.type('8"')
    const box = page.getByRole('form', { name: 'Set Core, along Z' })
    expect(await box.getByRole('textbox').inputValue()).toBe('8"')
    await page.keyboard.press('Enter')
    await settled(page)
    expect(await numberOf(page, 'along-z')).toBe(203.2)
    await expect.poll(() => focused(page)).toBe('along-z')
    await undoOnly(page)
    await page.keyboard.type('2 apples')
    await page.keyboard.press('Enter')
    await expect.poll(() => box.getByRole('alert').textContent()).not.toBe('')
    await page.keyboard.press('Escape')
    expect(await box.count()).toBe(0)
    expect(await undoable(page)).toBe(false)

    // Tanks are seen from the front; a move is along the axis that the arrow points along.
    await view(page, 'front')
    await press(page, 'tank-left', 'ArrowRight')
    expect(await numberOf(page, 'tank-left')).toBe(71)
    await undoOnly(page)
    const length = await numberOf(page, 'tank-right')
    await dragBy(page, grip(page, 'tank-right'), -20, 0)
    await expect.poll(() => numberOf(page, 'tank-right')).toBeGreaterThan(length)
    await page.mouse.up()
    await settled(page)
    await undoOnly(page)
    await press(page, 'place', 'ArrowUp', 'Shift+ArrowRight')
    expect(await placeOf(page, 'place')).toEqual([middle[0], middle[1] - 10, middle[2] + 1])
    expect(await undoName(page)).toBe('Undo Core moved 10 mm left, 1 mm up')
    await undoOnly(page)
  })

  test('by the tabulator key group after group, within a group by Control and arrows; in dark and narrow windows', async () => {
    const { page, screenshot } = await atStage('Core', { size: { width: 1000, height: 700 }, dark: true })
    await grip(page, 'place').focus()
    const order: (string | null)[] = []
    for (let i = 0; i < 3; i++) {
      order.push(await focused(page))
      await page.keyboard.press('Tab')
    }
    expect(order).toEqual(['place', 'turn-x', 'face-front'])
    await grip(page, 'face-front').focus()
    await page.keyboard.press('Control+ArrowRight')
    expect(await focused(page)).toBe('face-rear')
    await page.keyboard.press('End')
    expect(await focused(page)).toBe('tank-right')
    await page.keyboard.press('Control+ArrowRight')
    expect(await focused(page)).toBe('face-front')
    await page.waitForTimeout(700)
    await screenshot('handles-narrow-dark')
    // Inches: a sixteenth a step, a whole one with Shift, a sixty-fourth with Alt.
    await page.getByRole('radio', { name: 'inch' }).click()
    expect(await textOf(page, 'tank-left')).toBe('2.7559 in')
    // In space the eye stands before the car: its left is at the right.
    await press(page, 'tank-left', 'ArrowLeft')
    expect(await textOf(page, 'tank-left')).toBe('2.6934 in')
    expect(await undoable(page)).toBe(true)
    await undoOnly(page)
  })
})

/** Every kind of keep-out in the example, the handle that it is tried by, the view, and the key that changes it. */
const keepOuts = {
  'boxes and cylinders': [
    ['Crash can', 'face-rear', 'side', 'ArrowRight'],
    ['Crash can', 'turn-z', 'plan', 'ArrowUp'],
    ['Latch stay', 'radius', 'side', 'ArrowUp'],
    ['Latch stay', 'to', 'front', 'ArrowUp'],
  ],
  'paths of sweeps and tubes': [
    ['Crash beam', 'point-2', 'plan', 'ArrowRight'],
    ['Refrigerant pipe', 'point-1', 'side', 'ArrowRight'],
  ],
  'hulls, half-spaces and meshes': [
    ['Head lamp', 'point-0', 'front', 'ArrowUp'],
    ['Under-tray', 'normal', 'front', 'ArrowUp'],
    ['Bumper cover', 'along-z', 'front', 'ArrowUp'],
  ],
} as const

describe('keep-outs by their handles', () => {
  test.each(Object.entries(keepOuts))('%s by key and by hand, each as one step', async (_, tries) => {
    const { page, screenshot } = await atStage('Measure')
    const read = async (id: string) => (await textOf(page, id)) || (await placeOf(page, id)).join()
    let open = ''
    for (const [name, id, way, key] of tries) {
      await view(page, way)
      if (name !== open) await page.locator('.side-sheet').getByRole('button', { name }).first().click()
      open = name
      await grip(page, id).waitFor()
      const before = await read(id)
      await press(page, id, key)
      expect(await read(id), `${name} ${id} by key`).not.toBe(before)
      await undoOnly(page)
      expect(await read(id)).toBe(before)
      await dragBy(page, grip(page, id), 9, -12, 4)
      await expect.poll(() => read(id), { message: `${name} ${id} by hand` }).not.toBe(before)
      if (id === 'radius') await screenshot('handles-keep-out')
      const isEscaped = id === 'point-2'
      if (isEscaped) await page.keyboard.press('Escape')
      await page.mouse.up()
      await settled(page)
      if (isEscaped) expect(await undoable(page)).toBe(false)
      else await undoOnly(page)
      expect(await read(id)).toBe(before)
    }
  })
})
