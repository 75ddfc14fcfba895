import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, beforeEach, expect, it, vi } from 'vitest'

/**
 * The start of the shell with a double in place of its binary: what is set up, and in which order. Whether the real
 * shell does as it is told, test/electron.test.ts asks it where it is installed.
 */
const shell = vi.hoisted(() => {
  type Listener = (...given: unknown[]) => unknown
  const log: string[] = []
  const note = (name: string) => () => void log.push(name)
  class BrowserWindow {
    static all: BrowserWindow[] = []
    static focused: BrowserWindow | null = null
    static getFocusedWindow = () => BrowserWindow.focused
    options: Record<string, unknown> & { webPreferences: Record<string, unknown> }
    events = new Map<string, Listener>()
    loaded: string[] = []
    shown = 0
    represented = ''
    minimised = false
    webContents: Record<string, unknown> & { id: number; sent: unknown[][]; drags: unknown[]; reloads: number }
    constructor(options: never) {
      log.push('window')
      this.options = options
      BrowserWindow.all.push(this)
      const contents = {
        id: BrowserWindow.all.length,
        sent: [] as unknown[][],
        drags: [] as unknown[],
        reloads: 0,
        mainFrame: { url: 'app://gapwright/' },
        on: (name: string, listener: Listener) => void this.events.set(name, listener),
        send: (...given: unknown[]) => void contents.sent.push(given),
        reload: () => contents.reloads++,
        startDrag: (item: unknown) => void contents.drags.push(item),
      }
      this.webContents = contents
    }
    on = (name: string, listener: Listener) => void this.events.set(name, listener)
    once = this.on
    loadURL = async (address: string) => void this.loaded.push(address)
    maximize = note('maximize')
    show = () => void this.shown++
    focus = () => {
      BrowserWindow.focused = this
    }
    isMinimized = () => this.minimised
    isMaximized = () => false
    restore = () => {
      this.minimised = false
    }
    getNormalBounds = () => ({ x: 0, y: 0, width: 800, height: 600 })
    setRepresentedFilename = (path: string) => {
      this.represented = path
    }
  }
  const appEvents = new Map<string, Listener>()
  const handled = new Map<string, Listener>()
  const answers = { lock: true, unsaved: 0, ready: Promise.resolve(), user: '', open: '', openPath: '' }
  const opened: string[] = []
  const recent = { added: [] as string[], cleared: 0 }
  const menus: { label?: string; submenu?: unknown }[][] = []
  const picture = { isEmpty: () => true, resize: () => picture }
  const electron = {
    BrowserWindow,
    app: {
      isPackaged: false,
      enableSandbox: note('enableSandbox'),
      on: (name: string, listener: Listener) => void appEvents.set(name, listener),
      requestSingleInstanceLock: () => answers.lock,
      whenReady: () => answers.ready.then(note('ready')),
      getPath: () => answers.user,
      getFileIcon: async () => picture,
      quit: note('quit'),
      exit: note('exit'),
      addRecentDocument: (path: string) => void recent.added.push(path),
      clearRecentDocuments: () => recent.cleared++,
    },
    dialog: {
      showMessageBoxSync: () => answers.unsaved,
      showOpenDialog: async () => ({ canceled: answers.open === '', filePaths: [answers.open] }),
      showSaveDialog: vi.fn(async () => ({ canceled: true, filePath: '' })),
    },
    ipcMain: { handle: (name: string, handler: Listener) => void handled.set(name, handler) },
    shell: {
      async openPath(path: string) {
        opened.push(path)
        return answers.openPath
      },
    },
    Menu: {
      setApplicationMenu: note('menu'),
      buildFromTemplate: (template: never) => void menus.push(template),
    },
    nativeImage: { createFromPath: () => picture },
    protocol: {
      registerSchemesAsPrivileged: note('privileges'),
      handle(scheme: string, handler: Listener) {
        log.push('protocol')
        handled.set(scheme, handler)
      },
    },
    screen: (() => {
      const display = { workArea: { x: 0, y: 0, width: 1600, height: 1000 } }
      return { getPrimaryDisplay: () => display, getAllDisplays: () => [display] }
    })(),
    session: {
      defaultSession: {
        setPermissionRequestHandler: note('permissions'),
        setPermissionCheckHandler: () => {},
        setDevicePermissionHandler: () => {},
        webRequest: { onBeforeRequest: note('requests') },
      },
    },
  }
  return { log, BrowserWindow, appEvents, handled, answers, opened, recent, menus, electron }
})
vi.mock('electron', () => shell.electron)

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-main-'))
  for (const name of ['a', 'b']) writeFileSync(join(folder, `${name}.bay.json`), `{"name":"${name}"}`)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const bay = (name: string) => join(folder, `${name}.bay.json`)
const windows = () => shell.BrowserWindow.all
const soon = () => new Promise((done) => setTimeout(done, 60))

async function started(argv: string[] = ['electron', '.', bay('a')]) {
  vi.resetModules()
  process.argv = argv
  // The built page is looked for beside the built program; run from its source, that is app/window.
  await import('./main.ts')
  await soon()
}

/** A call as the page of a window makes it. */
const call = (window: number, name: string, ...given: unknown[]) => {
  const { webContents } = windows()[window]
  return shell.handled.get(name)?.({ senderFrame: webContents.mainFrame, sender: webContents }, ...given) as Promise<{
    ok: boolean
    value: Record<string, unknown> | null
  }>
}

beforeEach(() => {
  shell.log.length = 0
  shell.BrowserWindow.all = []
  shell.BrowserWindow.focused = null
  shell.appEvents.clear()
  shell.handled.clear()
  shell.menus.length = 0
  shell.recent.added.length = 0
  Object.assign(shell.answers, {
    lock: true,
    unsaved: 0,
    ready: Promise.resolve(),
    user: join(folder, 'user'),
    open: '',
  })
})

it('sandboxes and registers its scheme before it is ready, hardens before the window opens', async () => {
  await started()
  expect(shell.log.filter((what) => what !== 'menu')).toEqual([
    'enableSandbox',
    'privileges',
    'ready',
    'permissions',
    'requests',
    'protocol',
    'window',
  ])
  expect(shell.log).toContain('menu')
  expect(shell.appEvents.has('web-contents-created')).toBe(true)
  const { callNames } = await import('../bridge.ts')
  expect([...shell.handled.keys()].sort()).toEqual(['app', ...Object.values(callNames)].sort())
  const [window] = windows()
  expect(window.loaded).toEqual(['app://gapwright/'])
  expect(window.options.webPreferences).toMatchObject({ sandbox: true, contextIsolation: true, nodeIntegration: false })
  expect(window.options.webPreferences.preload).toMatch(/preload\.cjs$/)
})

it('hands a second start over to the first and quits', async () => {
  shell.answers.lock = false
  await started()
  expect(shell.log).toContain('quit')
  expect(windows()).toEqual([])
})

it('opens a window for each bay, and brings the one that has it already to the front', async () => {
  await started(['electron', '.', bay('a'), bay('b')])
  expect(windows()).toHaveLength(2)
  expect((await call(0, 'bay:first')).value).toMatchObject({ text: '{"name":"a"}' })
  expect((await call(1, 'bay:first')).value).toMatchObject({ text: '{"name":"b"}' })
  windows()[0].minimised = true
  shell.appEvents.get('second-instance')?.({}, ['electron', '.', 'a.bay.json'], folder)
  await soon()
  expect(windows()).toHaveLength(2)
  expect(shell.BrowserWindow.focused).toBe(windows()[0])
  expect(windows()[0].minimised).toBe(false)
  writeFileSync(bay('c'), '{}')
  shell.appEvents.get('second-instance')?.({}, ['electron', '.', 'c.bay.json'], folder)
  await soon()
  expect(windows()).toHaveLength(3)
  shell.appEvents.get('second-instance')?.({}, ['electron', '.'], folder)
  await soon()
  expect(windows()).toHaveLength(3)
})

it('opens in no second window what another one has open, also from a dialog', async () => {
  await started(['electron', '.', bay('a'), bay('b')])
  await call(0, 'bay:first')
  await call(1, 'bay:first')
  shell.answers.open = bay('a')
  expect(await call(1, 'bay:open')).toEqual({ ok: true, value: null })
  expect(shell.BrowserWindow.focused).toBe(windows()[0])
  windows()[0].events.get('closed')?.()
  expect((await call(1, 'bay:open')).value).toMatchObject({ text: '{"name":"a"}' })
})

it('takes bays from the file manager, before it is ready and after', async () => {
  vi.resetModules()
  process.argv = ['electron', '.']
  let makeReady = () => {}
  shell.answers.ready = new Promise<void>((done) => {
    makeReady = done
  })
  await import('./main.ts')
  const preventDefault = vi.fn()
  shell.appEvents.get('open-file')?.({ preventDefault }, bay('b'))
  await soon()
  expect(preventDefault).toHaveBeenCalled()
  expect(windows()).toEqual([])
  makeReady()
  await soon()
  shell.appEvents.get('open-file')?.({ preventDefault }, bay('a'))
  await soon()
  const firsts = await Promise.all(windows().map((_, i) => call(i, 'bay:first')))
  expect(firsts.map(({ value }) => value?.name)).toEqual(['b.bay.json', 'a.bay.json'])
})

it('keeps recent bays in its menu and the system’s list, and forgets them in both', async () => {
  await started()
  await call(0, 'bay:first')
  await soon()
  expect(shell.recent.added).toEqual([bay('a')])
  expect(windows()[0].represented).toBe(bay('a'))
  const recentIn = (menu: (typeof shell.menus)[number] | undefined) => JSON.stringify(menu)
  expect(recentIn(shell.menus.at(-1))).toContain('a.bay.json')
  expect(await call(0, 'recent:forget')).toEqual({ ok: true, value: null })
  await soon()
  expect(shell.recent.cleared).toBeGreaterThan(0)
  expect(recentIn(shell.menus.at(-1))).not.toContain('a.bay.json')
})

it('tells the window, and no other, that another program changed its bay', async () => {
  await started(['electron', '.', bay('a'), bay('b')])
  const first = await call(0, 'bay:first')
  await call(1, 'bay:first')
  await soon()
  writeFileSync(bay('a'), '{"name":"theirs"}')
  await expect
    .poll(() => windows()[0].webContents.sent, { timeout: 5000 })
    .toContainEqual(['bay:touched', first.value?.token])
  expect(windows()[1].webContents.sent).toEqual([])
  writeFileSync(bay('a'), '{"name":"a"}')
})

it('asks before unsaved work is left, and offers it again when a page broke', async () => {
  await started()
  const leave = (choice: number) => {
    shell.answers.unsaved = choice
    const preventDefault = vi.fn()
    windows()[0].events.get('will-prevent-unload')?.({ preventDefault })
    return preventDefault.mock.calls.length > 0
  }
  expect(leave(0)).toBe(false)
  expect(leave(1)).toBe(true)
  const gone = windows()[0].events.get('render-process-gone')
  gone?.({}, { reason: 'clean-exit' })
  expect(windows()[0].webContents.reloads).toBe(0)
  gone?.({}, { reason: 'crashed' })
  expect(windows()[0].webContents.reloads).toBe(1)
})

it('drags out a file of the bytes given, under a name that leads nowhere else', async () => {
  await started()
  expect(await call(0, 'file:drag-out', new Uint8Array([1]), '../../front view.png')).toEqual({ ok: true, value: null })
  const [{ file }] = windows()[0].webContents.drags as { file: string }[]
  expect(resolve(file).startsWith(shell.answers.user)).toBe(true)
  expect(file).toMatch(/front view\.png$/)
})

it('hands a PDF to the system’s reader to print, under a name that ends as one, and tells where there is none', async () => {
  await started()
  const pdf = new TextEncoder().encode('%PDF-1.7')
  expect(await call(0, 'file:print', pdf, '../sheets.sh')).toEqual({ ok: true, value: null })
  expect(resolve(shell.opened[0]).startsWith(shell.answers.user)).toBe(true)
  expect(shell.opened[0]).toMatch(/sheets\.sh\.pdf$/)
  shell.answers.openPath = 'no program for it'
  expect(await call(0, 'file:print', pdf, 'sheets.pdf')).toMatchObject({
    ok: false,
    faults: [{ got: 'no program for it' }],
  })
  shell.answers.openPath = ''
})

it('keeps the place of each bay’s window', async () => {
  await started()
  windows()[0].events.get('close')?.()
  const { readState } = await import('./windowState.ts')
  expect(readState(join(shell.answers.user, 'window.json'), bay('a'))).toEqual({
    bounds: { x: 0, y: 0, width: 800, height: 600 },
    maximised: false,
  })
})
