import type { Outcome } from '../core/fault.ts'
import type { MenuCommand, OpenedBay } from './host.ts'

/**
 * The preload's side of the desktop host. The same calls as `Host`, but with faults as values: an error loses
 * everything but its message on the way from one process to another.
 */
export interface Bridge {
  first(): Promise<Outcome<OpenedBay | null>>
  open(): Promise<Outcome<OpenedBay | null>>
  save(text: string, name: string, token: string | null, as: boolean): Promise<Outcome<OpenedBay | null>>
  beside(token: string, file: string): Promise<Outcome<Uint8Array>>
  dropped(file: File): Promise<Outcome<OpenedBay | null>>
  onCommand(listener: (command: MenuCommand) => void): () => void
}

/** Name under which the preload hands the bridge to the page. */
export const bridgeName = 'gapwrightBridge'

/** Channels of the calls from the preload to the main process, and of the menu's commands the other way. */
export const callNames = {
  first: 'bay:first',
  open: 'bay:open',
  save: 'bay:save',
  beside: 'bay:beside',
  dropped: 'bay:dropped',
} as const
export const menuChannel = 'menu:command'
