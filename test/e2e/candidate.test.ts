import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { openWindow } from './harness.ts'
import { changed, settled, stage } from './pipesStage.ts'

/** Presses a button by keyboard alone. */
async function press(page: Page, name: string | RegExp, exact = true) {
  await page.getByRole('button', { name, exact }).focus()
  await page.keyboard.press('Enter')
}

const withoutCandidates = () =>
  changed((bay) => {
    bay.candidates = []
  })
const saved = (path: string | null) => JSON.parse(readFileSync(path ?? '', 'utf8')) as Bay

describe('a candidate made from nothing', () => {
  test('core, tanks, stubs and two pipes by keyboard; all undone; saved', async () => {
    const { page, bayPath, screenshot } = await openWindow({ bay: withoutCandidates() })
    await page.getByRole('region', { name: 'No candidate yet' }).waitFor()
    // Nothing is shown that has nothing behind it.
    expect(await page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button').count()).toBe(1)
    await screenshot('candidate-none')
    await press(page, 'Add a candidate')
    await settled(page)
    expect(await stage(page, 'Pipes').count()).toBe(0)
    await page.getByRole('region', { name: 'Largest core' }).getByRole('alert').waitFor({ state: 'detached' })
    for (const side of ['left', 'right']) {
      await press(page, `Add a tank on the ${side}`)
      await press(page, 'Add a stub')
    }
    await press(page, /^Pipes/, false)
    await press(page, 'Add a pipe')
    await press(page, 'Add a pipe')
    await stage(page, 'Pipes').waitFor()
    await settled(page)
    await screenshot('candidate-made')
    await page.keyboard.press('Control+s')
    await expect.poll(() => saved(bayPath).candidates.length).toBe(1)
    const [{ tanks, pipes, name }] = saved(bayPath).candidates
    expect(name).toBe('Candidate 1')
    expect(tanks?.left?.ports?.[0].outsideDiameter).toBe(57)
    expect(pipes?.map(({ from, to }) => [from, to])).toEqual([
      ['turbo', 'tank-left:port'],
      ['throttle', 'tank-right:port'],
    ])
    for (let n = 0; n < 7; n++) await page.keyboard.press('Control+z')
    await page.getByRole('region', { name: 'No candidate yet' }).waitFor()
  })

  test('a tank that pipes end on says what goes with it, and one step brings it back', async () => {
    const { page } = await openWindow({ bay: 'assets/tarnbeck/tarnbeck.bay.json' })
    await settled(page)
    await stage(page, 'Core').click()
    await press(page, /^Tank left/, false)
    await press(page, 'Take out the left tank')
    const dialog = page.getByRole('alertdialog', { name: 'Take out the left tank?' })
    expect(await dialog.textContent()).toMatch(
      /Hot side: the pipe goes along.*Bracket, upper left: the mount goes along/,
    )
    await page.keyboard.press('Enter')
    await press(page, /^Undo the left tank taken out/, false)
    await page.getByRole('button', { name: /^Tank left/ }).waitFor()
  })
})
