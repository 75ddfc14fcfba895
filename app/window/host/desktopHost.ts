import type { Bridge } from '../../bridge.ts'
import type { Host } from '../../host.ts'
import { FaultError, type Outcome } from '../../../core/fault.ts'

/** The host inside the desktop shell: the preload's bridge, with faults thrown again. */
export function desktopHost(bridge: Bridge): Host {
  return {
    kind: 'desktop',
    first: () => unwrapped(bridge.first()),
    open: () => unwrapped(bridge.open()),
    save: (text, name, token, as) => unwrapped(bridge.save(text, name, token, as)),
    beside: (token, file) => unwrapped(bridge.beside(token, file)),
    dropped: async (files) => {
      // The shell finds the meshes beside the bay by itself.
      const bay = files.find((file) => isBayName(file.name))
      return bay ? unwrapped(bridge.dropped(bay)) : null
    },
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
