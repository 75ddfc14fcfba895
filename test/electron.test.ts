import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { _electron, type ElectronApplication, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bridgeName, callNames } from '../app/bridge.ts'
import { hasDisplay, isLinuxRoot } from '../bin/browser.mjs'
import { ensureBuilt, root } from '../bin/build.mjs'
import { electronProgram } from '../bin/electronShell.mjs'

const program = electronProgram()
const why = program === null ? "the shell's binary is not here" : hasDisplay() ? '' : 'no screen'

/** What the real shell does with what main sets up; app/main's own tests show that it is set up. */
describe.skipIf(why !== '')(`the desktop shell${why && ` (${why})`}`, () => {
  let shell: ElectronApplication
  let page: Page
  let user: string

  beforeAll(async () => {
    await ensureBuilt(['window', 'main', 'preload'])
    user = mkdtempSync(join(tmpdir(), 'gapwright-shell-'))
    shell = await _electron.launch({
      executablePath: program ?? '',
      args: [
        ...(isLinuxRoot() ? ['--no-sandbox'] : []),
        `--user-data-dir=${user}`,
        root,
        join(root, 'assets', 'tarnbeck', 'tarnbeck.bay.json'),
      ],
    })
    page = await shell.firstWindow()
    await page.waitForLoadState('load')
  })
  afterAll(async () => {
    await shell?.close()
    rmSync(user, { recursive: true, force: true })
  })

  it('shows our page, isolated, with the bridge and nothing of Node', async () => {
    expect(page.url()).toBe('app://gapwright/')
    const seen = await page.evaluate((name) => {
      const globals = globalThis as unknown as Record<string, unknown>
      return {
        bridge: Object.keys(globals[name] as object).sort(),
        node: ['require', 'process', 'module', 'Buffer'].filter((global) => global in globals),
        isolated: globalThis.crossOriginIsolated,
      }
    }, bridgeName)
    expect(seen.bridge).toEqual([...Object.keys(callNames), 'onCommand', 'onTouched'].sort())
    expect(seen.node).toEqual([])
    expect(seen.isolated).toBe(true)
  })

  it('opens the bay of the command line and reads beside it, not outside', async () => {
    const answers = await page.evaluate(async (name) => {
      type Bridge = import('../app/bridge.ts').Bridge
      const bridge = (globalThis as unknown as Record<string, Bridge>)[name]
      const first = await bridge.first()
      if (!first.ok || first.value === null) return null
      const { token, name: bay } = first.value
      return { bay, outside: (await bridge.beside(token, '../../package.json')).ok }
    }, bridgeName)
    expect(answers).toEqual({ bay: 'tarnbeck.bay.json', outside: false })
  })

  it('keeps unsaved work in the user’s own folder and gives it back', async () => {
    const answers = await page.evaluate(async (name) => {
      type Bridge = import('../app/bridge.ts').Bridge
      const bridge = (globalThis as unknown as Record<string, Bridge>)[name]
      const kept = await bridge.keepWork('work-of-this-test', null, 'a.bay.json', '{"unsaved":1}')
      const taken = await bridge.takeWork('work-of-this-test')
      await bridge.dropWork('work-of-this-test')
      return { kept: kept.ok, text: taken.ok && taken.value.bay.text }
    }, bridgeName)
    expect(answers).toEqual({ kept: true, text: '{"unsaved":1}' })
  })

  it('goes nowhere and opens nothing', async () => {
    expect(await page.evaluate(() => globalThis.open('https://elsewhere.example/'))).toBe(null)
    await page.evaluate(() => globalThis.location.assign('https://elsewhere.example/'))
    expect(
      await page.evaluate(() =>
        fetch('https://elsewhere.example/').then(
          () => 'reached',
          () => 'refused',
        ),
      ),
    ).toBe('refused')
    expect(page.url()).toBe('app://gapwright/')
    expect(shell.windows()).toHaveLength(1)
  })
})
