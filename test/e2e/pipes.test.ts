import { describe, expect, test } from 'vitest'
import {
  changed,
  example,
  handle,
  hot,
  item,
  opened,
  panel,
  place,
  reasons,
  rested,
  settled,
  stage,
  undoable,
} from './pipesStage.ts'

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
