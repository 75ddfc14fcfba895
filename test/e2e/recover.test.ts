import { type ChildProcess, spawn } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserServer, chromium, type Page } from 'playwright-core'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { findBrowser } from '../../bin/browser.mjs'
import { ensureBuilt, root } from '../../bin/build.mjs'

/**
 * Unsaved work after the window or the program behind it was killed, and files that change or vanish underneath: the real
 * launcher in a process of its own, the real browser, both ended by a signal that they cannot hear.
 */
let folder: string
let bay: string
let state: string
const servers: ChildProcess[] = []
const browsers: BrowserServer[] = []

beforeAll(() => ensureBuilt(['window', 'serve']))
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-recover-'))
  cpSync(join(root, 'assets', 'tarnbeck'), join(folder, 'bay'), { recursive: true })
  bay = join(folder, 'bay', 'tarnbeck.bay.json')
  state = join(folder, 'state')
})
afterEach(async () => {
  for (const browser of browsers.splice(0)) await browser.kill().catch(() => {})
  for (const child of servers.splice(0)) await killed(child)
  rmSync(folder, { recursive: true, force: true })
})

async function killed(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return
  const ended = new Promise((done) => child.once('exit', done))
  child.kill('SIGKILL')
  await ended
}

/** Starts the program as `npm start -- --serve BAY` does. @returns the address it prints, and its process */
async function started() {
  const child = spawn(process.execPath, [join(root, 'bin', 'start.mjs'), '--serve', bay], {
    cwd: root,
    env: { ...process.env, GAPWRIGHT_STATE: state },
  })
  servers.push(child)
  let said = ''
  child.stdout.on('data', (chunk) => {
    said += chunk
  })
  await soon(() => said).toMatch(/http:\S+\n/)
  return { child, address: /http:\S+/.exec(said)?.[0] ?? '' }
}

async function browse(address: string): Promise<{ page: Page; browser: BrowserServer }> {
  const browser = await chromium.launchServer({
    executablePath: findBrowser() ?? '',
    args: ['--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist'],
  })
  browsers.push(browser)
  const context = await (await chromium.connect(browser.wsEndpoint())).newContext({
    viewport: { width: 1440, height: 900 },
    locale: 'en-GB',
  })
  const page = await context.newPage()
  page.setDefaultTimeout(15_000)
  await page.goto(address)
  await page.locator('.window:not([data-state=reading]):not([data-state=empty])').waitFor()
  return { page, browser }
}

const depthField = (page: Page) => page.getByRole('textbox', { name: 'Depth', exact: true })

async function setDepth(page: Page, value: string): Promise<void> {
  const depth = depthField(page)
  if ((await depth.count()) === 0) {
    const stages = page.getByRole('navigation', { name: 'Stages of the job' })
    await stages.getByRole('button', { name: 'Core' }).click()
    const parts = page.getByRole('region', { name: 'Parts of the candidate' })
    await parts.getByRole('button', { name: /^Core/ }).click()
  }
  await depth.fill(value)
  await depth.press('Enter')
  await page.getByText('unsaved', { exact: true }).waitFor()
}

/** The machine may be busy with other tests. */
const soon = <T>(what: () => T) => expect.poll(what, { timeout: 30_000 })

const onDisk = () => JSON.parse(readFileSync(bay, 'utf8'))
const journal = () =>
  existsSync(join(state, 'journal')) ? readdirSync(join(state, 'journal')).filter((name) => name.endsWith('.json')) : []
const keptDepth = () => {
  const [name] = journal()
  if (name === undefined) return null
  const { text } = JSON.parse(readFileSync(join(state, 'journal', name), 'utf8'))
  return JSON.parse(text).candidates[0].core.depth
}
const offer = (page: Page) => page.getByRole('alertdialog', { name: 'Unsaved work was found' })
const picture = async (page: Page, name: string) => {
  mkdirSync(join(root, 'test-results'), { recursive: true })
  await page.screenshot({ path: join(root, 'test-results', `${name}.png`) })
}

describe('work that was not saved', () => {
  test('is taken back after the program was killed: what differs, one step back, and saved', async () => {
    const first = await started()
    const { page } = await browse(first.address)
    const depth = onDisk().candidates[0].core.depth
    await setDepth(page, '76')
    await soon(keptDepth).toBe(76)
    await killed(first.child)
    await browsers.splice(0)[0].kill()
    expect(onDisk().candidates[0].core.depth, 'the file is untouched').toBe(depth)

    const second = await started()
    const { page: next } = await browse(second.address)
    await offer(next).waitFor()
    await offer(next).getByRole('button', { name: 'What differs' }).click()
    const row = offer(next).getByRole('row').filter({ hasText: 'core, depth' })
    expect(await row.textContent()).toMatch(new RegExp(`^Candidate Wide 90: core, depth${depth}76$`))
    await picture(next, 'recover-offer')
    await offer(next).getByRole('button', { name: 'Take back' }).click()
    await next.getByText('unsaved', { exact: true }).waitFor()
    await soon(journal).toHaveLength(1)
    expect(keptDepth()).toBe(76)

    await next.keyboard.press('Control+z')
    await soon(() => next.getByText('unsaved', { exact: true }).count()).toBe(0)
    await next.keyboard.press('Control+y')
    await next.keyboard.press('Control+s')
    await soon(() => onDisk().candidates[0].core.depth).toBe(76)
    expect(JSON.parse(readFileSync(`${bay}.bak`, 'utf8')).candidates[0].core.depth).toBe(depth)
    await soon(journal).toEqual([])
    await next.keyboard.press('Control+z')
    await next.getByText('unsaved', { exact: true }).waitFor()
  })

  test('is offered by the same program after the window was killed, and can be discarded', async () => {
    const { address } = await started()
    const { page, browser } = await browse(address)
    await setDepth(page, '102')
    await soon(keptDepth).toBe(102)
    await browser.kill()
    const { page: next } = await browse(address)
    await offer(next).waitFor()
    // A window beside it has work of its own; that of a window that is open is not offered.
    await offer(next).getByRole('button', { name: 'Decide later' }).click()
    expect(journal()).toHaveLength(1)
    await next.reload()
    await offer(next).waitFor()
    await offer(next).getByRole('button', { name: 'Discard' }).click()
    await soon(() => offer(next).count()).toBe(0)
    await soon(journal).toEqual([])
    await next.reload()
    await next.locator('.window:not([data-state=reading]):not([data-state=empty])').waitFor()
    expect(await offer(next).count()).toBe(0)
  })
})

test('work that was done while the program was gone is kept by the browser, for the next one at that address', async () => {
  const first = await started()
  const { page } = await browse(first.address)
  await page.getByRole('region', { name: 'Gap ledger' }).waitFor()
  await killed(first.child)
  await setDepth(page, '76')
  const keptBy = (one: Page) =>
    one.evaluate(
      () =>
        new Promise<number>((done, failed) => {
          const opening = indexedDB.open('gapwright', 1)
          opening.onerror = () => failed(opening.error)
          opening.onsuccess = () => {
            const counted = opening.result.transaction('work').objectStore('work').count()
            counted.onsuccess = () => done(counted.result)
          }
        }),
    )
  await soon(() => keptBy(page)).toBe(1)
  const context = page.context()
  await page.close()

  const second = await started()
  expect(new URL(second.address).port, 'the same address, or the browser keeps apart').toBe(new URL(first.address).port)
  const next = await context.newPage()
  await next.goto(second.address)
  await offer(next).getByRole('button', { name: 'Take back' }).click()
  await next.getByText('unsaved', { exact: true }).waitFor()
  await next.keyboard.press('Control+s')
  await soon(() => onDisk().candidates[0].core.depth).toBe(76)
  // What was kept is let go only when it lies in a safe place, which may be after it was saved.
  await soon(() => keptBy(next)).toBe(0)
  await next.reload()
  await next.locator('.window:not([data-state=reading]):not([data-state=empty])').waitFor()
  expect(await offer(next).count()).toBe(0)
})

describe('a file that another program changes', () => {
  const question = (page: Page) => page.getByRole('alertdialog', { name: 'The file was changed by another program' })
  const theirs = (name: string) => writeFileSync(bay, JSON.stringify({ ...onDisk(), name }))

  test('is noticed at once and never overwritten unasked; ours or theirs, and a step back', async () => {
    const { address } = await started()
    const { page } = await browse(address)
    await setDepth(page, '76')
    theirs('Theirs')
    await question(page).waitFor()
    await picture(page, 'recover-changed')
    await question(page).getByRole('button', { name: 'Decide later' }).click()
    await page.keyboard.press('Control+s')
    await question(page).waitFor()
    expect(onDisk().name, 'not overwritten by the save').toBe('Theirs')
    await question(page).getByRole('button', { name: 'Take theirs' }).click()
    await page.getByTitle('Theirs').waitFor()
    await page.keyboard.press('Control+z')
    await page.getByTitle('Tarnbeck 300, front bay').waitFor()

    theirs('Theirs again')
    await question(page).waitFor()
    await question(page).getByRole('button', { name: 'Keep mine' }).click()
    await page.keyboard.press('Control+s')
    await soon(() => onDisk().candidates[0].core.depth).toBe(76)
    expect(JSON.parse(readFileSync(`${bay}.bak`, 'utf8')).name).toBe('Theirs again')
  })

  test('is asked about when it has vanished, and can be written anew', async () => {
    const { address } = await started()
    const { page } = await browse(address)
    await setDepth(page, '76')
    rmSync(bay)
    const gone = page.getByRole('alertdialog', { name: 'The file is no longer there' })
    await gone.waitFor()
    await gone.getByRole('button', { name: 'Write it anew' }).click()
    await soon(() => existsSync(bay) && onDisk().candidates[0].core.depth).toBe(76)
  })

  test('a folder that has vanished is told with what to do, and the work is kept', async () => {
    const { address } = await started()
    const { page } = await browse(address)
    await setDepth(page, '76')
    await soon(keptDepth).toBe(76)
    rmSync(join(folder, 'bay'), { recursive: true })
    const gone = page.getByRole('alertdialog', { name: 'The file is no longer there' })
    await gone.waitFor()
    await gone.getByRole('button', { name: 'Write it anew' }).click()
    const told = page.getByRole('alert')
    await told.waitFor()
    expect(await told.textContent()).toMatch(/its folder: bring it back.*its folder is not there.*kept aside/)
    expect(keptDepth()).toBe(76)
  })
})

test('steps are listed by name; going to one keeps the others, and looking around does too', async () => {
  const { address } = await started()
  const { page } = await browse(address)
  for (const depth of ['76', '65', '102']) {
    await setDepth(page, depth)
    // Away from the field, so that the next visit is a step of its own.
    await page.getByRole('textbox', { name: 'Height', exact: true }).focus()
  }
  await page.keyboard.press('Control+Alt+z')
  const steps = page.getByRole('dialog', { name: 'Steps' }).getByRole('option')
  await soon(() => steps.count()).toBeGreaterThanOrEqual(4)
  const count = await steps.count()
  await picture(page, 'recover-steps')
  await steps.nth(0).click()
  await soon(() => steps.nth(count - 1).textContent()).toMatch(/taken back/)
  await page.keyboard.press('Escape')
  expect(await page.getByText('unsaved', { exact: true }).count()).toBe(0)
  await page.getByRole('application').focus()
  await page.keyboard.press('ArrowLeft')
  await page.keyboard.press('1')
  await page.keyboard.press('Control+Alt+z')
  await steps.nth(count - 1).click()
  await page.keyboard.press('Escape')
  await soon(() => depthField(page).inputValue()).toBe('102')
})
