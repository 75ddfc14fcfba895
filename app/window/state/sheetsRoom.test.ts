import { expose } from 'comlink'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { hostDouble } from '../../../test/kit/hostDouble.ts'
import { writeBay } from '../../../core/bay/write.ts'
import { bad, good, type Outcome } from '../../../core/fault.ts'
import type { Host } from '../../host.ts'
import type { SheetSet } from '../../sheet/settings.ts'
import { printSheets, saveAllSheets, saveSheetsPdf } from '../sheets/sheetsOut.ts'
import { SearchDeskHere } from '../../worker/searchDeskHere.ts'
import type { SearchAsk } from '../../worker/searchProtocol.ts'
import type { Here } from './context.ts'
import { withField } from './edit.ts'
import { SearchRoom } from './searchRoom.ts'
import { sheetsSettleFor, SheetsRoom } from './sheetsRoom.ts'
import { bayOf, bayOpened, createWindowStore, doEdit, undo, type WindowStore } from './windowState.ts'

/** Sheets as they come from the worker, in moments; only what the window does with them is looked at here. */
const set = (pages = 3): SheetSet => ({
  pdf: new TextEncoder().encode('%PDF-1.7'),
  pages,
  verdict: 'clears',
  files: [{ name: 'tables/gaps.csv', bytes: new Uint8Array([1]) }],
})

/** Each question, and the way to answer it. */
interface Question {
  readonly ask: SearchAsk<'sheets'>
  readonly answer: (made?: Outcome<SheetSet>) => void
}

const rooms: { close(): void }[] = []
afterEach(() => {
  for (const room of rooms.splice(0)) room.close()
})

function ledgerComes(store: WindowStore) {
  const now = bayOf(store.getState())
  const candidate = store.getState().candidate ?? ''
  const ledger = { candidate, verdict: 'clears', pairs: [], leftOut: [], unrouted: [], exempt: [] } as const
  store.setState({ kept: now && { ledger, bay: now, milliseconds: 1 } })
}

function roomWith(host: Partial<Host> = {}) {
  const desk = new SearchDeskHere()
  const questions: Question[] = []
  desk.search = ((ask: SearchAsk<'sheets'>) =>
    new Promise((done) => {
      if (ask.kind !== 'sheets') return
      questions.push({ ask, answer: (outcome = good(set())) => done({ outcome, milliseconds: 1 }) })
    })) as never
  const startSearcher = () => {
    const { port1, port2 } = new MessageChannel()
    expose(desk, port2 as unknown as Parameters<typeof expose>[1])
    const terminate = () => {
      port1.close()
      port2.close()
    }
    return Object.assign(port1, { terminate }) as unknown as Worker
  }
  const store = createWindowStore()
  const searches = new SearchRoom(store, startSearcher, async () => new Map())
  const sheets = new SheetsRoom(store, searches, async () => new Map())
  rooms.push(searches, sheets)
  const bay = { ...sampleBay() }
  store.setState((state) => bayOpened(state, { token: 't', name: 'my', writable: true }, { bay, meshes: [] }))
  const here = { room: { store, searches, sheets, host: hostDouble(host) } } as unknown as Here
  return { store, sheets, questions, here, stand: () => sheets.standing() }
}

/** In the stage, with the gaps known and the first set made. */
async function looked(host: Partial<Host> = {}) {
  const room = roomWith(host)
  room.store.setState({ stage: 'sheets' })
  ledgerComes(room.store)
  await vi.waitFor(() => expect(room.questions).toHaveLength(1))
  room.questions[0].answer()
  await vi.waitFor(() => expect(room.stand()).toBe('fresh'))
  return room
}

const named = (name: string) => ({
  name: 'name',
  label: `name ${name}`,
  undo: 'step' as const,
  apply: (whole: ReturnType<typeof sampleBay>) => withField(whole, ['name'], name),
})
const pause = (time: number) => new Promise((done) => setTimeout(done, time))

describe('sheets beside the window', () => {
  test('nothing is made before somebody looks at them, nor before the gaps are known', async () => {
    const { store, questions, stand } = roomWith()
    ledgerComes(store)
    await pause(sheetsSettleFor + 100)
    expect(questions).toEqual([])
    expect(stand()).toBe('none')
    store.setState({ stage: 'sheets', kept: null })
    await pause(sheetsSettleFor + 100)
    expect(questions).toEqual([])
    expect(stand()).toBe('working')
    ledgerComes(store)
    await vi.waitFor(() => expect(questions).toHaveLength(1))
  })

  test('after an edit they are out of date, and of quick edits the last one alone is made', async () => {
    const { store, questions, sheets, stand } = await looked()
    for (const name of ['one', 'two', 'three']) {
      doEdit(store, named(name))
      ledgerComes(store)
    }
    expect(stand()).toBe('working')
    expect(sheets.freshSet()).toBe(null)
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    expect(questions[1].ask.bay.name).toBe('three')
    await pause(sheetsSettleFor + 100)
    expect(questions).toHaveLength(2)
  })

  test('an answer that comes for a bay that is no more is nobody’s', async () => {
    const { store, questions, sheets, stand } = await looked()
    doEdit(store, named('one'))
    ledgerComes(store)
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    doEdit(store, named('two'))
    ledgerComes(store)
    questions[1].answer(good(set(99)))
    await vi.waitFor(() => expect(questions).toHaveLength(3))
    expect(sheets.freshSet()).toBe(null)
    questions[2].answer(good(set(7)))
    await vi.waitFor(() => expect(stand()).toBe('fresh'))
    expect(sheets.freshSet()?.pages).toBe(7)
  })

  test('what is wished of them makes them anew as well, and only that set counts', async () => {
    const { questions, sheets, stand } = await looked()
    sheets.wish({ paper: 'A3', revision: 'B' })
    expect(stand()).toBe('working')
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    expect(questions[1].ask.request.settings).toMatchObject({ paper: 'A3', revision: 'B', units: 'mm' })
    questions[1].answer()
    await vi.waitFor(() => expect(stand()).toBe('fresh'))
    sheets.wish({ paper: 'A4', revision: 'A' })
  })

  test('the window’s units count until others are wished', async () => {
    const { store, questions, sheets, stand } = await looked()
    store.setState({ units: 'inch' })
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    expect(questions[1].ask.request.settings.units).toBe('inch')
    sheets.wish({ units: 'mm' })
    // Those in millimetres are there already.
    expect(stand()).toBe('fresh')
  })

  test('given up they stay given up until the next edit, or until they are asked for', async () => {
    const { store, questions, sheets, stand } = await looked()
    doEdit(store, named('one'))
    ledgerComes(store)
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    sheets.cancel()
    expect(stand()).toBe('cancelled')
    questions[1].answer()
    await pause(sheetsSettleFor + 100)
    expect(stand()).toBe('cancelled')
    expect(questions).toHaveLength(2)
    sheets.make()
    await vi.waitFor(() => expect(questions).toHaveLength(3))
    sheets.cancel()
    questions[2].answer()
    doEdit(store, named('two'))
    ledgerComes(store)
    expect(stand()).toBe('working')
    // What was undone is what the pages show.
    undo(store)
    undo(store)
    expect(stand()).toBe('fresh')
  })

  test('elsewhere in the window they go out of date, and are made on request', async () => {
    const { store, questions, sheets, stand } = await looked()
    store.setState({ stage: 'gaps' })
    doEdit(store, named('one'))
    ledgerComes(store)
    await pause(sheetsSettleFor + 100)
    expect(stand()).toBe('outOfDate')
    expect(questions).toHaveLength(1)
    sheets.make()
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    expect(stand()).toBe('working')
  })

  test('what cannot be made says why, and is not tried over and over', async () => {
    const { store, questions, stand } = await looked()
    doEdit(store, named('one'))
    ledgerComes(store)
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    questions[1].answer(bad({ code: 'file-unreadable', file: 'DejaVuSansCondensed.ttf' }))
    await vi.waitFor(() => expect(stand()).toBe('failed'))
    await pause(sheetsSettleFor + 100)
    expect(questions).toHaveLength(2)
  })

  test('the text that they carry is the very one that was read, as long as the bay is that one', async () => {
    const { store, questions } = roomWith()
    const bay = bayOf(store.getState())
    if (!bay) throw new Error('no bay')
    store.setState({ stage: 'sheets', asRead: { bay, text: '{ "as": "written by hand" }' } })
    ledgerComes(store)
    await vi.waitFor(() => expect(questions).toHaveLength(1))
    expect(questions[0].ask.request.text).toBe('{ "as": "written by hand" }')
    questions[0].answer()
    doEdit(store, named('one'))
    ledgerComes(store)
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    expect(questions[1].ask.request.text).toBe(writeBay({ ...bay, name: 'one' }))
  })
})

describe('sheets out of the window', () => {
  test('as one PDF, named after bay, candidate and revision', async () => {
    const saveFile = vi.fn(async (_: Uint8Array, name: string) => name)
    const { here, sheets, questions } = await looked({ saveFile })
    sheets.wish({ revision: 'B2' })
    await vi.waitFor(() => expect(questions).toHaveLength(2))
    questions[1].answer()
    await vi.waitFor(() => expect(sheets.freshSet()).not.toBe(null))
    await saveSheetsPdf(here)
    expect(saveFile).toHaveBeenCalledWith(set().pdf, expect.stringMatching(/^[a-z0-9-]+-b2\.pdf$/))
    expect(sheets.store.getState().said).toMatch(/^Saved as .*-b2\.pdf\.$/)
  })

  test('as a folder; where there is one of that name, only after asking', async () => {
    const saveFolder = vi.fn(async () => 'set')
    const chooseFolder = async (name: string) => ({ token: 'f', name, taken: true })
    const { here, sheets } = await looked({ chooseFolder, saveFolder })
    for (const yes of [false, true]) {
      const saving = saveAllSheets(here)
      await vi.waitFor(() => expect(sheets.store.getState().taken).not.toBe(null))
      sheets.store.getState().taken?.answered(yes)
      await saving
      expect(saveFolder).toHaveBeenCalledTimes(yes ? 1 : 0)
    }
    expect(sheets.store.getState().said).toBe('2 files saved in set.')
  })

  test('packed where no folder can be written', async () => {
    const saveFile = vi.fn(async (_: Uint8Array, name: string) => name)
    const { here } = await looked({ saveFile })
    await saveAllSheets(here)
    expect(saveFile).toHaveBeenCalledWith(expect.anything(), expect.stringMatching(/\.zip$/))
  })

  test('what cannot be written or opened is told, and nothing is out while they are out of date', async () => {
    const saveFile = vi.fn(async () => {
      throw Object.assign(new Error(), { faults: [{ code: 'file-unwritable', file: 'a.pdf', got: 'a full disk' }] })
    })
    const print = vi.fn(async () => {
      throw Object.assign(new Error(), { faults: [{ code: 'print-refused', file: 'a.pdf' }] })
    })
    const { here, sheets, store } = await looked({ saveFile, print })
    await saveSheetsPdf(here)
    expect(sheets.store.getState().said).toMatch(/^Not saved.*a\.pdf.*a full disk/)
    await printSheets(here)
    expect(sheets.store.getState().said).toMatch(/^Not opened for printing/)
    doEdit(store, named('one'))
    await saveSheetsPdf(here)
    expect(saveFile).toHaveBeenCalledTimes(1)
  })
})
