import type { IpcMain, IpcMainInvokeEvent } from 'electron'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { callNames } from '../bridge.ts'
import type { OpenedBay } from '../host.ts'
import type { BayPlaces } from '../serve/bayPlaces.ts'
import { isOurs } from './appProtocol.ts'

/** The dialogs of the system; null when the user cancels. */
export interface Dialogs {
  askOpen(): Promise<string | null>
  askSave(name: string): Promise<string | null>
}

export interface CallContext {
  readonly places: BayPlaces
  readonly dialogs: Dialogs
  /** The bay named on the command line or opened from the file manager. */
  readonly firstBay: () => string | undefined
  /** Told of every bay that was opened or saved, for the window's title and the system's list of recent files. */
  readonly onOpened: (path: string) => void
}

/**
 * Answers the preload's calls. A call is taken only from our page in a window's main frame; its values are checked
 * here, since a page that was taken over could send anything.
 */
export function answerCalls(ipc: Pick<IpcMain, 'handle'>, context: CallContext): void {
  const { places, dialogs, firstBay, onOpened } = context

  async function openPath(path: string | null | undefined): Promise<Outcome<OpenedBay | null>> {
    if (path === null || path === undefined) return good(null)
    const opened = await places.open(path)
    if (opened.ok) onOpened(path)
    return opened
  }

  async function save(
    text: string,
    name: string,
    token: string | null,
    as: boolean,
  ): Promise<Outcome<OpenedBay | null>> {
    if (token !== null && !as) return places.save(token, text)
    const path = await dialogs.askSave(name)
    if (path === null) return good(null)
    const saved = await places.saveAs(path, text)
    if (saved.ok) onOpened(path)
    return saved
  }

  const handle = (name: string, answer: (...given: unknown[]) => Promise<Outcome<unknown>>): void =>
    ipc.handle(name, async (event: IpcMainInvokeEvent, ...given: unknown[]) => {
      if (!isFromOurPage(event)) return bad({ code: 'call-refused', expected: 'a call from our own page' })
      return answer(...given)
    })

  handle(callNames.first, () => openPath(firstBay()))
  handle(callNames.open, async () => openPath(await dialogs.askOpen()))
  handle(callNames.dropped, async (path) => (isText(path) && path !== '' ? openPath(path) : wrongValues))
  handle(callNames.beside, async (token, file) =>
    isText(token) && isText(file) ? places.beside(token, file) : wrongValues,
  )
  handle(callNames.save, async (text, name, token, as) =>
    isText(text) && isText(name) && (token === null || isText(token)) && typeof as === 'boolean'
      ? save(text, name, token, as)
      : wrongValues,
  )
}

export function isFromOurPage({ senderFrame, sender }: Pick<IpcMainInvokeEvent, 'senderFrame' | 'sender'>): boolean {
  return senderFrame !== null && senderFrame === sender.mainFrame && isOurs(senderFrame.url)
}

const isText = (value: unknown): value is string => typeof value === 'string'

const wrongValues = bad({ code: 'call-refused', expected: 'other values' })
