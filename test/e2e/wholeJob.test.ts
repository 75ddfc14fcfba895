import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, onTestFinished, test } from 'vitest'
import { openBay } from '../../app/files/bayFolder.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { add, begin, enter, field, leaveFields, press, tabTo } from './byKeyboard.ts'
import { cube } from './cube.ts'
import { fresh, openWindow } from './harness.ts'

const stage = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name })
const ledgerOf = (page: Page) => page.getByRole('region', { name: 'Gap ledger' }).getByRole('option').allInnerTexts()
const verdicts = (page: Page) => stage(page, 'Gaps').textContent()

/** Where a browser cannot write files itself, a save hands them over as downloads: they are put in a folder together. */
async function savedTo(page: Page, folder: string, files: number) {
  await page.evaluate(() =>
    Object.defineProperty(window, 'showSaveFilePicker', { value: undefined, configurable: true }),
  )
  const downloads: Promise<string>[] = []
  page.on('download', (one) => {
    const name = one.suggestedFilename()
    downloads.push(
      one.path().then((path) => {
        cpSync(path, join(folder, name))
        return name
      }),
    )
  })
  await page.keyboard.press('Control+s')
  await expect.poll(() => downloads.length).toBe(files)
  return Promise.all(downloads)
}

test('from an empty start to a candidate that clears, saved, closed and opened again, without a pointer', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-job-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  const { page, screenshot } = await openWindow()
  await page.getByRole('heading', { name: 'No bay is open' }).waitFor()
  await begin(page)

  await add(page, 'Box', 'Radiator pack')
  await enter(page, 'X', '120')
  await enter(page, 'Along X', '60')
  await enter(page, 'Along Y', '640')
  await enter(page, 'Along Z', '420')
  await add(page, 'Half-space', 'Ground')
  await enter(page, 'Z', '-300')
  await add(page, 'Sweep', 'Crash beam')
  await enter(page, 'Crash beam, Path, row 1, Z', '260')
  await add(page, 'Cylinder', 'Tow eye')
  await add(page, 'Cylinder', 'Latch stay')
  await add(page, 'Hull', 'Left lamp')
  await press(page, 'Paste a whole list …')
  await page.keyboard.type('X;Y;Z\n-120;-640;400\n60,5;-600;400\n-120;-430;400\n-120;-500;520')
  await press(page, 'Put in place of all rows')
  await tabTo(page, 'Both sides', 'switch')
  await page.keyboard.press('Space')
  await add(page, 'Tube', 'Refrigerant pipe')
  await screenshot('job-keep-outs')

  const data = await page.evaluateHandle((text) => {
    const transfer = new DataTransfer()
    transfer.items.add(new File([text], 'washer_bottle.stl'))
    return transfer
  }, cube(12))
  await page.locator('.window').dispatchEvent('drop', { dataTransfer: data })
  await page.getByRole('dialog', { name: 'Mesh washer_bottle.stl' }).waitFor()
  await press(page, 'Add to the bay')
  await expect.poll(() => field(page, 'Name').inputValue()).toBe('Washer bottle')
  await expect.poll(() => stage(page, 'Measure').textContent()).toMatch(/9 keep-outs/)

  await leaveFields(page)
  await page.keyboard.press('Escape')
  await press(page, 'Add a candidate')
  await page.locator(fresh).waitFor()
  await screenshot('job-candidate')
  await expect.poll(() => verdicts(page)).toMatch(/9 gaps clear/)
  // Deeper and narrower, in inches on the way.
  await enter(page, 'Width', '14 1/2"')
  await enter(page, 'Depth', '3"')
  await expect.poll(() => stage(page, 'Core').textContent()).toMatch(/5\.61 L/)
  await page.locator(fresh).waitFor()
  await expect.poll(() => verdicts(page)).toMatch(/9 gaps clear/)
  const shown = await ledgerOf(page)
  expect(shown).toHaveLength(9)
  await screenshot('job-clears')

  const files = await savedTo(page, folder, 2)
  expect(files).toEqual(['hill-van-front.bay.json', 'washer_bottle.stl'])
  await expect.poll(() => page.locator('.brand-unsaved').count()).toBe(0)
  // Nothing is lost by closing, so nothing is asked.
  await page.close({ runBeforeUnload: true })
  await expect.poll(() => page.isClosed()).toBe(true)

  const again = await openWindow({ bay: join(folder, files[0]) })
  await again.page.locator(fresh).waitFor()
  expect(await ledgerOf(again.page)).toEqual(shown)

  // The file says the same where there is no window.
  const read = await openBay(join(folder, files[0]))
  if (!read.ok) throw new Error(JSON.stringify(read.faults))
  const { bay, meshes } = read.value
  expect(bay.keepOuts.map(({ shape }) => shape.kind)).toEqual([
    'box',
    'halfSpace',
    'sweep',
    'cylinder',
    'cylinder',
    'hull',
    'tube',
    'mesh',
  ])
  expect(bay.candidates.map(({ core }) => [core.depth, core.width])).toEqual([[76.2, 368.3]])
  expect(ledger(bay, undefined, meshes)).toMatchObject({ ok: true, value: { verdict: 'clears' } })
})
