import type { Outcome } from '../core/fault.ts'
import type {
  AddedFile,
  ChosenFolder,
  FileOut,
  FoundWork,
  LostWork,
  MenuCommand,
  OpenedBay,
  RecentBay,
  SaveHow,
  Standing,
} from './host.ts'

/**
 * The preload's side of the desktop host. The same calls as `Host`, but with faults as values: an error loses
 * everything but its message on the way from one process to another.
 */
export interface Bridge {
  first(): Promise<Outcome<OpenedBay | null>>
  open(): Promise<Outcome<OpenedBay | null>>
  save(text: string, name: string, token: string | null, how: SaveHow): Promise<Outcome<OpenedBay | null>>
  beside(token: string, file: string): Promise<Outcome<Uint8Array>>
  addBeside(token: string, name: string, bytes: Uint8Array): Promise<Outcome<AddedFile>>
  saveFile(bytes: Uint8Array, name: string): Promise<Outcome<string | null>>
  chooseFolder(name: string): Promise<Outcome<ChosenFolder | null>>
  saveFolder(token: string, files: readonly FileOut[]): Promise<Outcome<string>>
  print(pdf: Uint8Array, name: string): Promise<Outcome<null>>
  blank(name: string, text: string): Promise<Outcome<OpenedBay>>
  standing(token: string): Promise<Outcome<Standing>>
  again(token: string): Promise<Outcome<OpenedBay>>
  recent(): Promise<Outcome<readonly RecentBay[]>>
  openRecent(id: string): Promise<Outcome<OpenedBay | null>>
  forgetRecent(): Promise<Outcome<null>>
  keepWork(id: string, token: string | null, name: string, text: string): Promise<Outcome<null>>
  dropWork(id: string): Promise<Outcome<null>>
  foundWork(token: string | null): Promise<Outcome<readonly LostWork[]>>
  takeWork(id: string): Promise<Outcome<FoundWork>>
  dragOut(bytes: Uint8Array, name: string): Promise<Outcome<null>>
  dropped(file: File): Promise<Outcome<OpenedBay | null>>
  onCommand(listener: (command: MenuCommand) => void): () => void
  onTouched(listener: (token: string) => void): () => void
}

/** Name under which the preload hands the bridge to the page. */
export const bridgeName = 'gapwrightBridge'

/** Channels of the calls from the preload to the main process, and of what main tells the page. */
export const callNames = {
  first: 'bay:first',
  open: 'bay:open',
  save: 'bay:save',
  beside: 'bay:beside',
  addBeside: 'bay:add-beside',
  saveFile: 'file:save',
  chooseFolder: 'folder:choose',
  saveFolder: 'folder:save',
  print: 'file:print',
  blank: 'bay:blank',
  standing: 'bay:standing',
  again: 'bay:again',
  recent: 'recent:list',
  openRecent: 'recent:open',
  forgetRecent: 'recent:forget',
  keepWork: 'work:keep',
  dropWork: 'work:drop',
  foundWork: 'work:found',
  takeWork: 'work:take',
  dragOut: 'file:drag-out',
  dropped: 'bay:dropped',
} as const
export const menuChannel = 'menu:command'
export const touchedChannel = 'bay:touched'
