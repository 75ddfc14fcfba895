import { readFileSync, writeFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { sampleBay } from '../kit/sampleBay.ts'
import { fresh, openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

/** The ledger belongs to the bay as it is now. */
const settled = (page: Page) => page.locator(fresh).waitFor()
const ledger = (page: Page) => page.getByRole('region', { name: 'Gap ledger' })
const counts = async (page: Page) => ((await ledger(page).locator('.counts').textContent()) ?? '').replace(/\s+/g, ' ')
const rows = (page: Page) => ledger(page).getByRole('option')
const stage = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name })
const candidate = (page: Page, name: RegExp) => page.getByRole('radio', { name })
const part = (page: Page, name: RegExp) =>
  page.getByRole('region', { name: 'Parts of the candidate' }).getByRole('button', { name })

async function openCore(page: Page) {
  await stage(page, 'Core').click()
  await part(page, /^Core/).click()
}

/** Files as a person drops them on the window. */
async function drop(page: Page, files: { name: string; text: string }[]) {
  const data = await page.evaluateHandle((all) => {
    const transfer = new DataTransfer()
    for (const { name, text } of all) transfer.items.add(new File([text], name))
    return transfer
  }, files)
  await page.locator('.window').dispatchEvent('drop', { dataTransfer: data })
}

describe('the example in the window', () => {
  test('opens with its ledger, its drawing and its stages', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    expect(await counts(page)).toMatch(/0 foul.* 0 short.* 0 unproved.* \d+ clear/)
    const total = Number(/(\d+) clear/.exec(await counts(page))?.[1])
    expect(total).toBeGreaterThan(60)
    // Only rows in sight are in the page, but all can be reached, and margins grow downwards.
    await expect.poll(() => rows(page).count(), { timeout: 20_000 }).toBeLessThan(40)
    await expect.poll(() => rows(page).first().textContent()).toMatch(/, clears, .* of .* \+ /)
    expect(await stage(page, 'Measure').textContent()).toMatch(/18 keep-outs, ±4\u00a0mm/)
    expect(await page.getByRole('contentinfo').textContent()).toMatch(
      /centre of the lower rail.*gaps in.*error ≤ 0\.00.*drawing aid/s,
    )
    await screenshot('window-wide')
  })

  test('a number typed in inches changes the verdict; undo and redo take it back and forth', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await openCore(page)
    const depth = page.getByRole('textbox', { name: 'Depth' })
    expect(await depth.inputValue()).toBe('90')
    await depth.fill('6 1/4"')
    await depth.press('Enter')
    await expect.poll(() => counts(page)).not.toMatch(/0 foul/)
    expect(await depth.inputValue()).toBe('158.75')
    expect(await page.getByRole('button', { name: 'Undo Core, Depth: 158.75' }).isEnabled()).toBe(true)
    await page.keyboard.press('Control+z')
    await settled(page)
    await expect.poll(() => counts(page)).toMatch(/0 foul.* 0 short.* 0 unproved/)
    expect(await depth.inputValue()).toBe('90')
    await page.keyboard.press('Control+Shift+Z')
    await expect.poll(() => counts(page)).not.toMatch(/0 foul/)
    await page.keyboard.press('Control+z')
    // Arrow keys step; all steps of one visit are one step back.
    await depth.focus()
    for (let i = 0; i < 3; i++) await depth.press('ArrowUp')
    await depth.press('Shift+ArrowDown')
    expect(await depth.inputValue()).toBe('83')
    await page.keyboard.press('Control+z')
    await expect.poll(() => depth.inputValue()).toBe('90')
    await settled(page)
  })

  test('what cannot be read keeps the old value and says why; Escape puts it back', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await openCore(page)
    const before = await counts(page)
    const depth = page.getByRole('textbox', { name: 'Depth' })
    for (const [typed, said] of [
      ['1,234', /two ways/],
      ['ten', /not a length/],
      ['0', /more than 0/],
      ['', /no length/],
    ] as const) {
      await depth.fill(typed)
      await depth.press('Enter')
      await expect.poll(() => page.locator('.figure-fault').allTextContents()).toEqual([expect.stringMatching(said)])
      expect(await depth.getAttribute('aria-invalid')).toBe('true')
      await depth.press('Escape')
      expect(await depth.inputValue()).toBe('90')
      expect(await page.locator('.figure-fault').count()).toBe(0)
    }
    expect(await counts(page)).toBe(before)
    expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true)
  })

  test('choosing a row flies to its gap and shows every figure', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    const axes = () => page.locator('.axes').innerHTML()
    const label = page.locator('.gap-number')
    await rows(page).first().click()
    await expect.poll(() => label.textContent()).toMatch(/✓ [\d.]+ of \d+/)
    const details = page.getByRole('region', { name: 'Chosen gap' })
    expect(await details.textContent()).toMatch(/Gap\s*[\d.]+ mm\s*Required\s*[\d.]+ mm\s*Margin\s*[\d.]+ mm/)
    // The drawing comes to rest with the dimension in it.
    const overhang = async () => {
      const drawing = await page.getByRole('application').boundingBox()
      const box = await page.locator('.gap-line').first().boundingBox()
      if (!drawing || !box) return Infinity
      return Math.max(drawing.x - box.x, box.x + box.width - drawing.x - drawing.width)
    }
    await expect.poll(overhang, { timeout: 10_000 }).toBeLessThan(0)
    await screenshot('window-gap')
    // The row's figures go to the clipboard as text.
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write'])
    await page.keyboard.press('Control+c')
    const copied = await page.evaluate(() => navigator.clipboard.readText())
    expect(copied).toMatch(/^Crash beam to tank (left|right)\tclears\nGap\t[\d.]+ mm\nError\t/)
    // By keyboard: down to the next row, then the drawing turns, moves, fits and changes views.
    const first = await label.textContent()
    await page.keyboard.press('ArrowDown')
    await expect.poll(() => rows(page).nth(1).getAttribute('aria-selected')).toBe('true')
    expect(await page.locator('.gap-names').textContent()).not.toBe('')
    expect(first).not.toBe('')
    await page.getByRole('application').focus()
    const before = await axes()
    await page.keyboard.press('ArrowLeft')
    await expect.poll(axes).not.toBe(before)
    await page.keyboard.press('1')
    expect(await page.getByRole('radio', { name: 'front', exact: true }).getAttribute('aria-checked')).toBe('true')
    await page.keyboard.press('f')
    await page.keyboard.press('0')
    expect(await page.getByRole('radio', { name: 'space' }).getAttribute('aria-checked')).toBe('true')
    // A small drawing takes the large place.
    await page.getByRole('button', { name: 'Bring the plan view to the large drawing' }).click()
    expect(await page.getByRole('radio', { name: 'plan' }).getAttribute('aria-checked')).toBe('true')
  })

  test('the candidate that fouls shows what overlaps, as a volume', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    // The plainest look at it: nothing but the drawing, no chosen row.
    const purpleBefore = await purplePixels(page)
    await candidate(page, /Tall/).click()
    await expect.poll(() => counts(page)).toMatch(/[1-9]\d* foul/)
    await settled(page)
    await expect.poll(() => purplePixels(page), { timeout: 10_000 }).toBeGreaterThan(purpleBefore + 200)
    await rows(page).first().click()
    await expect.poll(() => page.locator('.gap-number').textContent()).toMatch(/✕ overlaps by/)
    expect(await page.getByRole('region', { name: 'Chosen gap' }).textContent()).toMatch(
      /Overlap\s*[\d.]+ mm, out by moving [\d.]+ mm/,
    )
    await page.waitForTimeout(900)
    await screenshot('window-fouls')
  })

  test('millimetres and inches, light and dark paper, narrow', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck, size: { width: 900, height: 700 } })
    await settled(page)
    await page.getByRole('radio', { name: 'inch' }).click()
    await expect.poll(() => rows(page).first().textContent()).toMatch(/\d+\/\d+/)
    await page.getByRole('radio', { name: 'mm' }).click()
    await screenshot('window-narrow')
    await page.keyboard.press('d')
    expect(await page.locator('html').getAttribute('data-theme')).toBe('dark')
    await page.setViewportSize({ width: 1440, height: 900 })
    await rows(page).nth(2).click()
    await page.waitForTimeout(1500)
    await screenshot('window-dark')
    // Nothing sticks out of the window at any of these sizes.
    for (const width of [1440, 1100, 900, 760]) {
      await page.setViewportSize({ width, height: 700 })
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
    }
  })
})

/** Pixels of the drawing in the colour of what fouls, as the screen shows them. */
async function purplePixels(page: Page): Promise<number> {
  const shot = await page.locator('.viewport-canvas').screenshot()
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
    const pen = new OffscreenCanvas(image.width, image.height).getContext('2d')!
    pen.drawImage(image, 0, 0)
    const { data } = pen.getImageData(0, 0, image.width, image.height)
    let count = 0
    for (let i = 0; i < data.length; i += 4)
      if (data[i] < 130 && data[i + 1] < 90 && data[i + 2] > 95 && data[i + 2] > data[i] + 15) count++
    return count
  }, shot.toString('base64'))
}

describe('editing', () => {
  test('saving writes the file; closing the message of unsaved work loses nothing', async () => {
    const { page, bayPath } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await openCore(page)
    const depth = page.getByRole('textbox', { name: 'Depth' })
    await depth.fill('76')
    await depth.press('Tab')
    await expect.poll(() => page.getByText('unsaved').count()).toBe(1)
    await expect.poll(() => page.title()).toMatch(/^• Tarnbeck 300/)
    await page.keyboard.press('Control+s')
    await expect.poll(() => page.getByText('unsaved').count()).toBe(0)
    expect(JSON.parse(readFileSync(bayPath!, 'utf8')).candidates[0].core.depth).toBe(76)
    await page.keyboard.press('Control+z')
    await expect.poll(() => page.getByText('unsaved').count()).toBe(1)
    await drop(page, [{ name: 'other.bay.json', text: JSON.stringify(sampleBay()) }])
    const question = page.getByRole('alertdialog')
    await question.getByRole('button', { name: 'Cancel' }).click()
    expect(await page.locator('.brand-title').textContent()).toMatch(/Tarnbeck/)
    await drop(page, [{ name: 'other.bay.json', text: JSON.stringify(sampleBay()) }])
    await question.getByRole('button', { name: 'Do not save' }).click()
    await expect.poll(() => page.locator('.brand-title').textContent()).toBe(sampleBay().name)
    expect(JSON.parse(readFileSync(bayPath!, 'utf8')).candidates[0].core.depth).toBe(76)
  })

  test('a keep-out left out for a look caps the verdict, and everything says so', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await stage(page, 'Measure').click()
    const keepOuts = page.getByRole('region', { name: 'Keep-outs' })
    await keepOuts.getByRole('button', { name: /Crash beam/ }).click()
    const inPlace = keepOuts.getByRole('switch', { name: 'In place' })
    await inPlace.focus()
    await page.keyboard.press('Space')
    await expect.poll(() => ledger(page).textContent()).toMatch(/Left out for a look, not checked: Crash beam/)
    expect(await keepOuts.textContent()).toMatch(/nothing says that it may be removed/)
    await page.keyboard.press('Control+z')
    await settled(page)
    await expect.poll(() => ledger(page).textContent()).not.toMatch(/Left out/)
    // A clearance of its own, then the role's default again.
    const clearance = page.getByRole('textbox', { name: 'Clearance' })
    await clearance.fill('40')
    await clearance.press('Enter')
    await expect.poll(() => counts(page)).not.toMatch(/0 short/)
    await clearance.fill('')
    await clearance.press('Enter')
    await expect.poll(() => counts(page)).toMatch(/0 short/)
    expect(await clearance.getAttribute('placeholder')).toBe('10')
  })

  test('a pipe that cannot be bent keeps the last good ledger, marked, with the reason; corners come and go', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await stage(page, 'Pipes').click()
    const pipes = page.getByRole('region', { name: 'Pipes of the candidate' })
    for (const name of [/^Tube/, /^Corners/]) await pipes.getByRole('button', { name }).click()
    const before = await counts(page)
    const radius = page.getByRole('textbox', { name: 'or typed' })
    await radius.fill('300')
    await radius.press('Enter')
    await expect.poll(() => ledger(page).getAttribute('data-state')).toBe('outOfDate')
    expect(await ledger(page).getByRole('alert').textContent()).toMatch(/hot/)
    expect(await stage(page, 'Gaps').textContent()).toMatch(/out of date/)
    expect(await counts(page)).toBe(before)
    await screenshot('window-out-of-date')
    await page.keyboard.press('Control+z')
    await settled(page)
    expect(await ledger(page).getByRole('alert').count()).toBe(0)
    const corners = page.locator('.corner')
    const count = await corners.count()
    await page.getByRole('button', { name: 'Take out Corner 1' }).click()
    expect(await corners.count()).toBe(count - 1)
    await page.keyboard.press('Control+z')
    await expect.poll(() => corners.count()).toBe(count)
    await settled(page)
  })
})

describe('files that are not good', () => {
  test('a broken bay shows a banner with line and column, and what was open stays', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await settled(page)
    const before = await counts(page)
    await drop(page, [{ name: 'broken.bay.json', text: '{"format": "gapwright-bay",\n "version" 1}' }])
    const banner = page.locator('.banner')
    await expect
      .poll(() => banner.textContent())
      .toMatch(/broken\.bay\.json was not opened\. What was open before stays/)
    expect(await banner.textContent()).toMatch(/line 2, column 12/)
    expect(await counts(page)).toBe(before)
    await banner.getByRole('button').click()
    expect(await banner.count()).toBe(0)
    const strange = { ...sampleBay(), colour: 'red' }
    await drop(page, [{ name: 'strange.bay.json', text: JSON.stringify(strange, null, 1) }])
    await expect.poll(() => banner.textContent()).toMatch(/no such field.*colour|colour.*no such field/s)
    await drop(page, [{ name: 'picture.png', text: 'x' }])
    await expect.poll(() => banner.textContent()).toMatch(/No bay among the files/)
    expect(await counts(page)).toBe(before)
    expect(await page.locator('.brand-title').textContent()).toMatch(/Tarnbeck/)
  })

  test('a bay whose mesh is not there is not shown half', async () => {
    const { page } = await openWindow()
    await expect.poll(() => page.getByText('No bay is open').count()).toBe(1)
    const bay = sampleBay()
    const withMesh = {
      ...bay,
      keepOuts: [{ id: 'scan', name: 'Scan', role: 'body', shape: { kind: 'mesh', file: 'scan.stl', unit: 'mm' } }],
      ports: [],
      candidates: [],
    }
    await drop(page, [{ name: 'mesh.bay.json', text: JSON.stringify(withMesh) }])
    await expect.poll(() => page.locator('.banner').textContent()).toMatch(/scan\.stl/)
    expect(await page.getByText('No bay is open').count()).toBe(1)
    // The same with its mesh beside it.
    const tetrahedron = [
      [
        [0, 0, 0],
        [0, 9, 0],
        [9, 0, 0],
      ],
      [
        [0, 0, 0],
        [9, 0, 0],
        [0, 0, 9],
      ],
      [
        [0, 0, 0],
        [0, 0, 9],
        [0, 9, 0],
      ],
      [
        [9, 0, 0],
        [0, 9, 0],
        [0, 0, 9],
      ],
    ]
    const stl = `solid t\n${tetrahedron.map((t) => `facet normal 0 0 0\nouter loop\n${t.map((v) => `vertex ${v.join(' ')}`).join('\n')}\nendloop\nendfacet`).join('\n')}\nendsolid t\n`
    await drop(page, [
      { name: 'mesh.bay.json', text: JSON.stringify(withMesh) },
      { name: 'scan.stl', text: stl },
    ])
    await expect.poll(() => page.locator('.brand-title').textContent()).toBe(bay.name)
    await stage(page, 'Measure').click()
    await page.getByRole('button', { name: /^body Scan/ }).click()
    expect(await page.getByRole('region', { name: 'Keep-outs' }).textContent()).toMatch(
      /scan\.stl: 4 triangles, closed/,
    )
    expect(await ledger(page).textContent()).toMatch(/No candidate yet/)
  })

  test('a file that vanished under the window is told when saving, and the work is kept', async () => {
    const { page, server, errors } = await openWindow({ bay: tarnbeck })
    await settled(page)
    await openCore(page)
    const depth = page.getByRole('textbox', { name: 'Depth' })
    await depth.fill('76')
    await depth.press('Enter')
    await server.close()
    await page.keyboard.press('Control+s')
    await expect.poll(() => page.locator('.banner').textContent()).toMatch(/not saved/)
    expect(await depth.inputValue()).toBe('76')
    expect(await page.getByText('unsaved').count()).toBe(1)
    // The browser itself reports the refused connection.
    errors.length = 0
  })
})

test('help lists the keys, and leaves with Escape', async () => {
  const { page } = await openWindow({ bay: 'assets/corvane/corvane.bay.json' })
  await settled(page)
  expect(await page.getByRole('radio', { name: 'inch', exact: true }).getAttribute('aria-checked')).toBe('true')
  await page.keyboard.press('?')
  const help = page.getByRole('dialog')
  expect(await help.textContent()).toMatch(/Ctrl\+Z\s*Undo/)
  await page.keyboard.press('Escape')
  await expect.poll(() => help.count()).toBe(0)
})

test('a bay that is edited elsewhere is read anew when it is opened again', async () => {
  const { page, bayPath } = await openWindow({ bay: tarnbeck })
  await settled(page)
  const bay = JSON.parse(readFileSync(bayPath!, 'utf8'))
  bay.name = 'Another name'
  writeFileSync(bayPath!, JSON.stringify(bay))
  await page.reload()
  await settled(page)
  expect(await page.locator('.brand-title').textContent()).toBe('Another name')
})
