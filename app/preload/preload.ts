import { contextBridge, ipcRenderer, webUtils } from 'electron'
import { type Bridge, bridgeName, callNames, menuChannel } from '../bridge.ts'
import type { MenuCommand } from '../host.ts'

/**
 * The page's only way out of its sandbox: five calls and one subscription. Nothing of the shell itself is handed over,
 * and a dropped file's path goes to the main process without the page seeing it.
 */
const bridge: Bridge = {
  first: () => ipcRenderer.invoke(callNames.first),
  open: () => ipcRenderer.invoke(callNames.open),
  save: (text, name, token, as) => ipcRenderer.invoke(callNames.save, text, name, token, as),
  beside: (token, file) => ipcRenderer.invoke(callNames.beside, token, file),
  dropped: (file) => ipcRenderer.invoke(callNames.dropped, webUtils.getPathForFile(file)),
  onCommand: (listener) => {
    const pass = (_event: unknown, command: MenuCommand) => listener(command)
    ipcRenderer.on(menuChannel, pass)
    return () => {
      ipcRenderer.off(menuChannel, pass)
    }
  },
}

contextBridge.exposeInMainWorld(bridgeName, bridge)
