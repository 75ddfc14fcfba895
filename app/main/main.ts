import { basename, dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { app, BrowserWindow, ipcMain, Menu, protocol, session } from 'electron'
import { menuChannel, touchedChannel } from '../bridge.ts'
import { JournalFolder } from '../files/journalFolder.ts'
import { folderShown, RecentFiles } from '../files/recentFiles.ts'
import type { MenuCommand } from '../host.ts'
import { BayPlaces, sameFile } from '../serve/bayPlaces.ts'
import { WindowJournal } from '../serve/lostWork.ts'
import { pageIn } from '../serve/page.ts'
import { Touches } from '../serve/touches.ts'
import { pageHandler, scheme, schemePrivileges } from './appProtocol.ts'
import { BayWindow, type WindowSurroundings } from './bayWindow.ts'
import { answerCalls } from './calls.ts'
import { baysFrom } from './commandLine.ts'
import { hardenContents, hardenSession } from './hardening.ts'
import { menuTemplate } from './menu.ts'

const here = dirname(fileURLToPath(import.meta.url))
const user = app.getPath('userData')

/** Bays asked for before there can be windows; null once there can. */
let asked: string[] | null = baysFrom(process.argv, app.isPackaged, process.cwd())
const windows = new Set<BayWindow>()

const places = new BayPlaces()
const recent = new RecentFiles(user)
const kept = new JournalFolder(join(user, 'journal'), {
  isOpen: (window) => [...windows].some(({ id }) => id === window),
})
/** Window of each token, for telling of changes on the disk. */
const tokens = new Map<string, BayWindow>()
const touches = new Touches(places, (token) => tokens.get(token)?.window.webContents.send(touchedChannel, token))

// Both must happen before the shell is ready.
app.enableSandbox()
protocol.registerSchemesAsPrivileged([schemePrivileges])

// For every page there ever is, before its first line runs.
app.on('web-contents-created', (_event, contents) => hardenContents(contents))
app.on('open-file', (event, path) => {
  event.preventDefault()
  void showBay(path)
})
app.on('second-instance', (_event, argv, folder) => {
  const bays = baysFrom(argv, app.isPackaged, folder)
  if (bays.length === 0) void showBay(undefined)
  for (const bay of bays) void showBay(bay)
})
app.on('window-all-closed', () => {
  if (process.platform !== 'darwin') app.quit()
})
app.on('activate', () => {
  if (windows.size === 0 && asked === null) openWindow(undefined)
})

if (app.requestSingleInstanceLock()) app.whenReady().then(start).catch(giveUp)
else app.quit()

function start(): void {
  hardenSession(session.defaultSession)
  protocol.handle(scheme, pageHandler(pageIn(join(here, '..', 'window'))))
  answerCalls(ipcMain, {
    places,
    journal: new WindowJournal(kept, places),
    recent,
    forgetRecent,
    callerOf: (contents) => [...windows].find(({ window }) => window.webContents === contents),
  })
  void showMenu()
  const first = asked ?? []
  asked = null
  for (const bay of first.length > 0 ? first : [undefined]) openWindow(bay)
}

const around: WindowSurroundings = {
  stateFile: join(user, 'window.json'),
  preload: join(here, 'preload.cjs'),
  taken: () => [...windows].map(({ window }) => window.getNormalBounds()),
  hasOpened(window, path, token) {
    for (const [former, owner] of tokens)
      if (owner === window) {
        touches.unwatch(former)
        tokens.delete(former)
      }
    tokens.set(token, window)
    touches.watch(token)
    app.addRecentDocument(path)
    void recent.add(path).then(showMenu)
  },
  async isOpenElsewhere(window, path) {
    const other = await windowWith(path)
    if (other === undefined || other === window) return false
    other.toFront()
    return true
  },
  closed(window) {
    windows.delete(window)
    for (const [token, owner] of tokens)
      if (owner === window) {
        touches.unwatch(token)
        tokens.delete(token)
      }
  },
  failed: giveUp,
}

function openWindow(bay: string | undefined): void {
  windows.add(new BayWindow(bay, around))
}

async function windowWith(path: string): Promise<BayWindow | undefined> {
  for (const one of windows) if (one.bay !== undefined && (await sameFile(one.bay, resolve(path)))) return one
  return undefined
}

/** One window for each bay: the one that has it comes to the front, else a new one opens. */
async function showBay(path: string | undefined): Promise<void> {
  if (asked) {
    if (path !== undefined) asked.push(path)
    return
  }
  const there = path === undefined ? [...windows].at(-1) : await windowWith(path)
  if (there) there.toFront()
  else openWindow(path)
}

/** The menu anew, with the recent files as they are now. */
async function showMenu(): Promise<void> {
  const shown = (await recent.paths()).map((path) => ({ path, label: `${basename(path)}  (${folderShown(path)})` }))
  const template = menuTemplate(process.platform, shown, {
    send: (command: MenuCommand) => BrowserWindow.getFocusedWindow()?.webContents.send(menuChannel, command),
    newWindow: () => openWindow(undefined),
    openRecent: (path) => void showBay(path),
    forgetRecent: () => void forgetRecent(),
  })
  Menu.setApplicationMenu(Menu.buildFromTemplate(template))
}

async function forgetRecent(): Promise<void> {
  app.clearRecentDocuments()
  await recent.clear()
  await showMenu()
}

function giveUp(error: unknown): void {
  process.stderr.write(
    `gapwright: the window cannot be opened: ${error instanceof Error ? error.message : String(error)}\n`,
  )
  app.exit(1)
}
