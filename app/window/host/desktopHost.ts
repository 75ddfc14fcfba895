import type { Bridge } from '../../bridge.ts'
import type { Host } from '../../host.ts'
import { FaultError, type Outcome } from '../../../core/fault.ts'

/** The host inside the desktop shell: the preload's bridge, with faults thrown again. */
export function desktopHost(bridge: Bridge): Host {
  return {
    kind: 'desktop',
    first: () => unwrapped(bridge.first()),
    open: () => unwrapped(bridge.open()),
    save: (text, name, token, how) => unwrapped(bridge.save(text, name, token, how)),
    beside: (token, file) => unwrapped(bridge.beside(token, file)),
    addBeside: (token, name, bytes) => unwrapped(bridge.addBeside(token, name, bytes)),
    saveFile: (bytes, name) => unwrapped(bridge.saveFile(bytes, name)),
    chooseFolder: (name) => unwrapped(bridge.chooseFolder(name)),
    saveFolder: (token, files) => unwrapped(bridge.saveFolder(token, files)),
    print: async (pdf, name) => void (await unwrapped(bridge.print(pdf, name))),
    blank: (name, text) => unwrapped(bridge.blank(name, text)),
    standing: (token) => unwrapped(bridge.standing(token)),
    again: (token) => unwrapped(bridge.again(token)),
    onTouched: (listener) => bridge.onTouched(listener),
    recent: () => unwrapped(bridge.recent()),
    openRecent: (id) => unwrapped(bridge.openRecent(id)),
    forgetRecent: async () => void (await unwrapped(bridge.forgetRecent())),
    journal: {
      keep: async (id, token, name, text) => void (await unwrapped(bridge.keepWork(id, token, name, text))),
      drop: async (id) => void (await unwrapped(bridge.dropWork(id))),
      found: (token) => unwrapped(bridge.foundWork(token)),
      take: (id) => unwrapped(bridge.takeWork(id)),
    },
    dropped: async (files) => {
      // The shell finds the meshes beside the bay by itself.
      const bay = files.find((file) => isBayName(file.name))
      return bay ? unwrapped(bridge.dropped(bay)) : null
    },
    // Where it cannot begin, the mouse shows it; there is nothing to tell besides.
    dragOut: (bytes, name) => void bridge.dragOut(bytes, name),
    onCommand: (listener) => bridge.onCommand(listener),
  }
}

/** Whether a file's name is that of a bay; a plain `.json` is let through and judged by its contents. */
export const isBayName = (name: string): boolean => /\.json$/i.test(name)

async function unwrapped<T>(pending: Promise<Outcome<T>>): Promise<T> {
  const outcome = await pending
  if (!outcome.ok) throw new FaultError(outcome.faults)
  return outcome.value
}
