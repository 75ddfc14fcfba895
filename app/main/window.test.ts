import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { MenuItemConstructorOptions } from 'electron'
import { describe, expect, it } from 'vitest'
import { bayFrom } from './commandLine.ts'
import { menuTemplate } from './menu.ts'
import { keepState, placeFor, readState } from './windowState.ts'

describe('the menu', () => {
  const items = (template: MenuItemConstructorOptions[]) =>
    template.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []))

  it.each(['linux', 'win32', 'darwin'])('on %s sends the window its own commands', (platform) => {
    const sent: string[] = []
    for (const { click } of items(menuTemplate(platform, (command) => sent.push(command))))
      (click as (() => void) | undefined)?.()
    expect(sent).toEqual(['open', 'save', 'save-as', 'undo', 'redo'])
  })

  it('has no two commands on one key, and the program menu on macOS only', () => {
    for (const platform of ['linux', 'darwin']) {
      const keys = items(menuTemplate(platform, () => {})).flatMap(({ accelerator }) => accelerator ?? [])
      expect(new Set(keys).size).toBe(keys.length)
    }
    expect(menuTemplate('darwin', () => {})[0].role).toBe('appMenu')
    expect(menuTemplate('linux', () => {})[0].label).toBe('&File')
  })
})

describe('the place of the window', () => {
  const screen = { x: 0, y: 0, width: 1920, height: 1040 }
  const second = { x: 1920, y: -200, width: 1280, height: 1024 }
  const at = (x: number, y: number, width = 1000, height = 700) => ({
    bounds: { x, y, width, height },
    maximised: false,
  })

  it.each([
    ['as last time', at(100, 50), [screen], { x: 100, y: 50, width: 1000, height: 700 }],
    ['on the second screen', at(2000, -150), [screen, second], { x: 2000, y: -150, width: 1000, height: 700 }],
    ['afresh when that screen has gone', at(2000, -150), [screen], { width: 1440, height: 900 }],
    ['afresh when the title bar is above the screen', at(100, -50), [screen], { width: 1440, height: 900 }],
    ['afresh when hardly anything would show', at(-950, 10), [screen], { width: 1440, height: 900 }],
    [
      'no larger than the screen',
      { bounds: null, maximised: true },
      [{ ...screen, width: 1280, height: 720 }],
      { width: 1280, height: 720 },
    ],
    ['no smaller than can be used', at(0, 0, 150, 10), [screen], { x: 0, y: 0, width: 720, height: 520 }],
    ['in the usual size without a screen', { bounds: null, maximised: false }, [], { width: 1440, height: 900 }],
  ])('is %s', (_, state, screens, place) => {
    expect(placeFor(state, screens)).toEqual(place)
  })

  it('is kept and read again; damaged or odd files count as nothing', () => {
    const folder = mkdtempSync(join(tmpdir(), 'gapwright-state-'))
    const file = join(folder, 'deeper', 'window.json')
    const nothing = { bounds: null, maximised: false }
    expect(readState(file)).toEqual(nothing)
    keepState(file, { ...at(1, 2), maximised: true })
    expect(readState(file)).toEqual({ ...at(1, 2), maximised: true })
    for (const text of [
      '',
      '{',
      'null',
      '[]',
      '{"bounds":{"x":1}}',
      '{"bounds":{"x":0,"y":0,"width":-1,"height":5}}',
      '{"bounds":"x"}',
    ]) {
      writeFileSync(file, text)
      expect(readState(file), text).toEqual(nothing)
    }
    // A file where the folder should be: the state is lost, the program goes on.
    expect(() => keepState(join(file, 'below', 'window.json'), nothing)).not.toThrow()
    rmSync(folder, { recursive: true, force: true })
  })
})

describe('the command line of the shell', () => {
  it.each([
    [['electron', '.', 'a.bay.json'], false, '/home/me/a.bay.json'],
    [['electron', '--no-sandbox', '.', '/x/a.bay.json', '--more'], false, '/x/a.bay.json'],
    [['electron', '.'], false, undefined],
    [['gapwright', 'a.bay.json'], true, '/home/me/a.bay.json'],
    [['gapwright'], true, undefined],
  ])('%j', (argv, packaged, expected) => {
    expect(bayFrom(argv, packaged, '/home/me')).toBe(expected && resolve(expected))
  })
})
