import { beforeEach, expect, it, vi } from 'vitest'

/**
 * The start of the shell with a double in place of its binary: what is set up, and in which order. Whether the real
 * shell does as it is told, test/electron.test.ts asks it where it is installed.
 */
const shell = vi.hoisted(() => {
  const log: string[] = []
  const note = (name: string) => () => void log.push(name)
  const windows: {
    options: { webPreferences: Record<string, unknown> }
    events: Map<string, (...given: unknown[]) => void>
    loaded: string[]
    reloads: number
  }[] = []
  const appEvents = new Map<string, (...given: unknown[]) => void>()
  const handled = new Map<string, unknown>()
  class BrowserWindow {
    record = {
      options: {} as never,
      events: new Map<string, (...given: unknown[]) => void>(),
      loaded: [] as string[],
      reloads: 0,
    }
    webContents = {
      on: (name: string, listener: () => void) => void this.record.events.set(name, listener),
      send: vi.fn(),
      reload: () => this.record.reloads++,
    }
    constructor(options: never) {
      log.push('window')
      this.record.options = options
      windows.push(this.record)
    }
    on = (name: string, listener: () => void) => void this.record.events.set(name, listener)
    once = this.on
    loadURL = async (address: string) => void this.record.loaded.push(address)
    maximize = note('maximize')
    show = note('show')
    focus = note('focus')
    setRepresentedFilename = () => {}
  }
  const answers = { lock: true, unsaved: 0 }
  const electron = {
    BrowserWindow,
    app: {
      isPackaged: false,
      enableSandbox: note('enableSandbox'),
      on: (name: string, listener: () => void) => void appEvents.set(name, listener),
      requestSingleInstanceLock: () => answers.lock,
      whenReady: async () => void log.push('ready'),
      isReady: () => true,
      getPath: () => '/nonexistent-user-data',
      quit: note('quit'),
      exit: note('exit'),
      addRecentDocument: () => {},
    },
    dialog: { showMessageBoxSync: () => answers.unsaved, showOpenDialog: vi.fn(), showSaveDialog: vi.fn() },
    ipcMain: { handle: (name: string, handler: unknown) => void handled.set(name, handler) },
    Menu: { setApplicationMenu: note('menu'), buildFromTemplate: (template: unknown) => template },
    protocol: {
      registerSchemesAsPrivileged: note('privileges'),
      handle(scheme: string, handler: unknown) {
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
  return { log, windows, appEvents, handled, answers, electron }
})
vi.mock('electron', () => shell.electron)

async function started(argv: string[] = ['electron', '.', '/bays/a.bay.json']) {
  vi.resetModules()
  process.argv = argv
  // The built page is looked for beside the built program; run from its source, that is app/window.
  await import('./main.ts')
  await new Promise((done) => setTimeout(done, 0))
}

beforeEach(() => {
  shell.log.length = 0
  shell.windows.length = 0
  shell.appEvents.clear()
  shell.handled.clear()
  shell.answers.lock = true
})

it('sandboxes and registers its scheme before it is ready, hardens before the window opens', async () => {
  await started()
  expect(shell.log).toEqual([
    'enableSandbox',
    'privileges',
    'ready',
    'permissions',
    'requests',
    'protocol',
    'menu',
    'window',
  ])
  expect(shell.appEvents.has('web-contents-created')).toBe(true)
  expect([...shell.handled.keys()].sort()).toEqual([
    'app',
    'bay:beside',
    'bay:dropped',
    'bay:first',
    'bay:open',
    'bay:save',
  ])
  const [window] = shell.windows
  expect(window.loaded).toEqual(['app://gapwright/'])
  expect(window.options.webPreferences).toMatchObject({ sandbox: true, contextIsolation: true, nodeIntegration: false })
  expect(window.options.webPreferences.preload).toMatch(/preload\.cjs$/)
})

it('hands a second start over to the first and quits', async () => {
  shell.answers.lock = false
  await started()
  expect(shell.log).toContain('quit')
  expect(shell.windows).toEqual([])
})

it('opens the bay of a second start in the window that is there', async () => {
  await started()
  shell.appEvents.get('second-instance')?.({}, ['electron', '.', 'b.bay.json'], '/bays')
  expect(shell.windows[0].reloads).toBe(1)
  shell.appEvents.get('second-instance')?.({}, ['electron', '.'], '/bays')
  expect(shell.windows[0].reloads).toBe(1)
})

it('asks before unsaved work is left', async () => {
  await started()
  const leave = (choice: number) => {
    shell.answers.unsaved = choice
    const preventDefault = vi.fn()
    shell.windows[0].events.get('will-prevent-unload')?.({ preventDefault })
    return preventDefault.mock.calls.length > 0
  }
  expect(leave(0)).toBe(false)
  expect(leave(1)).toBe(true)
})
