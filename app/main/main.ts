import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, screen, session } from 'electron'
import { menuChannel } from '../bridge.ts'
import { BayPlaces } from '../serve/bayPlaces.ts'
import { pageIn } from '../serve/page.ts'
import { pageHandler, scheme, schemePrivileges, windowAddress } from './appProtocol.ts'
import { answerCalls, type Dialogs } from './calls.ts'
import { bayFrom } from './commandLine.ts'
import { hardenContents, hardenSession, webPreferences } from './hardening.ts'
import { menuTemplate } from './menu.ts'
import { keepState, leastSize, placeFor, readState } from './windowState.ts'

const here = dirname(fileURLToPath(import.meta.url))
const stateFile = () => join(app.getPath('userData'), 'window.json')

let firstBay = bayFrom(process.argv, app.isPackaged, process.cwd())
let window: BrowserWindow | null = null

// Both must happen before the shell is ready.
app.enableSandbox()
protocol.registerSchemesAsPrivileged([schemePrivileges])

// For every page there ever is, before its first line runs.
app.on('web-contents-created', (_event, contents) => hardenContents(contents))
app.on('open-file', (event, path) => {
  event.preventDefault()
  showBay(path)
})
app.on('second-instance', (_event, argv, folder) => showBay(bayFrom(argv, app.isPackaged, folder)))
app.on('window-all-closed', () => {
  if (process.platform !== 'darwin') app.quit()
})
app.on('activate', () => {
  if (window === null && app.isReady()) openWindow()
})

if (app.requestSingleInstanceLock()) app.whenReady().then(start).catch(giveUp)
else app.quit()

function start(): void {
  hardenSession(session.defaultSession)
  protocol.handle(scheme, pageHandler(pageIn(join(here, '..', 'window'))))
  answerCalls(ipcMain, { places: new BayPlaces(), dialogs, firstBay: () => firstBay, onOpened })
  const send = (command: string) => window?.webContents.send(menuChannel, command)
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(process.platform, send)))
  openWindow()
}

function openWindow(): void {
  const state = readState(stateFile())
  const screens = [screen.getPrimaryDisplay(), ...screen.getAllDisplays()].map((display) => display.workArea)
  const opened = new BrowserWindow({
    ...placeFor(state, screens),
    minWidth: leastSize.width,
    minHeight: leastSize.height,
    title: 'Gapwright',
    // Shown when there is something to see.
    show: false,
    webPreferences: webPreferences(join(here, 'preload.cjs')),
  })
  window = opened
  if (state.maximised) opened.maximize()
  opened.once('ready-to-show', () => opened.show())
  opened.on('close', () =>
    keepState(stateFile(), { bounds: opened.getNormalBounds(), maximised: opened.isMaximized() }),
  )
  opened.on('closed', () => {
    window = null
  })
  // The page objects to being closed while there is unsaved work; only here can the user be asked.
  opened.webContents.on('will-prevent-unload', (event) => {
    if (leavesUnsaved(opened)) event.preventDefault()
  })
  opened.loadURL(windowAddress).catch(giveUp)
}

/** Opens another bay in the window: a fresh start of the page, which asks about unsaved work first. */
function showBay(path: string | undefined): void {
  if (path === undefined) {
    window?.focus()
    return
  }
  firstBay = path
  if (window) {
    window.focus()
    window.webContents.reload()
  } else if (app.isReady()) openWindow()
}

function leavesUnsaved(owner: BrowserWindow): boolean {
  const choice = dialog.showMessageBoxSync(owner, {
    type: 'warning',
    message: 'This bay has changes that are not saved.',
    buttons: ['Stay', 'Leave without saving'],
    defaultId: 0,
    cancelId: 0,
  })
  return choice === 1
}

const bayFilter = { name: 'Bay', extensions: ['json'] }

const dialogs: Dialogs = {
  async askOpen() {
    const { canceled, filePaths } = window
      ? await dialog.showOpenDialog(window, { filters: [bayFilter], properties: ['openFile'] })
      : { canceled: true, filePaths: [] }
    return canceled ? null : (filePaths[0] ?? null)
  },
  async askSave(name) {
    const { canceled, filePath } = window
      ? await dialog.showSaveDialog(window, { defaultPath: basename(name), filters: [bayFilter] })
      : { canceled: true, filePath: '' }
    return canceled || filePath === '' ? null : filePath
  },
}

function onOpened(path: string): void {
  firstBay = path
  app.addRecentDocument(path)
  window?.setRepresentedFilename(path)
}

function giveUp(error: unknown): void {
  process.stderr.write(
    `gapwright: the window cannot be opened: ${error instanceof Error ? error.message : String(error)}\n`,
  )
  app.exit(1)
}
