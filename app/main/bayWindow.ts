import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { app, BrowserWindow, dialog, nativeImage, screen, shell } from 'electron'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { storableName } from '../files/besideBay.ts'
import { reasonText, whatToDo } from '../files/diskReason.ts'
import { windowAddress } from './appProtocol.ts'
import type { Caller } from './calls.ts'
import { webPreferences } from './hardening.ts'
import { shellWords } from './shellWords.ts'
import { keepState, leastSize, placeFor, readState, type WindowState } from './windowState.ts'

/** What a window needs to know of the others and of the program. */
export interface WindowSurroundings {
  /** Where places of windows are kept. */
  readonly stateFile: string
  readonly preload: string
  /** Places of windows that are open, so that a new one does not cover one of them. */
  readonly taken: () => readonly Electron.Rectangle[]
  readonly hasOpened: (window: BayWindow, path: string, token: string) => void
  readonly isOpenElsewhere: (window: BayWindow, path: string) => Promise<boolean>
  readonly closed: (window: BayWindow) => void
  readonly failed: (error: unknown) => void
}

/** One window with one bay; it answers what its page asks about itself. */
export class BayWindow implements Caller {
  readonly window: BrowserWindow
  readonly id: string
  /** The bay that is open here, or that is to be opened first. */
  bay: string | undefined
  readonly #around: WindowSurroundings
  /** Folders of files that were lent to other programs; they go when the window goes. */
  readonly #lent = new Set<string>()
  #draggedTo: string | null = null

  constructor(bay: string | undefined, around: WindowSurroundings) {
    this.#around = around
    this.bay = bay
    const state = readState(around.stateFile, bay)
    const screens = [screen.getPrimaryDisplay(), ...screen.getAllDisplays()].map(({ workArea }) => workArea)
    this.window = new BrowserWindow({
      ...placeFor(state, screens, around.taken()),
      minWidth: leastSize.width,
      minHeight: leastSize.height,
      title: shellWords.program,
      // Shown when there is something to see.
      show: false,
      webPreferences: webPreferences(around.preload),
    })
    this.id = `window-${this.window.webContents.id}-${process.pid}`
    this.#listen(state)
    this.window.loadURL(windowAddress).catch(around.failed)
  }

  firstBay(): string | undefined {
    return this.bay
  }

  async askOpen(): Promise<string | null> {
    const { canceled, filePaths } = await dialog.showOpenDialog(this.window, {
      filters: [bayFilter, anyFilter],
      properties: ['openFile'],
    })
    return canceled ? null : (filePaths[0] ?? null)
  }

  async askSave(name: string): Promise<string | null> {
    const { canceled, filePath } = await dialog.showSaveDialog(this.window, {
      defaultPath: basename(name),
      filters: filtersFor(name),
      properties: ['showOverwriteConfirmation', 'createDirectory'],
    })
    return canceled || filePath === '' ? null : filePath
  }

  async askFolder(): Promise<string | null> {
    const { canceled, filePaths } = await dialog.showOpenDialog(this.window, {
      properties: ['openDirectory', 'createDirectory'],
    })
    return canceled ? null : (filePaths[0] ?? null)
  }

  hasOpened(path: string, token: string): void {
    this.bay = path
    this.window.setRepresentedFilename(path)
    this.#around.hasOpened(this, path, token)
  }

  isOpenElsewhere(path: string): Promise<boolean> {
    return this.#around.isOpenElsewhere(this, path)
  }

  /** The system drags files only, so the bytes become one first; it goes when the window goes. */
  async dragOut(bytes: Uint8Array, name: string): Promise<Outcome<null>> {
    try {
      const file = await this.#lend(bytes, name)
      await this.#forget(this.#draggedTo)
      this.#draggedTo = dirname(file)
      this.window.webContents.startDrag({ file, icon: await dragIcon(file) })
      return good(null)
    } catch (error) {
      return bad({ code: 'file-unwritable', file: name, expected: whatToDo(error), got: reasonText(error) })
    }
  }

  /** The page cannot print a PDF true to scale; the system's own reader can. */
  async print(pdf: Uint8Array, name: string): Promise<Outcome<null>> {
    try {
      const trouble = await shell.openPath(await this.#lend(pdf, `${name.replace(/\.pdf$/i, '')}.pdf`))
      return trouble === '' ? good(null) : bad({ code: 'file-unreadable', file: name, got: trouble })
    } catch (error) {
      return bad({ code: 'file-unwritable', file: name, expected: whatToDo(error), got: reasonText(error) })
    }
  }

  toFront(): void {
    if (this.window.isMinimized()) this.window.restore()
    this.window.show()
    this.window.focus()
  }

  #listen(state: WindowState): void {
    const { window } = this
    if (state.maximised) window.maximize()
    window.once('ready-to-show', () => window.show())
    window.on('close', () => {
      const { x, y, width, height } = window.getNormalBounds()
      keepState(this.#around.stateFile, this.bay, { bounds: { x, y, width, height }, maximised: window.isMaximized() })
    })
    window.on('closed', () => {
      for (const folder of this.#lent) void this.#forget(folder)
      this.#around.closed(this)
    })
    // The page objects to being closed while there is unsaved work; only here can the user be asked.
    window.webContents.on('will-prevent-unload', (event) => {
      if (this.#leavesUnsaved()) event.preventDefault()
    })
    // What was unsaved lies in the journal; the page that comes up offers it.
    window.webContents.on('render-process-gone', (_event, { reason }) => {
      if (reason !== 'clean-exit') window.webContents.reload()
    })
  }

  #leavesUnsaved(): boolean {
    const { unsaved } = shellWords
    const choice = dialog.showMessageBoxSync(this.window, {
      type: 'warning',
      message: unsaved.message,
      detail: unsaved.detail,
      buttons: [unsaved.stay, unsaved.leave],
      defaultId: 0,
      cancelId: 0,
    })
    return choice === 1
  }

  /** @returns its path, in a folder of its own */
  async #lend(bytes: Uint8Array, name: string): Promise<string> {
    const folder = await mkdtemp(join(app.getPath('temp'), 'gapwright-lent-'))
    this.#lent.add(folder)
    const file = join(folder, storableName(name))
    await writeFile(file, bytes)
    return file
  }

  async #forget(folder: string | null): Promise<void> {
    if (folder === null) return
    this.#lent.delete(folder)
    await rm(folder, { recursive: true, force: true }).catch(() => {})
  }
}

const bayFilter = { name: shellWords.bay, extensions: ['json'] }
const anyFilter = { name: shellWords.anyFile, extensions: ['*'] }

function filtersFor(name: string): Electron.FileFilter[] {
  const extension = /\.([a-z0-9]{1,8})$/i.exec(name)?.[1]
  if (extension === undefined) return [anyFilter]
  return extension === 'json' ? [bayFilter, anyFilter] : [{ name: extension.toUpperCase(), extensions: [extension] }]
}

/** Dragging wants a picture that is not empty: the file itself if it is one, else the system's icon for it. */
async function dragIcon(file: string): Promise<Electron.NativeImage> {
  const own = nativeImage.createFromPath(file)
  if (!own.isEmpty()) return own.resize({ width: 96 })
  return app.getFileIcon(file, { size: 'normal' })
}
