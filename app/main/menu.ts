import type { MenuItemConstructorOptions } from 'electron'
import type { MenuCommand } from '../host.ts'

/**
 * The menu bar: what people expect of their system, and the window's own commands, which it carries out itself. Undo
 * and redo have no roles, since those would undo typing only.
 */
export function menuTemplate(platform: string, send: (command: MenuCommand) => void): MenuItemConstructorOptions[] {
  const mac = platform === 'darwin'
  const item = (label: string, accelerator: string, command: MenuCommand): MenuItemConstructorOptions => ({
    label,
    accelerator,
    click: () => send(command),
  })
  const apart: MenuItemConstructorOptions = { type: 'separator' }
  const file: MenuItemConstructorOptions = {
    label: '&File',
    submenu: [
      item('&Open bay…', 'CmdOrCtrl+O', 'open'),
      apart,
      item('&Save', 'CmdOrCtrl+S', 'save'),
      item('Save &as…', 'CmdOrCtrl+Shift+S', 'save-as'),
      apart,
      { role: mac ? 'close' : 'quit' },
    ],
  }
  const edit: MenuItemConstructorOptions = {
    label: '&Edit',
    submenu: [
      item('&Undo', 'CmdOrCtrl+Z', 'undo'),
      item('&Redo', mac ? 'Cmd+Shift+Z' : 'Ctrl+Y', 'redo'),
      apart,
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ],
  }
  const view: MenuItemConstructorOptions = {
    label: '&View',
    submenu: [
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      apart,
      { role: 'togglefullscreen' },
      { role: 'toggleDevTools' },
    ],
  }
  return [...(mac ? [{ role: 'appMenu' } as const] : []), file, edit, view, { role: 'windowMenu' }]
}
