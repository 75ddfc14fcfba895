import type { MenuItemConstructorOptions } from 'electron'
import type { MenuCommand } from '../host.ts'
import { shellWords } from './shellWords.ts'

/** What the menu asks of the program. */
export interface MenuActions {
  /** Has the window that is in front carry out one of its own commands. */
  readonly send: (command: MenuCommand) => void
  readonly newWindow: () => void
  readonly openRecent: (path: string) => void
  readonly forgetRecent: () => void
}

export interface RecentShown {
  readonly path: string
  /** Name and folder as people write them. */
  readonly label: string
}

const words = shellWords.menu
const apart: MenuItemConstructorOptions = { type: 'separator' }

/**
 * The menu bar: what people expect of their system, and the window's own commands, which it carries out itself. Undo
 * and redo have no roles, since those would undo typing only.
 */
export function menuTemplate(
  platform: string,
  recent: readonly RecentShown[],
  actions: MenuActions,
): MenuItemConstructorOptions[] {
  const mac = platform === 'darwin'
  const own = (label: string, accelerator: string, command: MenuCommand): MenuItemConstructorOptions => ({
    label,
    accelerator,
    click: () => actions.send(command),
  })
  const file: MenuItemConstructorOptions = {
    label: words.file,
    submenu: [
      { label: words.newWindow, accelerator: 'CmdOrCtrl+N', click: actions.newWindow },
      own(words.newBay, 'CmdOrCtrl+Alt+N', 'new'),
      own(words.open, 'CmdOrCtrl+O', 'open'),
      { label: words.recent, submenu: recentItems(recent, actions) },
      apart,
      own(words.save, 'CmdOrCtrl+S', 'save'),
      own(words.saveAs, 'CmdOrCtrl+Shift+S', 'save-as'),
      apart,
      { role: 'close' },
      ...(mac ? [] : [{ role: 'quit' } as const]),
    ],
  }
  const edit: MenuItemConstructorOptions = {
    label: words.edit,
    submenu: [
      own(words.undo, 'CmdOrCtrl+Z', 'undo'),
      own(words.redo, mac ? 'Cmd+Shift+Z' : 'Ctrl+Y', 'redo'),
      own(words.history, 'CmdOrCtrl+Alt+Z', 'history'),
      apart,
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ],
  }
  const view: MenuItemConstructorOptions = {
    label: words.view,
    submenu: [
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      apart,
      { role: 'togglefullscreen' },
      { role: 'toggleDevTools' },
    ],
  }
  const help: MenuItemConstructorOptions = {
    role: 'help',
    label: words.help,
    submenu: [own(words.keys, 'F1', 'help'), ...(mac ? [] : [apart, { role: 'about' } as const])],
  }
  return [...(mac ? [{ role: 'appMenu' } as const] : []), file, edit, view, { role: 'windowMenu' }, help]
}

function recentItems(recent: readonly RecentShown[], actions: MenuActions): MenuItemConstructorOptions[] {
  if (recent.length === 0) return [{ label: words.noRecent, enabled: false }]
  return [
    // A & in a name would be taken for the mark of a letter.
    ...recent.map(({ path, label }) => ({ label: label.replaceAll('&', '&&'), click: () => actions.openRecent(path) })),
    apart,
    { label: words.forget, click: actions.forgetRecent },
  ]
}
