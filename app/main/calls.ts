import type { IpcMain, IpcMainInvokeEvent, WebContents } from 'electron'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { defaultLimits } from '../files/rawMesh.ts'
import type { RecentFiles } from '../files/recentFiles.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import { callNames } from '../bridge.ts'
import type { FileOut, OpenedBay, SaveHow } from '../host.ts'
import type { BayPlaces } from '../serve/bayPlaces.ts'
import type { WindowJournal } from '../serve/lostWork.ts'
import { isOurs } from './appProtocol.ts'
import { ChosenFolders } from './chosenFolders.ts'

/** A window as its page's calls see it. */
export interface Caller {
  /** Names the window in the journal. */
  readonly id: string
  /** The dialogs of the system, in front of this window; null when the user cancels. */
  askOpen(): Promise<string | null>
  askSave(name: string): Promise<string | null>
  /** The folder that another one is to lie in. */
  askFolder(): Promise<string | null>
  /** The bay named on the command line or opened from the file manager. */
  firstBay(): string | undefined
  /** Told of every bay that was opened or saved in this window, for its title and for who has which bay open. */
  hasOpened(path: string, token: string): void
  /** Brings the window that has this bay open to the front, if it is another one. */
  isOpenElsewhere(path: string): Promise<boolean>
  dragOut(bytes: Uint8Array, name: string): Promise<Outcome<null>>
  /** Opens a PDF with what the system has for it. */
  print(pdf: Uint8Array, name: string): Promise<Outcome<null>>
}

export interface CallContext {
  readonly places: BayPlaces
  readonly journal: WindowJournal
  readonly recent: Pick<RecentFiles, 'list' | 'pathOf'>
  /** Forgets the recent files here, in the menu and in the system's own list. */
  readonly forgetRecent: () => Promise<void>
  /** Which of our windows a call comes from. */
  readonly callerOf: (contents: WebContents) => Caller | undefined
}

type Answer = (caller: Caller, ...given: unknown[]) => Promise<Outcome<unknown>>

/**
 * Answers the preload's calls. A call is taken only from our page in a window's main frame; its values are checked
 * here, since a page that was taken over could send anything.
 */
export function answerCalls(ipc: Pick<IpcMain, 'handle'>, context: CallContext): void {
  for (const [name, { takes, answer }] of Object.entries(callsOf(context)))
    ipc.handle(name, async (event: IpcMainInvokeEvent, ...given: unknown[]) => {
      const caller = isFromOurPage(event) ? context.callerOf(event.sender) : undefined
      if (!caller) return bad({ code: 'call-refused', expected: 'a call from our own page' })
      const fits = given.length <= takes.length && takes.every((isFit, i) => isFit(given[i]))
      return fits ? answer(caller, ...given) : bad({ code: 'call-refused', expected: 'other values' })
    })
}

interface CallRule {
  /** What each value has to be. */
  readonly takes: readonly ((value: unknown) => boolean)[]
  readonly answer: Answer
}

function callsOf({ places, journal, recent, forgetRecent }: CallContext): Record<string, CallRule> {
  async function openPath(caller: Caller, path: string | null | undefined): Promise<Outcome<OpenedBay | null>> {
    if (path === null || path === undefined || (await caller.isOpenElsewhere(path))) return good(null)
    const opened = await places.open(path)
    if (opened.ok) caller.hasOpened(path, opened.value.token)
    return opened
  }

  async function save(caller: Caller, text: string, name: string, token: string | null, how: SaveHow) {
    if (token !== null && how !== 'elsewhere' && places.pathOf(token) !== null)
      return places.save(token, text, how === 'over')
    const path = await caller.askSave(name)
    if (path === null || (await caller.isOpenElsewhere(path))) return good(null)
    const saved = await places.saveAs(path, text, token)
    if (saved.ok) caller.hasOpened(path, saved.value.token)
    return saved
  }

  async function saveFile(caller: Caller, bytes: Uint8Array, name: string): Promise<Outcome<string | null>> {
    const path = await caller.askSave(name)
    if (path === null) return good(null)
    const saved = await saveAtomically(path, bytes, { keepFormer: false })
    return saved.ok ? good(nameIn(path)) : bad(...saved.faults.map((fault) => ({ ...fault, file: nameIn(path) })))
  }

  const folders = new ChosenFolders()

  const rule = <Given extends unknown[]>(
    takes: CallRule['takes'],
    answer: (caller: Caller, ...given: Given) => Promise<Outcome<unknown>>,
  ): CallRule => ({ takes, answer: answer as Answer })

  return {
    [callNames.first]: rule([], (caller) => openPath(caller, caller.firstBay())),
    [callNames.open]: rule([], async (caller) => openPath(caller, await caller.askOpen())),
    [callNames.dropped]: rule([isName], (caller, path: string) => openPath(caller, path)),
    [callNames.openRecent]: rule([isText], async (caller, id: string) => {
      const path = await recent.pathOf(id)
      return path === null ? bad({ code: 'file-missing' }) : openPath(caller, path)
    }),
    [callNames.recent]: rule([], async () => good(await recent.list())),
    [callNames.forgetRecent]: rule([], async () => good((await forgetRecent()) ?? null)),
    [callNames.save]: rule([isText, isText, isTextOrNull, isHow], save),
    [callNames.saveFile]: rule([isBytes, isName], saveFile),
    [callNames.chooseFolder]: rule([isName], async (caller, name: string) =>
      good(await folders.chosen(caller.id, await caller.askFolder(), name)),
    ),
    [callNames.saveFolder]: rule([isText, isFiles], (caller, token: string, files: readonly FileOut[]) =>
      folders.save(caller.id, token, files),
    ),
    [callNames.print]: rule([isPdf, isName], (caller, pdf: Uint8Array, name: string) => caller.print(pdf, name)),
    [callNames.beside]: rule([isText, isText], (_, token: string, file: string) => places.beside(token, file)),
    [callNames.addBeside]: rule([isText, isName, isBytes], (_, token: string, name: string, bytes: Uint8Array) =>
      places.addBeside(token, name, bytes),
    ),
    [callNames.blank]: rule([isName, isText], async (_, name: string, text: string) =>
      good(places.withText(null, name, text, null)),
    ),
    [callNames.standing]: rule([isText], (_, token: string) => places.standing(token)),
    [callNames.again]: rule([isText], (_, token: string) => places.again(token)),
    [callNames.keepWork]: rule(
      [isText, isTextOrNull, isText, isText],
      (caller, id: string, token: string | null, name: string, text: string) =>
        journal.keep(caller.id, id, token, name, text),
    ),
    [callNames.dropWork]: rule([isText], async (_, id: string) => good((await journal.drop(id)) ?? null)),
    [callNames.foundWork]: rule([isTextOrNull], async (_, token: string | null) => good(await journal.found(token))),
    [callNames.takeWork]: rule([isText], async (caller, id: string) => {
      const taken = await journal.take(id)
      const path = taken.ok ? places.pathOf(taken.value.bay.token) : null
      if (taken.ok && path !== null) caller.hasOpened(path, taken.value.bay.token)
      return taken
    }),
    [callNames.dragOut]: rule([isBytes, isName], (caller, bytes: Uint8Array, name: string) =>
      caller.dragOut(bytes, name),
    ),
  }
}

export function isFromOurPage({ senderFrame, sender }: Pick<IpcMainInvokeEvent, 'senderFrame' | 'sender'>): boolean {
  return senderFrame !== null && senderFrame === sender.mainFrame && isOurs(senderFrame.url)
}

const isText = (value: unknown): value is string => typeof value === 'string'
const isName = (value: unknown): value is string => isText(value) && value !== ''
const isTextOrNull = (value: unknown): value is string | null => value === null || isText(value)
const isHow = (value: unknown): value is SaveHow => value === 'in-place' || value === 'over' || value === 'elsewhere'
const isBytes = (value: unknown): value is Uint8Array =>
  value instanceof Uint8Array && value.byteLength <= defaultLimits.bytes

/** More in one set, or larger together, is no set of sheets. */
const mostFiles = 2000
const isFiles = (value: unknown): value is readonly FileOut[] =>
  Array.isArray(value) &&
  value.length <= mostFiles &&
  value.every((file) => isName(file?.name) && isBytes(file?.bytes)) &&
  value.reduce((sum, { bytes }) => sum + bytes.byteLength, 0) <= defaultLimits.bytes
/** What is opened by another program has to be what it says it is. */
const isPdf = (value: unknown): value is Uint8Array =>
  isBytes(value) && new TextDecoder('latin1').decode(value.subarray(0, 5)) === '%PDF-'

const nameIn = (path: string): string => path.split(/[\\/]/).at(-1) ?? path
