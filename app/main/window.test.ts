import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { MenuItemConstructorOptions } from 'electron'
import { describe, expect, it } from 'vitest'
import { baysFrom } from './commandLine.ts'
import { type MenuActions, menuTemplate } from './menu.ts'
import { keepState, placeFor, readState } from './windowState.ts'

const actions = (tell: (what: string) => void = () => {}): MenuActions => ({
  send: tell,
  newWindow: () => tell('new window'),
  openRecent: tell,
  forgetRecent: () => tell('forget'),
})

describe('the menu', () => {
  const items = (template: MenuItemConstructorOptions[]) =>
    template.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []))

  it.each(['linux', 'win32', 'darwin'])('on %s sends the window its own commands', (platform) => {
    const sent: string[] = []
    for (const { click } of items(
      menuTemplate(
        platform,
        [],
        actions((command) => sent.push(command)),
      ),
    ))
      (click as (() => void) | undefined)?.()
    expect(sent).toEqual(['new window', 'new', 'open', 'save', 'save-as', 'undo', 'redo', 'history', 'help'])
  })

  it('has no two commands on one key, and the program menu on macOS only', () => {
    for (const platform of ['linux', 'darwin']) {
      const keys = items(menuTemplate(platform, [], actions())).flatMap(({ accelerator }) => accelerator ?? [])
      expect(new Set(keys).size).toBe(keys.length)
    }
    expect(menuTemplate('darwin', [], actions())[0].role).toBe('appMenu')
    expect(menuTemplate('linux', [], actions())[0].label).toBe('&File')
  })

  it('quits from the program menu on macOS and from File elsewhere; closing is everywhere', () => {
    const roles = (platform: string) => items(menuTemplate(platform, [], actions())).map(({ role }) => role)
    expect(roles('win32')).toContain('quit')
    expect(roles('darwin')).not.toContain('quit')
    for (const platform of ['linux', 'win32', 'darwin']) expect(roles(platform)).toContain('close')
  })

  it('opens recent bays by name, with marks in names kept, and can forget them', () => {
    const done: string[] = []
    const recent = [{ path: '/bays/r&d.bay.json', label: 'r&d.bay.json  (/bays)' }]
    const template = menuTemplate(
      'linux',
      recent,
      actions((what) => done.push(what)),
    )
    const list = items(template).find(({ label }) => label === 'Open &recent')?.submenu as MenuItemConstructorOptions[]
    expect(list.map(({ label }) => label)).toEqual(['r&&d.bay.json  (/bays)', undefined, 'Clear this list'])
    for (const { click } of list) (click as (() => void) | undefined)?.()
    expect(done).toEqual(['/bays/r&d.bay.json', 'forget'])
    const none = items(menuTemplate('linux', [], actions())).find(({ label }) => label === 'Open &recent')
    expect(none?.submenu).toMatchObject([{ enabled: false }])
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

  it('is a step aside of a window that is there already, and never off the screen for that', () => {
    const there = [at(100, 50).bounds, at(132, 82).bounds]
    expect(placeFor(at(100, 50), [screen], there)).toMatchObject({ x: 164, y: 114 })
    const corner = at(1800, 1000)
    expect(placeFor(corner, [screen], [corner.bounds])).toEqual({ width: 1000, height: 700 })
  })

  it('is kept and read again; damaged or odd files count as nothing', () => {
    const folder = mkdtempSync(join(tmpdir(), 'gapwright-state-'))
    const file = join(folder, 'deeper', 'window.json')
    const nothing = { bounds: null, maximised: false }
    expect(readState(file, 'a')).toEqual(nothing)
    keepState(file, 'a', { ...at(1, 2), maximised: true })
    keepState(file, undefined, at(3, 4))
    expect(readState(file, 'a')).toEqual({ ...at(1, 2), maximised: true })
    expect(readState(file, undefined)).toEqual(at(3, 4))
    expect(readState(file, 'a bay never seen'), 'as the last window of all').toEqual(at(3, 4))
    for (let i = 0; i < 30; i++) keepState(file, `bay ${i}`, at(i, i))
    expect(readState(file, 'a'), 'forgotten after many others').toEqual(at(29, 29))
    for (const text of [
      '',
      '{',
      'null',
      '[]',
      '{"windows":[["a",{"bounds":{"x":1}}]]}',
      '{"windows":[["a",{"bounds":{"x":0,"y":0,"width":-1,"height":5}}]]}',
      '{"windows":[["a",{"bounds":"x"}],["a"],7,null]}',
      '{"windows":"x"}',
    ]) {
      writeFileSync(file, text)
      expect(readState(file, 'a'), text).toEqual(nothing)
    }
    // A file where the folder should be: the state is lost, the program goes on.
    expect(() => keepState(join(file, 'below', 'window.json'), 'a', nothing)).not.toThrow()
    rmSync(folder, { recursive: true, force: true })
  })
})

describe('the command line of the shell', () => {
  it.each([
    [['electron', '.', 'a.bay.json'], false, ['/home/me/a.bay.json']],
    [['electron', '--no-sandbox', '.', '/x/a.bay.json', '--more'], false, ['/x/a.bay.json']],
    [['electron', '.'], false, []],
    [['gapwright', 'a.bay.json', 'b.bay.json'], true, ['/home/me/a.bay.json', '/home/me/b.bay.json']],
    [['gapwright'], true, []],
  ])('%j', (argv, packaged, expected) => {
    expect(baysFrom(argv, packaged, '/home/me')).toEqual(expected.map((path) => resolve(path)))
  })
})
