import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { openBay } from '../../app/files/bayFolder.ts'
import { readBay } from '../../core/bay/read.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { wrongOn } from './axe.ts'
import { add, begin, editor, enter, field, leaveFields, press, tabTo } from './byKeyboard.ts'
import { cube } from './cube.ts'
import { fresh, openWindow } from './harness.ts'

const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'

const stage = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name })
const undoOf = async (page: Page) => page.getByRole('button', { name: /^Undo/ }).getAttribute('aria-label')
const faults = (page: Page) => page.locator('.figure-fault:visible').allTextContents()

const focused = (page: Page) => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))

const paste = (at: Locator, text: string) =>
  at.evaluate((element, pasted) => {
    const clipboardData = new DataTransfer()
    clipboardData.setData('text/plain', pasted)
    element.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }))
  }, text)

async function drop(page: Page, name: string, text: string) {
  const data = await page.evaluateHandle(
    ([called, content]) => {
      const transfer = new DataTransfer()
      transfer.items.add(new File([content], called))
      return transfer
    },
    [name, text] as const,
  )
  await page.locator('.window').dispatchEvent('drop', { dataTransfer: data })
}

/** What a save downloads where the browser cannot write files itself: the bay, then its new meshes. */
async function saved(page: Page): Promise<{ bay: Bay; meshes: string[] }> {
  await page.evaluate(() =>
    Object.defineProperty(window, 'showSaveFilePicker', { value: undefined, configurable: true }),
  )
  const downloads: { name: string; path: Promise<string> }[] = []
  page.on('download', (one) => downloads.push({ name: one.suggestedFilename(), path: one.path() }))
  await page.keyboard.press('Control+s')
  await expect.poll(() => downloads.length).toBe(2)
  const bay = readBay(readFileSync(await downloads[0].path, 'utf8'))
  if (!bay.ok) throw new Error(JSON.stringify(bay.faults))
  expect(downloads[0].name).toBe('hill-van-front.bay.json')
  expect(readFileSync(await downloads[1].path, 'utf8')).toBe(cube(12))
  return { bay: bay.value, meshes: downloads.slice(1).map(({ name }) => name) }
}

describe('a bay from nothing, by keyboard', () => {
  test('eight keep-outs of seven kinds, undone, redone and saved', async () => {
    const { page, screenshot } = await openWindow()
    await page.getByRole('heading', { name: 'No bay is open' }).waitFor()
    await begin(page)
    expect(await page.getByRole('contentinfo').textContent()).toMatch(/centre of the lower rail.*X rearward/)

    await add(page, 'Box', 'Radiator pack')
    await enter(page, 'Along X', '2 1/2"')
    await enter(page, 'Along Y', '(640 - 2 * 14.5)/2')
    expect(await field(page, 'Along X').inputValue()).toBe('63.5')
    expect(await field(page, 'Along Y').inputValue()).toBe('305.5')
    expect(await undoOf(page)).toBe('Undo Radiator pack, Along Y: 305.5')

    await add(page, 'Cylinder', 'Tow eye')
    await enter(page, 'Diameter', '1"')
    expect(await field(page, 'Radius').inputValue()).toBe('12.7')

    await add(page, 'Hull', 'Left lamp')
    await press(page, 'Paste a whole list …')
    await page.keyboard.type('X;Y;Z\n-120;-640;400\n60,5;-600;400\n-120;-430;400\n-120;-500;520')
    await press(page, 'Put in place of all rows')
    await expect.poll(() => editor(page).locator('.points-row[data-row]').count()).toBe(4)
    // On the last row Enter adds one; its numbers follow.
    await tabTo(page, 'Left lamp, Points, row 4, X')
    await page.keyboard.press('Enter')
    await expect.poll(() => editor(page).locator('.points-row[data-row]').count()).toBe(5)
    await expect.poll(() => focused(page)).toBe('Left lamp, Points, row 5, X')
    await page.keyboard.type('50')
    await page.keyboard.press('Tab')
    await page.keyboard.type('-480')
    await page.keyboard.press('ArrowUp')
    await expect.poll(() => focused(page)).toBe('Left lamp, Points, row 4, Y')
    // A block from a spreadsheet is laid over the cells from where it is put.
    await paste(page.locator('[data-row="3"] input').first(), '-120\t-500\t530\r\n50\t-480\t20 1/2"')
    await expect.poll(() => field(page, 'Left lamp, Points, row 5, Z').inputValue()).toBe('520.7')
    expect(await undoOf(page)).toBe('Undo Left lamp, Points: 2 rows pasted')
    await screenshot('measure-hull')

    await add(page, 'Half-space', 'Ground')
    await enter(page, 'Z', '-60')
    await add(page, 'Sweep', 'Crash beam')
    // One height for all of its path.
    await enter(page, 'Crash beam, Path, row 1, Z', '260')
    expect(await field(page, 'Crash beam, Path, row 2, Z').inputValue()).toBe('260')
    await add(page, 'Tube', 'Refrigerant pipe')
    await enter(page, 'Bend radius', '40')
    await tabTo(page, 'Copy', 'button')
    await page.keyboard.press('Enter')
    await expect.poll(() => field(page, 'Name').inputValue()).toBe('Refrigerant pipe 2')
    await tabTo(page, 'Both sides', 'switch')
    await page.keyboard.press('Space')

    await leaveFields(page)
    await page.keyboard.press('a')
    await page.keyboard.type('Mesh')
    await page.keyboard.press('Enter')
    // Its first button takes the keys a frame after the dialog is there.
    await page.getByRole('dialog').locator('button:focus').waitFor()
    const choosing = page.waitForEvent('filechooser')
    await page.keyboard.press('Enter')
    await (await choosing).setFiles({ name: 'washer_bottle.stl', mimeType: 'model/stl', buffer: Buffer.from(cube(12)) })
    await page.getByRole('dialog', { name: 'Mesh washer_bottle.stl' }).waitFor()
    expect(await page.getByRole('dialog').textContent()).toMatch(/12\.0 mm × 12\.0 mm × 12\.0 mm.*12 \(STL\).*closed/s)
    await screenshot('measure-mesh')
    await press(page, 'Add to the bay')
    await expect.poll(() => field(page, 'Name').inputValue()).toBe('Washer bottle')
    // That it has to lie beside the bay is said on adding, at the keep-out for as long as it does not, and on saving.
    await expect.poll(() => page.locator('.banner').textContent()).toMatch(/Put both files into one folder/)
    expect(await page.locator('.callout-caution').textContent()).toMatch(/lies in no folder yet/)
    await expect.poll(() => stage(page, 'Measure').textContent()).toMatch(/9 keep-outs/)
    await page.waitForTimeout(700)
    await screenshot('measure-eight')

    await leaveFields(page)
    for (let n = 0; n < 60 && (await undoOf(page)) !== 'Undo'; n++) await page.keyboard.press('Control+z')
    await expect.poll(() => stage(page, 'Measure').textContent()).toMatch(/no keep-outs yet/)
    const redo = page.getByRole('button', { name: /^Redo/ })
    for (let n = 0; n < 60 && (await redo.isEnabled()); n++) await page.keyboard.press('Control+Shift+Z')
    await expect.poll(() => stage(page, 'Measure').textContent()).toMatch(/9 keep-outs/)

    const { bay, meshes } = await saved(page)
    expect(meshes).toEqual(['washer_bottle.stl'])
    await expect.poll(() => page.locator('.banner').textContent()).toMatch(/washer_bottle\.stl.*is not read without/)
    await screenshot('measure-handed')
    expect(await page.getByText('lies in no folder yet').count()).toBe(0)
    expect(await page.locator('.brand-unsaved').count()).toBe(0)
    expect(bay.frame).toEqual({ origin: 'centre of the lower rail', note: 'X rearward, Y to the right, Z up' })
    expect(bay.keepOuts.map(({ name, shape }) => [name, shape.kind])).toEqual([
      ['Radiator pack', 'box'],
      ['Tow eye', 'cylinder'],
      ['Left lamp', 'hull'],
      ['Ground', 'halfSpace'],
      ['Crash beam', 'sweep'],
      ['Refrigerant pipe', 'tube'],
      ['Refrigerant pipe 2', 'tube'],
      ['Washer bottle', 'mesh'],
    ])
    expect(bay.keepOuts[2].shape).toMatchObject({
      points: [
        [-120, -640, 400],
        [60.5, -600, 400],
        [-120, -430, 400],
        [-120, -500, 530],
        [50, -480, 520.7],
      ],
    })
    expect(bay.keepOuts[6].mirror).toBe(true)
  })
})

describe('meshes on their way into a bay', () => {
  test('dropped beside a bay that has a folder: written there, placed by points, its misfit taken as uncertainty', async () => {
    const { page, bayPath, screenshot } = await openWindow({ bay: tarnbeck })
    await page.locator(fresh).waitFor()
    await drop(page, 'bracket.stl', cube(4))
    await page.getByRole('dialog', { name: 'Mesh bracket.stl' }).waitFor()
    await page.getByRole('button', { name: /Its numbers are in/ }).click()
    await page.getByRole('option', { name: 'inches' }).click()
    await expect
      .poll(() => page.getByRole('dialog').textContent())
      .toMatch(/101\.6 mm × 101\.6 mm × 101\.6 mm.*4″ × 4″ × 4″/s)
    await page.getByRole('button', { name: 'Add to the bay' }).click()
    await expect.poll(() => field(page, 'Name').inputValue()).toBe('Bracket')
    const beside = join(dirname(bayPath!), 'bracket.stl')
    expect(readFileSync(beside, 'utf8')).toBe(cube(4))

    await editor(page).getByRole('button', { name: 'Place by three points …' }).click()
    // A quarter turn about Z, then off to (−300, 700, 500); the last reading is 1 mm out.
    const pairs = [
      ['0', '0', '0', '-300', '700', '500'],
      ['4"', '0', '0', '-300', '801.6', '500'],
      ['0', '4"', '0', '-401.6', '700', '501'],
    ]
    for (const [n, pair] of pairs.entries())
      for (const [k, text] of pair.entries())
        await field(page, `Pair ${n + 1}, ${k < 3 ? 'on the mesh' : 'in the bay'}, ${'XYZ'[k % 3]}`).fill(text)
    await editor(page).getByRole('button', { name: 'Place it' }).click()
    await expect.poll(() => page.locator('.placing-told').textContent()).toMatch(/The points fit to 0\.\d\d mm/)
    expect(Number(await field(page, 'About Z').inputValue())).toBeCloseTo(90, 0)
    await editor(page)
      .getByRole('button', { name: /^Take ±3/ })
      .click()
    await expect.poll(() => field(page, 'Uncertainty').inputValue()).toMatch(/^3\.[1-9]/)
    await page.waitForTimeout(600)
    await editor(page).locator('.placing').scrollIntoViewIfNeeded()
    await screenshot('measure-placing')

    // Points on one line leave the turn open; nonsense is said beside its field. The mesh stays where it was.
    const z = await field(page, 'About Z').inputValue()
    await field(page, 'Pair 3, on the mesh, Y').fill('0')
    await field(page, 'Pair 3, on the mesh, X').fill('8"')
    await editor(page).getByRole('button', { name: 'Place it' }).click()
    await expect.poll(() => faults(page)).toEqual([expect.stringMatching(/on the mesh lie on one line/)])
    await field(page, 'Pair 3, on the mesh, X').fill('eight')
    await editor(page).getByRole('button', { name: 'Place it' }).click()
    await expect.poll(() => field(page, 'Pair 3, on the mesh, X').getAttribute('aria-invalid')).toBe('true')
    expect(await faults(page)).toEqual([
      expect.stringMatching(/^X: not a length.*eight/),
      expect.stringMatching(/needs a length/),
    ])
    expect(await field(page, 'About Z').inputValue()).toBe(z)
    await screenshot('measure-placing-fault')
    // A point is pasted whole: here into readings, and into where the file's origin lies as one step.
    await paste(field(page, 'Pair 3, on the mesh, Y'), '0, 4", 0')
    expect(await field(page, 'Pair 3, on the mesh, X').inputValue()).toBe('0')
    expect(await field(page, 'Pair 3, on the mesh, Y').inputValue()).toBe('101.6')
    const origin = editor(page).getByRole('group', { name: 'The file’s origin in the bay' })
    const had = await origin.getByLabel('X', { exact: true }).inputValue()
    await paste(origin.getByLabel('Y', { exact: true }), '-250\t600\t1 in')
    await expect.poll(() => origin.getByLabel('Z', { exact: true }).inputValue()).toBe('25.4')
    await page.getByRole('button', { name: /^Undo Bracket.*: −250, 600, 25\.4/ }).click()
    await expect.poll(() => origin.getByLabel('X', { exact: true }).inputValue()).toBe(had)

    await page.locator(fresh).waitFor()
    await page.keyboard.press('Control+s')
    await expect.poll(() => page.locator('.brand-unsaved').count()).toBe(0)
    const read = await openBay(bayPath!)
    expect(read.ok && read.value.bay.keepOuts.at(-1)).toMatchObject({
      id: 'bracket',
      shape: { kind: 'mesh', file: 'bracket.stl', unit: 'inch' },
    })
    // Another mesh of that name does not overwrite it.
    await drop(page, 'bracket.stl', cube(7))
    await page.getByRole('button', { name: 'Add to the bay' }).click()
    await expect.poll(() => field(page, 'Name').inputValue()).toBe('Bracket 2')
    expect(readFileSync(beside, 'utf8')).toBe(cube(4))
    expect(existsSync(join(dirname(bayPath!), 'bracket-2.stl'))).toBe(true)
  })

  test('what is not what it says, is empty or without size is refused where it was asked for', async () => {
    const { page } = await openWindow({ bay: tarnbeck })
    await page.locator(fresh).waitFor()
    for (const [name, text, said] of [
      ['photo.stl', 'GIF89a not a mesh at all', /photo\.stl/],
      ['empty.ply', '', /empty\.ply.*0 bytes/],
      ['cut.stl', cube(9).slice(0, 400), /cut\.stl/],
      ['point.stl', cube(0), /point\.stl/],
    ] as const) {
      await drop(page, name, text)
      await expect.poll(() => faults(page)).toEqual([expect.stringMatching(said)])
      expect(await page.getByRole('button', { name: 'Add to the bay' }).count()).toBe(0)
      await page.keyboard.press('Escape')
      await page.getByRole('dialog').waitFor({ state: 'detached' })
    }
    // An open one is a shell, and says so.
    await drop(page, 'shell.stl', cube(9, 10))
    await expect.poll(() => page.getByRole('dialog').textContent()).toMatch(/open at 4 edges: a shell/)
    await page.keyboard.press('Escape')
    expect(await undoOf(page)).toBe('Undo')
  })
})

describe('readings that make no sense', () => {
  test('keep what was there and say why beside the place', async () => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck })
    await page.locator(fresh).waitFor()
    await stage(page, 'Measure').click()
    await add(page, 'Box', 'Battery')
    for (const [typed, said] of [
      ['0', /more than 0/],
      ['2 * x', /not a length/],
      ['(3', /closing bracket/],
      ['1,234', /two ways/],
    ] as const) {
      await field(page, 'Along X').fill(typed)
      await field(page, 'Along X').press('Enter')
      await expect.poll(() => faults(page)).toEqual([expect.stringMatching(said)])
      await field(page, 'Along X').press('Escape')
      expect(await field(page, 'Along X').inputValue()).toBe('100')
    }
    await add(page, 'Hull', 'Flat thing')
    await editor(page).getByRole('button', { name: 'Paste a whole list …' }).click()
    await page.keyboard.type('0 0 0\n1 0 0\n0 1 0\n1 1 0')
    await editor(page).getByRole('button', { name: 'Put in place of all rows' }).click()
    await expect.poll(() => faults(page)).toEqual([expect.stringMatching(/plane/)])
    await page.locator('.points-paste textarea').fill('0 0 0\n1 zero 0')
    await editor(page).getByRole('button', { name: 'Put in place of all rows' }).click()
    await expect.poll(async () => (await faults(page)).join()).toMatch(/line 2/)
    await screenshot('measure-bad')
    expect(await editor(page).locator('.points-row[data-row]').count()).toBe(8)

    // What pipes end at stays; a keep-out that a port sits on frees the port.
    const ports = page.getByRole('region', { name: 'Ports' })
    await ports.getByRole('button', { name: /⌀/ }).first().click()
    await ports.getByRole('button', { name: 'Delete' }).click()
    await expect.poll(() => ports.textContent()).toMatch(/It stays: pipes end at it/)
    await page.getByRole('button', { name: 'Add a port' }).click()
    await ports.getByRole('textbox', { name: 'Outside diameter' }).fill('2 1/4"')
    await ports.getByRole('textbox', { name: 'Outside diameter' }).press('Enter')
    await ports.getByRole('button', { name: 'Delete' }).click()
    const openings = page.getByRole('region', { name: 'Openings' })
    await openings.getByRole('button', { name: 'Add an opening' }).click()
    await openings.getByRole('textbox', { name: 'At X' }).fill('-260')
    await openings.getByRole('textbox', { name: 'At X' }).press('Enter')
    await screenshot('measure-opening')
    expect(await undoOf(page)).toBe('Undo Opening, At X: −260')
  })
})

describe('the stage on other papers', () => {
  test.each([
    ['narrow', { width: 1000, height: 700 }, false],
    ['dark', { width: 1440, height: 900 }, true],
  ] as const)('%s: every editor is whole', async (name, size, dark) => {
    const { page, screenshot } = await openWindow({ bay: tarnbeck, size })
    await page.locator(fresh).waitFor()
    if (dark) await page.getByRole('button', { name: 'Dark paper' }).click()
    await stage(page, 'Measure').click()
    for (const item of [/Crash beam/, /lamp/, /Bumper cover/]) {
      await page.getByRole('region', { name: 'Keep-outs' }).getByRole('button', { name: item }).first().click()
      // Nothing runs out of the sheet sideways.
      const over = await page.locator('.side-sheet').evaluate((sheet) => sheet.scrollWidth - sheet.clientWidth)
      expect(over).toBe(0)
    }
    await page.waitForTimeout(700)
    await screenshot(`measure-${name}`)
  })
})

describe('what axe-core says of the stage', () => {
  test('nothing against its dialogs and the editor of each kind', async () => {
    const { page } = await openWindow()
    await page.getByRole('heading', { name: 'No bay is open' }).waitFor()
    await page.keyboard.press('Control+Alt+n')
    await page.getByRole('dialog', { name: 'A new bay' }).waitFor()
    await page.waitForTimeout(400)
    expect(await wrongOn(page, '.sheet'), 'a new bay').toEqual([])
    await page.keyboard.press('Escape')
    await page.getByRole('dialog').waitFor({ state: 'detached' })
    await begin(page)
    for (const kind of ['Box', 'Cylinder', 'Hull', 'Half-space', 'Sweep', 'Tube']) {
      await add(page, kind, `My ${kind}`)
      expect(await wrongOn(page, '.side-sheet'), kind).toEqual([])
    }
    await drop(page, 'shell.stl', cube(12))
    await page.getByRole('dialog', { name: 'Mesh shell.stl' }).waitFor()
    await page.waitForTimeout(400)
    expect(await wrongOn(page, '.sheet'), 'a mesh').toEqual([])
    await page.getByRole('button', { name: 'Add to the bay' }).click()
    await editor(page).getByRole('button', { name: 'Place by three points …' }).click()
    expect(await wrongOn(page, '.side-sheet'), 'placing').toEqual([])
    await page.getByRole('button', { name: 'Add a port' }).click()
    await page.getByRole('button', { name: 'Add an opening' }).click()
    expect(await wrongOn(page, '.side-sheet'), 'an opening').toEqual([])
  })
})
