import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { unlikeGolden } from '../kit/goldenPicture.ts'
import { fresh, openWindow } from './harness.ts'

const stages = ['Measure', 'Core', 'Gaps', 'Pipes', 'Seat', 'Sheets'] as const
const sizes = [
  { width: 1920, height: 1080 },
  { width: 1440, height: 900 },
  { width: 1000, height: 700 },
] as const

/** Times differ from run to run. */
const passing = (page: Page) => [page.getByTestId('timing')]

/** Nothing is on its way any more: the picture is the golden one, or two in a row are the same. */
async function unlikeAtRest(page: Page, name: string): Promise<string | null> {
  await page.mouse.move(0, 0)
  let before: Buffer = Buffer.alloc(0)
  for (let n = 0; n < 40; n++) {
    await page.waitForTimeout(150)
    await page.locator('.viewport-stand:not([data-busy])').waitFor({ state: 'attached' })
    const now = await page.screenshot({ mask: passing(page), maskColor: '#888888', animations: 'disabled' })
    const isAtRest = now.equals(before)
    if (isAtRest || process.env.GAPWRIGHT_GOLDEN !== 'write') {
      const unlike = unlikeGolden(name, now, 3)
      if (isAtRest || unlike === null) return unlike
    }
    before = now
  }
  throw new Error('the window does not come to rest')
}

/** Pictures are of one face of letters; where the machine has another they say nothing. */
const hasFace = (page: Page) =>
  page.evaluate(() => {
    const pen = document.createElement('canvas').getContext('2d')
    if (!pen) return false
    const wide = (face: string) => {
      pen.font = `100px ${face}`
      return pen.measureText('Gapwright 0123').width
    }
    return wide('"DejaVu Sans", monospace') !== wide('monospace')
  })

test.each([
  ['light', false],
  ['dark', true],
] as const)(
  'every stage looks as it was looked at, on %s paper, at three sizes',
  { timeout: 300_000 },
  async (paper, dark) => {
    const { page } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json', size: sizes[0] })
    await page.locator(fresh).waitFor()
    expect(await hasFace(page), 'DejaVu Sans is among the fonts of this machine').toBe(true)
    if (dark) await page.getByRole('button', { name: 'Dark paper' }).click()
    const wrong: string[] = []
    for (const stage of stages) {
      await page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name: stage }).click()
      // What has the focus explains itself at the foot.
      await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
      if (stage === 'Sheets') await page.locator('.sheets[data-state="fresh"]').waitFor({ timeout: 120_000 })
      for (const size of sizes) {
        await page.setViewportSize({ ...size })
        const unlike = await unlikeAtRest(page, `window-${stage.toLowerCase()}-${size.width}-${paper}`)
        if (unlike) wrong.push(unlike)
      }
    }
    expect(wrong).toEqual([])
  },
)
