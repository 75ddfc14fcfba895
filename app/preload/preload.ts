import { contextBridge, ipcRenderer, webUtils } from 'electron'
import { type Bridge, bridgeName, callNames, menuChannel, touchedChannel } from '../bridge.ts'

/** Hears what the main process tells; the event itself, which holds more, stays here. */
const told =
  <T>(channel: string) =>
  (listener: (value: T) => void) => {
    const pass = (_event: unknown, value: T) => listener(value)
    ipcRenderer.on(channel, pass)
    return () => {
      ipcRenderer.off(channel, pass)
    }
  }

/**
 * The page's only way out of its sandbox: these calls and two subscriptions. Nothing of the shell itself is handed over,
 * and a dropped file's path goes to the main process without the page seeing it.
 */
const bridge: Bridge = {
  first: () => ipcRenderer.invoke(callNames.first),
  open: () => ipcRenderer.invoke(callNames.open),
  save: (text, name, token, how) => ipcRenderer.invoke(callNames.save, text, name, token, how),
  beside: (token, file) => ipcRenderer.invoke(callNames.beside, token, file),
  addBeside: (token, name, bytes) => ipcRenderer.invoke(callNames.addBeside, token, name, bytes),
  saveFile: (bytes, name) => ipcRenderer.invoke(callNames.saveFile, bytes, name),
  chooseFolder: (name) => ipcRenderer.invoke(callNames.chooseFolder, name),
  saveFolder: (token, files) => ipcRenderer.invoke(callNames.saveFolder, token, files),
  print: (pdf, name) => ipcRenderer.invoke(callNames.print, pdf, name),
  blank: (name, text) => ipcRenderer.invoke(callNames.blank, name, text),
  standing: (token) => ipcRenderer.invoke(callNames.standing, token),
  again: (token) => ipcRenderer.invoke(callNames.again, token),
  recent: () => ipcRenderer.invoke(callNames.recent),
  openRecent: (id) => ipcRenderer.invoke(callNames.openRecent, id),
  forgetRecent: () => ipcRenderer.invoke(callNames.forgetRecent),
  keepWork: (id, token, name, text) => ipcRenderer.invoke(callNames.keepWork, id, token, name, text),
  dropWork: (id) => ipcRenderer.invoke(callNames.dropWork, id),
  foundWork: (token) => ipcRenderer.invoke(callNames.foundWork, token),
  takeWork: (id) => ipcRenderer.invoke(callNames.takeWork, id),
  dragOut: (bytes, name) => ipcRenderer.invoke(callNames.dragOut, bytes, name),
  dropped: (file) => ipcRenderer.invoke(callNames.dropped, webUtils.getPathForFile(file)),
  onCommand: told(menuChannel),
  onTouched: told(touchedChannel),
}

contextBridge.exposeInMainWorld(bridgeName, bridge)
