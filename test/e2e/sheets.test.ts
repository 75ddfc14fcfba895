import { readFileSync } from 'node:fs'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, onTestFinished, test } from 'vitest'
import { readPdf } from '../../app/files/readPdf.ts'
import { travelNames } from '../../app/sheet/travel.ts'
import { cli } from '../kit/cli.ts'
import { wrongOn } from './axe.ts'
import { openWindow } from './harness.ts'
import { settled, stage } from './pipesStage.ts'

const panel = (page: Page) => page.getByRole('region', { name: 'Sheets of the candidate' })
const paper = (page: Page) => page.getByRole('region', { name: 'The sheets as they will be printed' })
const standing = (page: Page, state: string) =>
  page.locator(`.sheets[data-state=${state}]`).waitFor({ timeout: 120_000 })
const pages = (page: Page) => paper(page).getByRole('article')
const shownPage = (page: Page) => page.getByRole('textbox', { name: 'Page', exact: true }).inputValue()
/** The machine may be busy with other tests. */
const soon = <T>(what: () => T) => expect.poll(what, { timeout: 30_000 })

/** Share of a page's pixels that are dark: a page that was not drawn has none. */
const inkOn = (page: Page, index: number) =>
  pages(page)
    .nth(index)
    .locator('canvas')
    .evaluate((canvas: HTMLCanvasElement) => {
      const { data } = canvas.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height) ?? { data: [] }
      let dark = 0
      for (let i = 0; i < data.length; i += 4) if (data[i] < 100) dark++
      return (4 * dark) / data.length
    })

/** Folders by the browser's own access to them; the dialog answers with the page's private folder. */
const foldersAnswer = (page: Page) =>
  page.evaluate(() => Object.assign(globalThis, { showDirectoryPicker: () => navigator.storage.getDirectory() }))
const savesAsDownload = (page: Page) =>
  page.evaluate(() => Object.assign(globalThis, { showSaveFilePicker: undefined }))

test('sheets by keyboard: real pages, out of date after an edit, given up, saved, printed', async () => {
  const { page, bayPath, screenshot } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
  await settled(page)
  const loadedAtFirst = await page.evaluate(() => performance.getEntriesByType('resource').map(({ name }) => name))
  expect(loadedAtFirst.filter((name) => /Preview|pdfWorker|sheetsHere|DejaVu/.test(name))).toEqual([])
  await page.keyboard.press('p')
  await standing(page, 'fresh')
  await soon(() => inkOn(page, 0)).toBeGreaterThan(0.005)
  expect(await stage(page, 'Sheets').textContent()).toMatch(/✓ \d+ pages, clears/)
  const count = await pages(page).count()
  expect(count).toBeGreaterThan(6)
  await soon(() => pages(page).first().getByRole('paragraph').allTextContents()).toContain(
    'Tarnbeck 300, front bay: Wide 90',
  )
  // What is far away is not drawn.
  expect(await page.locator('.paper-page canvas').count()).toBeLessThan(count)
  await screenshot('sheets')
  expect(await wrongOn(page)).toEqual([])
  await page.keyboard.press('d')
  await page.waitForTimeout(400)
  await screenshot('sheets-dark')
  expect(await wrongOn(page)).toEqual([])
  await page.keyboard.press('d')

  // Pages by keys, by their number, and by the list of sheets.
  await paper(page).getByRole('region', { name: 'Pages as printed' }).focus()
  await page.keyboard.press('PageDown')
  await soon(() => shownPage(page)).toBe('2')
  await page.keyboard.press('End')
  await soon(() => shownPage(page)).toBe(String(count))
  const number = page.getByRole('textbox', { name: 'Page', exact: true })
  await number.fill('3')
  await number.press('Enter')
  await soon(() => shownPage(page)).toBe('3')
  const mark = panel(page).getByRole('button', { name: /^Gap report/ })
  const at = /page (\d+)\1$/.exec((await mark.textContent()) ?? '')?.[1] ?? ''
  await mark.press('Enter')
  await soon(() => shownPage(page)).toBe(at)
  await soon(() => inkOn(page, Number(at) - 1)).toBeGreaterThan(0.005)
  await page.getByRole('radio', { name: '100 %' }).press('Space')
  await soon(async () => Math.round((await pages(page).first().boundingBox())?.width ?? 0)).toBe(
    Math.round((210 / 25.4) * 96),
  )

  // Only some sheets, and an edit: out of date until the new ones are there.
  for (const name of ['Core and tanks', 'Pipes', 'Check on the car', 'Offering up', 'Cardboard mock-up'])
    await panel(page).getByRole('checkbox', { name }).press('Space')
  await standing(page, 'working')
  await paper(page)
    .getByText(/Out of date: new ones/)
    .waitFor()
  await standing(page, 'fresh')
  await soon(() => pages(page).count()).toBeLessThan(count)
  await stage(page, 'Core').press('Enter')
  await page
    .getByRole('region', { name: 'Parts of the candidate' })
    .getByRole('button', { name: /^Core/ })
    .press('Enter')
  const width = page.getByRole('textbox', { name: 'Width', exact: true })
  await width.fill('500')
  await width.press('Enter')
  await soon(() => stage(page, 'Sheets').textContent()).toContain('out of date')
  await settled(page)
  await page.keyboard.press('Escape')
  await stage(page, 'Sheets').press('Enter')
  await standing(page, 'working')
  await paper(page).getByRole('button', { name: 'Cancel: give up making these sheets' }).press('Enter')
  await standing(page, 'cancelled')
  expect(await panel(page).getByRole('button', { name: 'Save PDF' }).isDisabled()).toBe(true)
  await paper(page).getByRole('button', { name: 'Make the sheets' }).press('Enter')
  await standing(page, 'fresh')
  await soon(() => paper(page).getByText('540').count()).toBe(0)
  await page.keyboard.press('Control+z')
  await standing(page, 'working')
  await standing(page, 'fresh')

  // The very pages that the command line writes; packing and the last binary digits are the browser's own.
  await savesAsDownload(page)
  const downloading = page.waitForEvent('download')
  await page.keyboard.press('Control+e')
  const download = await downloading
  expect(download.suggestedFilename()).toBe('tarnbeck-300-front-bay-wide.pdf')
  const saved = readFileSync(await download.path())
  const out = await mkdtemp(join(tmpdir(), 'gapwright-sheets-'))
  onTestFinished(() => rm(out, { recursive: true, force: true }))
  const ended = await cli(['sheets', bayPath ?? '', '--candidate', 'wide', '--out', out, '--only', 'overview,gaps'])
  expect(ended.status, ended.err).toBe(0)
  const [ours, theirs] = [await readPdf('', saved), await readPdf('', await readFile(join(out, 'sheets.pdf')))]
  if (!ours.ok || !theirs.ok) throw new Error(JSON.stringify([ours, theirs]))
  expect(ours.value.pages).toEqual(theirs.value.pages)
  expect([...ours.value.attachments.keys()]).toEqual([...theirs.value.attachments.keys()])
  expect(ours.value.attachments.get(travelNames.bay)).toEqual(new Uint8Array(readFileSync(bayPath ?? '')))

  // All files, as a folder; over one that is there only after asking.
  await foldersAnswer(page)
  await page.keyboard.press('Control+Shift+e')
  await panel(page)
    .getByText(/^\d+ files saved in tarnbeck-300-front-bay-wide\.$/)
    .waitFor()
  const written = await page.evaluate(async () => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('tarnbeck-300-front-bay-wide')
    const tables = await folder.getDirectoryHandle('tables')
    const names: string[] = []
    for await (const name of (tables as unknown as { keys(): AsyncIterable<string> }).keys()) names.push(name)
    return { names, pdf: (await (await folder.getFileHandle('sheets.pdf')).getFile()).size }
  })
  expect(written.pdf).toBe(saved.length)
  expect(written.names.length).toBeGreaterThan(0)
  await page.keyboard.press('Control+Shift+e')
  const question = page.getByRole('alertdialog', { name: 'Write over the files that are there?' })
  await question.waitFor()
  await page.keyboard.press('Escape')
  await question.waitFor({ state: 'detached' })

  const opening = page.context().waitForEvent('page')
  await page.keyboard.press('Control+p')
  expect((await opening).url()).toMatch(/^blob:/)
  await panel(page)
    .getByText(/^Opened for printing/)
    .waitFor()
}, 600_000)
