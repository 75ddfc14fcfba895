import { readFileSync } from 'node:fs'
import type { Locator, Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { wrongOn } from './axe.ts'
import { openWindow } from './harness.ts'
import { changed, settled, stage } from './pipesStage.ts'

/** Presses a button by keyboard alone. */
async function press(page: Page, name: string | RegExp, exact = true) {
  await page.getByRole('button', { name, exact }).focus()
  await page.keyboard.press('Enter')
}

async function type(within: Locator, label: string, text: string) {
  const field = within.getByLabel(label, { exact: true })
  await field.fill(text)
  await field.press('Enter')
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
    // Its limits are nobody's: told as defaults where they are, and no longer once one of them is typed.
    await press(page, /^Limits defaults/, false)
    await page.getByText(/defaults of a new candidate.*nobody measured them/).waitFor()
    await type(page.getByRole('region', { name: 'Parts of the candidate' }), 'Width at most', '700')
    await page.getByRole('button', { name: 'Limits', exact: true }).waitFor()
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
    // A tank and its stub in all their numbers: seven steps.
    await stage(page, 'Core').focus()
    await page.keyboard.press('Enter')
    await press(page, /^Tank left/, false)
    const sheet = page.getByRole('region', { name: 'Parts of the candidate' })
    await sheet.getByRole('switch', { name: 'Tapered towards its end' }).press('Space')
    await type(sheet, 'Of its height', '0.6')
    await type(sheet, 'At the rear', '12')
    const stub = sheet.getByRole('group', { name: 'Stub port' })
    await stub.getByRole('button', { name: /^end Face/ }).press('Enter')
    await page.getByRole('option', { name: 'rear' }).press('Enter')
    await page.getByRole('option', { name: 'rear' }).waitFor({ state: 'detached' })
    await stub.getByRole('switch', { name: 'Leaves in its own direction' }).press('Space')
    // Along the face no stub leaves it: refused, and said; what it had stays.
    const way = stub.getByRole('group', { name: /^Direction/ })
    await type(way, 'X', '0, 1, 0')
    await way.locator('.figure-fault').waitFor()
    await way.getByLabel('X', { exact: true }).press('Escape')
    await type(way, 'X', '1, -0.5, 0')
    await stub.getByRole('switch', { name: 'Has a bead' }).press('Space')
    await screenshot('candidate-stub')
    expect(await wrongOn(page, '.side-sheet')).toEqual([])
    await page.keyboard.press('Control+s')
    await expect.poll(() => saved(bayPath).candidates.length).toBe(1)
    const [{ tanks, pipes, name }] = saved(bayPath).candidates
    expect(name).toBe('Candidate 1')
    expect(tanks?.left).toMatchObject({
      rear: 12,
      taper: { depth: 0.8, height: 0.6 },
      ports: [{ face: 'rear', direction: [1, -0.5, 0], bead: { height: 2, width: 5, fromEnd: 4 } }],
    })
    expect(tanks?.left?.ports?.[0].outsideDiameter).toBe(57)
    expect(pipes?.map(({ from, to }) => [from, to])).toEqual([
      ['turbo', 'tank-left:port'],
      ['throttle', 'tank-right:port'],
    ])
    for (let n = 0; n < 15; n++) await page.keyboard.press('Control+z')
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
