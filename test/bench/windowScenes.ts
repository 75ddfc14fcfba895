import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Browser, chromium, type Page } from 'playwright-core'
import { startServer } from '../../app/serve/server.ts'
import { findBrowser } from '../../bin/browser.mjs'
import { browserFlags, fresh } from '../kit/openedWindow.ts'
import type { Scene, Way } from './scene.ts'

/** What a person does in the window, each with a name of its own. */
type Doing = readonly [name: string, act: (page: Page) => Promise<void>]

const openings = 3
/** Work that follows an act by itself (drawings, searches) is over by then, ms. */
const rest = 1200

/**
 * The window in a real browser that draws in software: how long it takes to open the Tarnbeck example, and the longest
 * task of the page for each act, out of the browser's own trace. A task is told by the clock, for which it holds up the
 * page, and by the processor time of its thread, which is what the page itself asks for: on few cores, software that
 * draws, workers and the page take them from each other.
 */
export async function windowScenes(root: URL): Promise<Scene[]> {
  const executablePath = findBrowser()
  if (executablePath === null) {
    console.log('\nthe window: no browser of the Chromium family here, not measured')
    return []
  }
  const browser = await chromium.launch({ executablePath, args: browserFlags })
  const state = mkdtempSync(join(tmpdir(), 'gapwright-bench-'))
  const at = (path: string) => fileURLToPath(new URL(path, root))
  const bay = at('assets/tarnbeck/tarnbeck.bay.json')
  const server = await startServer({ windowFolder: at('dist/window'), bay, state })
  try {
    const pages: Page[] = []
    const opened: Opening[] = []
    for (let n = 0; n < openings; n++) {
      for (const page of pages.splice(0)) await page.close()
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
      pages.push(page)
      opened.push(await opening(page, server.address))
    }
    return [openingScene(opened), ...(await taskScenes(browser, pages[0]))]
  } finally {
    await browser.close()
    await server.close()
    rmSync(state, { recursive: true, force: true })
  }
}

interface Opening {
  readonly picture: number
  readonly ledger: number
}

/** From the moment the page is asked for, ms. */
async function opening(page: Page, address: string): Promise<Opening> {
  const begin = performance.now()
  await page.goto(address)
  const picture = page
    .locator('.viewport-stand:not([data-busy])')
    .waitFor()
    .then(() => performance.now() - begin)
  const ledger = page
    .locator(fresh)
    .waitFor()
    .then(() => performance.now() - begin)
  return { picture: await picture, ledger: await ledger }
}

function openingScene(opened: readonly Opening[]): Scene {
  return {
    name: 'opening Tarnbeck in the window',
    inputs: `${openings} openings, a new page each; from asking for the page`,
    count: 1,
    aims: [{ way: 'to the first full ledger', ms: 3000 }],
    ways: [
      told(
        'until all of it is drawn, the small drawings too',
        opened.map(({ picture }) => picture),
      ),
      {
        ...told(
          'to the first full ledger',
          opened.map(({ ledger }) => ledger),
        ),
        baseline: true,
      },
    ],
  }
}

const told = (name: string, taken: readonly number[]): Way => ({ name, once: true, taken, run: () => taken.length })

async function taskScenes(browser: Browser, page: Page): Promise<Scene[]> {
  const longest: [name: string, task: Task][] = []
  for (const [name, act] of acts) {
    await page.waitForTimeout(rest)
    await browser.startTracing(page, { categories: ['toplevel'] })
    await act(page)
    await page.waitForTimeout(rest)
    longest.push([name, longestOf(pageTasks(await browser.stopTracing()))])
  }
  const scene = (name: string, of: (task: Task) => number): Scene => ({
    name,
    inputs: `${acts.length} acts on Tarnbeck, 1440 × 900, drawn in software`,
    count: 1,
    ways: longest.map(([act, task], i) => ({ ...told(act, [of(task)]), baseline: i === 0 })),
    aims: longest.map(([act]) => ({ way: act, ms: 50 })),
  })
  return [
    scene('the longest task of the page, by the clock', ({ clock }) => clock),
    scene('the longest task of the page, processor time', ({ processor }) => processor),
  ]
}

/** A task of the page's main thread, ms. */
interface Task {
  readonly clock: number
  readonly processor: number
}

/** Each greatest by itself. */
const longestOf = (tasks: readonly Task[]): Task => ({
  clock: Math.max(...tasks.map(({ clock }) => clock)),
  processor: Math.max(...tasks.map(({ processor }) => processor)),
})

/** One event of a trace in the Trace Event Format; times in microseconds. */
interface TraceEvent {
  readonly name: string
  readonly pid: number
  readonly tid: number
  readonly dur?: number
  readonly tdur?: number
  readonly args: { readonly name?: string }
}

function pageTasks(trace: Buffer): Task[] {
  const { traceEvents } = JSON.parse(trace.toString()) as { readonly traceEvents: readonly TraceEvent[] }
  const threadOf = ({ pid, tid }: TraceEvent) => `${pid} ${tid}`
  const pages = traceEvents.filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain')
  const isOfPage = new Set(pages.map(threadOf))
  const tasks = traceEvents.filter((event) => event.name.endsWith('RunTask') && isOfPage.has(threadOf(event)))
  if (tasks.length === 0) throw new Error('the trace holds no task of the page')
  return tasks.map(({ dur = 0, tdur = 0 }) => ({ clock: dur / 1000, processor: tdur / 1000 }))
}

const stage = (name: string): Doing => [
  `to the ${name} stage`,
  async (page) => {
    await page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name }).click()
  },
]

const settled = (page: Page) => page.locator(fresh).waitFor()

const acts: readonly Doing[] = [
  ...['Measure', 'Pipes', 'Seat', 'Sheets', 'Core'].map(stage),
  [
    'the candidate dragged to and fro',
    async (page) => {
      const box = await page.locator('[data-grip="along-x"]').boundingBox()
      if (!box) throw new Error('the candidate has no handle')
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
      await page.mouse.move(x, y)
      await page.mouse.down()
      for (let n = 1; n <= 30; n++) {
        await page.mouse.move(x - 6 * Math.sin(n / 5), y)
        await page.waitForTimeout(16)
      }
      await page.mouse.up()
      await settled(page)
    },
  ],
  ['that undone by its key', (page) => page.keyboard.press('Control+z').then(() => settled(page))],
  [
    'the core opened for its numbers',
    async (page) => {
      await page.getByRole('region', { name: 'Parts of the candidate' }).getByRole('button', { name: /^Core/ }).click()
    },
  ],
  [
    'a number stepped eight times',
    async (page) => {
      const depth = page.getByRole('textbox', { name: 'Depth' })
      for (let n = 0; n < 8; n++) {
        await depth.press('ArrowUp')
        await page.waitForTimeout(120)
      }
      await settled(page)
    },
  ],
  [
    'that undone',
    async (page) => {
      await page.keyboard.press('Control+z')
      await settled(page)
    },
  ],
  ['the view turned', turned],
  [
    'a gap chosen',
    async (page) => {
      await page.locator('.row').nth(3).click()
    },
  ],
  ['the other paper', (page) => page.getByRole('button', { name: 'Dark paper' }).click()],
]

async function turned(page: Page): Promise<void> {
  const box = await page.locator('.viewport').boundingBox()
  if (!box) throw new Error('there is no drawing')
  await page.mouse.move(box.x + box.width * 0.8, box.y + box.height * 0.6)
  await page.mouse.down()
  for (let n = 1; n <= 20; n++) {
    await page.mouse.move(box.x + box.width * 0.8 - 4 * n, box.y + box.height * 0.6)
    await page.waitForTimeout(16)
  }
  await page.mouse.up()
}
