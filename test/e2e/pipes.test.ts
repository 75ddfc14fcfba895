import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { describe, expect, onTestFinished, test } from 'vitest'
import { root } from '../../bin/build.mjs'
import type { Bay } from '../../core/bay/schema.ts'
import { openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

const settled = (page: Page) => page.locator('.window[data-state="fresh"]').waitFor()
/** Ledger and bends belong to the bay as it is now. */
const rested = async (page: Page) => {
  await settled(page)
  await page.locator('.pipes[data-state="fresh"]').waitFor()
}
const stage = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name })
const panel = (page: Page) => page.getByRole('region', { name: 'Pipes of the candidate' })
const reasons = (page: Page) => panel(page).getByRole('region', { name: 'Why it cannot be made' }).getByRole('listitem')
const item = (page: Page, name: RegExp) => panel(page).getByRole('button', { name })
const handle = (page: Page, corner: number) =>
  page.getByRole('button', { name: new RegExp(`^Corner ${corner} of Hot`) })
const place = async (at: Locator) =>
  (/at (.*)$/.exec((await at.getAttribute('aria-label')) ?? '')?.[1] ?? '')
    .split(', ')
    .map((text) => Number(text.replace('−', '-')))
const undoable = async (page: Page) => !(await page.getByRole('button', { name: /^Undo/ }).isDisabled())
const view = (page: Page, name: string) => page.getByRole('radio', { name, exact: true }).click()

/** A copy of the example with something about it changed. */
function changed(change: (bay: Bay) => void): string {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-pipes-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  cpSync(dirname(join(root, tarnbeck)), folder, { recursive: true })
  const path = join(folder, 'tarnbeck.bay.json')
  const bay = JSON.parse(readFileSync(path, 'utf8')) as Bay
  change(bay)
  writeFileSync(path, JSON.stringify(bay))
  return path
}

const example = JSON.parse(readFileSync(join(root, tarnbeck), 'utf8')) as Bay
const [hot] = example.candidates[0].pipes ?? []

async function opened(more: Parameters<typeof openWindow>[0] = {}) {
  const window = await openWindow({ bay: tarnbeck, ...more })
  await settled(window.page)
  await stage(window.page, 'Pipes').click()
  await rested(window.page)
  return window
}

/** Presses the left button on something and moves the pointer in small steps; the button stays down. */
async function dragBy(page: Page, element: Locator, dx: number, dy: number, steps = 12) {
  const box = await element.boundingBox()
  if (!box) throw new Error('there is nothing to take hold of')
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  for (let i = 1; i <= steps; i++) await page.mouse.move(x + (dx * i) / steps, y + (dy * i) / steps)
}

describe('how the pipes stand', () => {
  test('the stage tells it; table, lengths, joints and loss stand beside the drawing', async () => {
    const { page, screenshot } = await opened({ size: { width: 1600, height: 1000 } })
    expect(await stage(page, 'Pipes').textContent()).toMatch(/2 pipes makeable/)
    expect(await panel(page).getByRole('radio').allTextContents()).toEqual(['✓Hot side', '✓Cold side'])
    const table = panel(page).getByRole('table', { name: 'Bend table' })
    const rows = table.locator('tbody tr')
    // A bend for each corner, and the last straight.
    expect(await rows.count()).toBe(hot.path.length + 1)
    expect(await table.locator('thead').textContent()).toMatch(/Length.*Rotation.*Angle.*Radius.*Set/)
    expect(await panel(page).textContent()).toMatch(/Developed\d+\.\d mm.*Cut\d+\.\d mm/)
    expect(
      await panel(page)
        .getByRole('region', { name: /^Straights/ })
        .getByRole('listitem')
        .count(),
    ).toBe(hot.path.length + 1)
    expect(await panel(page).getByRole('region', { name: 'Flow loss' }).textContent()).toMatch(
      /(k?Pa) to .*All pipes and couplers/,
    )
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write'])
    await panel(page).getByRole('button', { name: 'Copy the table' }).click()
    const copied = await page.evaluate(() => navigator.clipboard.readText())
    expect(copied.split('\n')).toHaveLength(hot.path.length + 2)
    expect(copied).toMatch(/^Bend\tLength\tRotation\tAngle\tRadius\tSet\n1\t/)
    await page.waitForTimeout(1200)
    await screenshot('pipes-wide')
  })

  test('a candidate without pipes has no such stage; choosing it shows its gaps instead', async () => {
    const bay = changed((whole) => {
      delete whole.candidates[1].pipes
    })
    const { page } = await opened({ bay })
    await page.getByRole('radio', { name: new RegExp(`^${example.candidates[1].name}`) }).click()
    await settled(page)
    expect(await stage(page, 'Pipes').count()).toBe(0)
    expect(await stage(page, 'Gaps').getAttribute('aria-current')).toBe('step')
    expect(await panel(page).count()).toBe(0)
    await page.getByRole('radio', { name: new RegExp(`^${example.candidates[0].name}`) }).click()
    await rested(page)
    expect(await stage(page, 'Pipes').getAttribute('aria-current')).toBe('step')
  })

  test('a pipe that is not routed says so, and gets its first corner by a button', async () => {
    const bay = changed((whole) => {
      whole.candidates[0].pipes![0].path = []
    })
    const { page } = await opened({ bay })
    expect(await stage(page, 'Pipes').textContent()).toMatch(/Hot side not routed/)
    expect(await panel(page).textContent()).toMatch(/Not routed: it has no corners/)
    await item(page, /^Corners/).click()
    await item(page, /^Add a corner$/).click()
    await rested(page)
    expect(await handle(page, 1).count()).toBe(1)
    expect(await panel(page).textContent()).not.toMatch(/Not routed: it has no corners/)
  })
})

describe('a corner in the drawing', () => {
  test('dragged in a flat drawing it stays in its plane, what is wrong is marked, and one step takes it back', async () => {
    const { page, screenshot } = await opened({ size: { width: 1600, height: 1000 } })
    await view(page, 'side')
    await page.waitForTimeout(700)
    const before = await place(handle(page, 2))
    await dragBy(page, handle(page, 2), 60, -20)
    // While it is in the hand: ledger, table and marks go along.
    await expect.poll(() => reasons(page).count()).toBeGreaterThan(0)
    await page.mouse.up()
    await rested(page)
    const after = await place(handle(page, 2))
    expect(after[1]).toBe(before[1])
    expect(after[0]).toBeGreaterThan(before[0] + 20)
    expect(after[2]).toBeGreaterThan(before[2])
    expect(await stage(page, 'Pipes').textContent()).toMatch(/Hot side: \d+ reasons?/)
    const marks = page.locator('.spot-reason')
    await expect.poll(() => marks.count()).toBeGreaterThan(0)
    expect(await page.locator('.spot-label').first().textContent()).toMatch(/bender needs|takes/)
    expect(await page.locator('.straight-short').count()).toBeGreaterThan(0)
    await page.waitForTimeout(900)
    await screenshot('pipes-reasons')
    // A reason leads to its place.
    const spot = await marks.first().boundingBox()
    await reasons(page).getByRole('button').first().click()
    await expect.poll(async () => (await marks.first().boundingBox())?.x !== spot?.x).toBe(true)
    await page.keyboard.press('Control+z')
    await rested(page)
    expect(await place(handle(page, 2))).toEqual(before)
    expect(await undoable(page)).toBe(false)
    await expect.poll(() => reasons(page).count()).toBe(0)
  })

  test('with Shift it follows one axis, in space too; Escape gives the drag up without a trace', async () => {
    const { page } = await opened()
    const before = await place(handle(page, 1))
    await page.keyboard.down('Shift')
    await dragBy(page, handle(page, 1), 3, 44)
    await page.keyboard.up('Shift')
    await page.mouse.up()
    await rested(page)
    const after = await place(handle(page, 1))
    expect(after.filter((x, k) => x !== before[k])).toHaveLength(1)
    expect(after[2]).toBeLessThan(before[2])
    await dragBy(page, handle(page, 1), -70, 30)
    await expect.poll(() => place(handle(page, 1))).not.toEqual(after)
    await page.keyboard.press('Escape')
    await rested(page)
    expect(await place(handle(page, 1))).toEqual(after)
    await page.mouse.up()
    expect(await page.getByRole('button', { name: 'Redo' }).isDisabled()).toBe(true)
    await page.keyboard.press('Control+z')
    await rested(page)
    expect(await place(handle(page, 1))).toEqual(before)
    expect(await undoable(page)).toBe(false)
  })

  test('by keys: along each axis, ten times with Shift; corners come and go', async () => {
    const { page } = await opened()
    await view(page, 'side')
    const before = await place(handle(page, 2))
    await handle(page, 2).focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Shift+ArrowUp')
    await page.keyboard.press('PageUp')
    // Side looks from the left: the third axis comes towards the eye, to the car's left.
    await expect.poll(() => place(handle(page, 2))).toEqual([before[0] + 1, before[1] - 1, before[2] + 10])
    await rested(page)
    await page.keyboard.press('Control+z')
    await expect.poll(() => place(handle(page, 2))).toEqual(before)
    const handles = page.locator('.corner-handle')
    await handle(page, 1).focus()
    await page.keyboard.press('Insert')
    await expect.poll(() => handles.count()).toBe(hot.path.length + 1)
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label')))
      .toMatch(/^Corner 2 /)
    await page.keyboard.press('Delete')
    await expect.poll(() => handles.count()).toBe(hot.path.length)
    expect(await place(handle(page, 2))).toEqual(before)
    await rested(page)
  })

  test('a new one is pulled out of a leg, as one step', async () => {
    const { page, screenshot } = await opened()
    await view(page, 'side')
    await item(page, /^Look at Hot side/).click()
    await page.waitForTimeout(800)
    const handles = page.locator('.corner-handle')
    await dragBy(page, page.getByRole('button', { name: 'Add a corner in leg 2' }), 0, -60)
    await page.mouse.up()
    await expect.poll(() => handles.count()).toBe(hot.path.length + 1)
    // So near to its neighbours its bend overlaps with theirs: no solid and no ledger, but the reason on the spot.
    await page.locator('.window[data-state="outOfDate"]').waitFor()
    await expect.poll(() => reasons(page).allTextContents()).toContainEqual(expect.stringMatching(/overlap/))
    await expect.poll(() => page.locator('.spot-reason').count()).toBeGreaterThan(0)
    await page.waitForTimeout(700)
    await screenshot('pipes-not-rounded')
    await page.keyboard.press('Control+z')
    await expect.poll(() => handles.count()).toBe(hot.path.length)
    expect(await undoable(page)).toBe(false)
    await rested(page)
  })
})

describe('numbers of a pipe', () => {
  test('corners are typed, and reached and taken out by keys', async () => {
    const { page } = await opened()
    await item(page, /^Corners/).click()
    const z = page.getByRole('textbox', { name: 'Pipe Hot side, Corner 2, Z' })
    await z.fill('150')
    await z.press('Enter')
    await expect.poll(async () => (await place(handle(page, 2)))[2]).toBe(150)
    await z.press('PageUp')
    const active = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))
    await expect.poll(active).toBe('Pipe Hot side, Corner 1, Z')
    await page.keyboard.press('Control+Delete')
    await expect.poll(() => page.locator('.corner').count()).toBe(hot.path.length - 1)
    await expect.poll(active).toBe('Pipe Hot side, Corner 1, Z')
    await page.keyboard.press('Control+z')
    await page.keyboard.press('Control+z')
    await rested(page)
    await expect.poll(async () => (await place(handle(page, 2)))[2]).toBe(hot.path[1][2])
  })

  test('another radius of the bender changes the table; D of bend is told on focus', async () => {
    const { page } = await opened()
    await item(page, /^Tube/).click()
    const radius = page.getByRole('button', { name: /Bend radius/ })
    const explained = page.getByText(/^D of bend is the radius of the centreline/)
    expect(await explained.isVisible()).toBe(false)
    await radius.focus()
    expect(await explained.isVisible()).toBe(true)
    await radius.press('Enter')
    await page.getByRole('option', { name: /1\.5 D/ }).click()
    await rested(page)
    await expect.poll(() => panel(page).getByRole('table').textContent()).toMatch(/85\.5/)
    expect(await item(page, /^Tube/).textContent()).toMatch(/1\.5 D/)
    await page.keyboard.press('Control+z')
    await rested(page)
    await expect.poll(() => item(page, /^Tube/).textContent()).toMatch(/, 1 D/)
  })

  test('a joint is picked and judged: welded to a port that moves it does not hold', async () => {
    const { page, screenshot } = await opened({ size: { width: 1600, height: 1000 } })
    const joint = item(page, /^Joint at Turbo outlet/)
    const name = await joint.textContent()
    await joint.click()
    expect(await panel(page).textContent()).toMatch(/Goes over the port[\d.]+ mm, needs [\d.]+ mm/)
    const gap = page.getByRole('textbox', { name: 'Gap between tubes' })
    await gap.fill('60')
    await gap.press('Enter')
    await rested(page)
    await expect
      .poll(() => reasons(page).allTextContents())
      .toContainEqual(expect.stringMatching(/between the two tubes/))
    await page.keyboard.press('Control+z')
    await page.getByRole('button', { name: /Joined by/ }).click()
    await page.getByRole('option', { name: 'weld' }).click()
    await rested(page)
    await expect
      .poll(() => reasons(page).allTextContents())
      .toContainEqual(expect.stringMatching(/welded to a port that moves by/))
    await page.waitForTimeout(500)
    await screenshot('pipes-joint')
    await page.keyboard.press('Control+z')
    await rested(page)
    await expect.poll(() => joint.textContent()).toBe(name)
    expect(await undoable(page)).toBe(false)
  })

  test('a candidate that is moved takes the corners beside its ports along, in the same step', async () => {
    const { page } = await opened()
    const before = [await place(handle(page, 1)), await place(handle(page, 2))]
    await stage(page, 'Core').click()
    await page
      .getByRole('region', { name: 'Parts of the candidate' })
      .getByRole('button', { name: /^Place/ })
      .click()
    const z = page.getByRole('textbox', { name: 'Z, up' })
    const height = Number(await z.inputValue())
    await z.fill(String(height + 7))
    await z.press('Enter')
    await settled(page)
    await stage(page, 'Pipes').click()
    await rested(page)
    const after = [await place(handle(page, 1)), await place(handle(page, 2))]
    expect(after[0]).toEqual(before[0])
    expect(after[1]).toEqual([before[1][0], before[1][1], expect.closeTo(before[1][2] + 7, 2)])
    await page.keyboard.press('Control+z')
    await rested(page)
    expect([await place(handle(page, 1)), await place(handle(page, 2))]).toEqual(before)
    expect(await undoable(page)).toBe(false)
  })
})

describe('routes', () => {
  const routes = (page: Page) => panel(page).getByRole('region', { name: 'Routes' })
  const find = (page: Page) => routes(page).getByRole('button', { name: 'Find routes', exact: true })
  const found = (page: Page) => routes(page).getByRole('list', { name: 'Routes for Hot side' })

  test('are found with their proofs, seen as ghosts, and adopted in one step: made and clear', async () => {
    const { page, screenshot } = await opened({ size: { width: 1600, height: 1000 } })
    await view(page, 'side')
    await find(page).click()
    await found(page).waitFor({ timeout: 60_000 })
    const rows = found(page).getByRole('listitem')
    expect(await rows.count()).toBeGreaterThan(1)
    for (const text of await rows.allTextContents())
      expect(text).toMatch(
        /\d+ bends? · [\d.]+ mm.*to spare at .*Passes (in front of|behind|left of|right of|below|above) /,
      )
    expect(await routes(page).textContent()).toMatch(/cheap/)
    await routes(page).getByText('Proved beside it').click()
    expect(await routes(page).textContent()).toMatch(/no route is shorter than [\d.]+ mm/)
    // What is drawn while nothing is pointed at, and with a route as a ghost, by pointer and by keyboard.
    const box = await page.locator('.viewport-canvas').boundingBox()
    if (!box) throw new Error('the window has no drawing')
    const clip = { x: box.x + 20, y: box.y + 110, width: box.width - 40, height: box.height / 2 }
    const drawn = async () => (await page.screenshot({ clip })).toString('base64')
    await page.mouse.move(box.x + 5, box.y + box.height - 5)
    await page.waitForTimeout(2000)
    const plain = await drawn()
    const isPlain = async () => (await drawn()) === plain
    const other = rows.filter({ hasNotText: 'as it is now' }).last()
    await other.hover()
    await expect.poll(isPlain, { timeout: 10_000 }).toBe(false)
    await page.waitForTimeout(800)
    await screenshot('pipes-routes')
    await page.mouse.move(box.x + 5, box.y + box.height - 5)
    await expect.poll(isPlain, { timeout: 10_000 }).toBe(true)
    const adopt = other.getByRole('button', { name: /^Adopt/ })
    await adopt.focus()
    await expect.poll(isPlain, { timeout: 10_000 }).toBe(false)
    await adopt.press('Enter')
    await rested(page)
    expect(await found(page).getByText('as it is now').count()).toBe(1)
    expect(await routes(page).getAttribute('data-state')).toBe('fresh')
    const counts = page.getByRole('region', { name: 'Gap ledger' }).locator('.counts')
    expect(((await counts.textContent()) ?? '').replace(/\s+/g, ' ')).toMatch(/0 foul.*0 short.*0 unproved/)
    const bent = await reasons(page).allTextContents()
    expect(bent.filter((text) => /bender|bend and the next|radius/.test(text))).toEqual([])
    await page.keyboard.press('Control+z')
    await rested(page)
    expect(await place(handle(page, 2))).toEqual(hot.path[1])
    expect(await undoable(page)).toBe(false)
  })

  test('for all pipes, one after the other; ended, those found stay; another edit makes them old', async () => {
    const { page } = await opened()
    const all = routes(page).getByRole('button', { name: /^Routes for all pipes/ })
    await all.click()
    await routes(page)
      .getByText(/searching for Hot side, Cold side/)
      .waitFor()
    await routes(page).getByRole('button', { name: 'Keep the routes found so far' }).click()
    await all.waitFor({ timeout: 20_000 })
    expect(await routes(page).locator('.routes-outcome').textContent()).toMatch(/^Stopped|before it was stopped/)
    await all.click()
    await routes(page)
      .getByText(/Routed in this order: (Hot side, Cold side|Cold side, Hot side)\./)
      .waitFor({
        timeout: 90_000,
      })
    await routes(page).getByRole('button', { name: 'Adopt the best of each' }).click()
    await rested(page)
    expect(await found(page).getByText('as it is now').count()).toBe(1)
    expect(await stage(page, 'Gaps').textContent()).toMatch(/gaps clear/)
    await panel(page)
      .getByRole('radio', { name: /Cold side/ })
      .click()
    await rested(page)
    expect(await routes(page).getByText('as it is now').count()).toBe(1)
    await page.keyboard.press('Control+z')
    expect(await undoable(page)).toBe(false)
    await item(page, /^Tube/).click()
    const clearance = page.getByRole('textbox', { name: 'Clearance to parts' })
    await clearance.fill('7')
    await clearance.press('Enter')
    await expect.poll(() => routes(page).getAttribute('data-state')).toBe('outOfDate')
    expect(await routes(page).getByRole('button', { name: 'Adopt route 1' }).isDisabled()).toBe(true)
    await rested(page)
  })

  test('where a wall closes the way, that is told as proved, and by what', async () => {
    const bay = changed((whole) => {
      whole.keepOuts.push({
        id: 'wall',
        name: 'Wall without a hole',
        role: 'body',
        shape: { kind: 'box', at: [60, 0, 300], size: [8, 6000, 6000] },
      })
    })
    const { page } = await opened({ bay })
    await find(page).click()
    const outcome = routes(page).locator('.routes-outcome')
    await outcome.waitFor({ timeout: 60_000 })
    expect(await outcome.textContent()).toMatch(/^No tube of this diameter gets through .*proved.*Wall without a hole/)
    expect(await found(page).getByRole('listitem').count()).toBe(0)
  })
})

test('narrow and dark: the sheet stands beside the drawing, and nothing sticks out', async () => {
  const { page, screenshot } = await opened({ size: { width: 900, height: 700 } })
  await page.waitForTimeout(900)
  await screenshot('pipes-narrow')
  await page.keyboard.press('d')
  await item(page, /^Corners/).click()
  await page.waitForTimeout(900)
  await screenshot('pipes-dark')
  for (const width of [1440, 1100, 900, 760]) {
    await page.setViewportSize({ width, height: 700 })
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
    const tools = await page.getByRole('radio', { name: 'inch' }).boundingBox()
    expect((tools?.x ?? width) + (tools?.width ?? 0)).toBeLessThanOrEqual(width)
  }
})
