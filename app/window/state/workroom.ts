import { idOf } from '../../../core/bay/unlike.ts'
import { writeBay } from '../../../core/bay/write.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import type { Host, OpenedBay, SaveHow } from '../../host.ts'
import { faultTexts } from '../../wording.ts'
import type { Opened, Sketch } from '../../worker/protocol.ts'
import { isBayName } from '../host/desktopHost.ts'
import { keepingWords } from '../keepingWords.ts'
import { words } from '../words.ts'
import type { Example } from '../tour/examples.ts'
import { CompareRoom } from './compareRoom.ts'
import { type DeskListener, DeskLink, faultsOf } from './deskLink.ts'
import { type AidStore, createAidStore } from './aids.ts'
import { sealed } from './history.ts'
import { KeepingRoom } from './keeping.ts'
import { isMeshName, MeasureRoom } from './measure.ts'
import { followOverlaid } from './overlaid.ts'
import { SearchRoom } from './searchRoom.ts'
import { SheetsRoom } from './sheetsRoom.ts'
import { createSceneStore, sceneAfter } from './scene.ts'
import { asksForSeat, isSeatOfNow } from './seat.ts'
import { bayOf, bayOpened, isDirty, type WindowState, type WindowStore } from './windowState.ts'

/**
 * Brings store, worker and host together: what is opened and edited goes to the worker, what it answers goes to the
 * store and the scene. The window's components only read the two and do edits.
 */
export class Workroom {
  readonly store: WindowStore
  readonly scene = createSceneStore()
  readonly aids: AidStore = createAidStore()
  readonly host: Host
  readonly searches: SearchRoom
  readonly compare: CompareRoom
  readonly sheets: SheetsRoom
  readonly measure: MeasureRoom
  readonly keeping: KeepingRoom
  private readonly link: DeskLink
  private ghosts = 0
  readonly lines: DeskLink['lines'] = (wanted) => this.link.lines(wanted)

  constructor(store: WindowStore, host: Host, startWorker: () => Worker, startSearcher: () => Worker) {
    this.store = store
    this.host = host
    this.link = new DeskLink(startWorker, this.listener())
    store.subscribe((state, before) => this.askIfChanged(state, before))
    this.searches = new SearchRoom(store, startSearcher, () => this.link.openMeshes())
    this.compare = new CompareRoom(store, this.searches, this.aids)
    this.sheets = new SheetsRoom(store, this.searches, () => this.link.meshFiles())
    followOverlaid(store, this.aids, this.scene, (bay, id) => this.link.outlines(bay, id))
    this.measure = new MeasureRoom({
      store,
      host,
      inspect: (name, bytes) => this.link.inspectMesh(name, bytes),
      keep: (file) => this.link.keepMesh(file),
      renewed: () => this.searches.renew(),
    })
    this.keeping = new KeepingRoom({
      store,
      host,
      open: (bay) => this.opening(async () => bay),
      tell: (what, faults) => this.tell(titles[what], [...faultTexts(faults), ...(what === 'not-kept' ? hints : [])]),
    })
  }

  /** The bay that the program was started with, if any. */
  async start(): Promise<void> {
    await this.opening(() => this.host.first())
    this.store.setState({ started: true })
    await this.keeping.lookForLost(null)
  }

  /** A bay that is in no file yet takes the place of what was open. */
  async begin(bay: Bay): Promise<void> {
    const name = `${idOf(bay.name, [])}.bay.json`
    const shown = await this.opening(() => this.host.blank(name, writeBay(bay)))
    // In no file is unsaved, however little there is in it.
    if (shown) this.store.setState({ saved: null, stage: 'measure' })
  }

  /** A bay that came with the program, as a copy: saving asks for a place. @returns whether it is shown */
  async openExample(fetched: () => Promise<Example>): Promise<boolean> {
    return this.opening(async () => {
      const { name, text, beside } = await fetched()
      const blank = await this.host.blank(name, text)
      for (const file of beside) await this.host.addBeside(blank.token, file.name, file.bytes)
      return blank
    })
  }

  async openAsked(): Promise<void> {
    this.guarded(() => void this.openingAnother(() => this.host.open()))
  }

  async openRecent(id: string): Promise<void> {
    this.guarded(() => void this.openingAnother(() => this.host.openRecent(id)))
  }

  async openDropped(files: readonly File[]): Promise<void> {
    const { host } = this
    const mesh = files.find(({ name }) => isMeshName(name))
    if (mesh && bayOf(this.store.getState()) && !files.some(({ name }) => isBayName(name)))
      return this.measure.lookInto(mesh)
    if (mesh && !files.some(({ name }) => isBayName(name)))
      return this.tell(words.banner.notABay, [words.measure.mesh.noBay])
    if (!host.dropped) return
    this.guarded(() => {
      void this.openingAnother(async () => {
        const bay = await host.dropped?.(files)
        if (!bay) this.tell(words.banner.notABay, [words.banner.dropABay])
        return bay ?? null
      })
    })
  }

  /** @returns whether the bay is now kept; false when the user cancelled or it could not be written */
  async save(how: SaveHow): Promise<boolean> {
    const { file } = this.store.getState()
    const bay = bayOf(this.store.getState())
    if (!bay) return false
    try {
      const name = file?.name ?? words.file.newName
      // A bay that is in no file yet has no place of its own to be written to.
      const where = file?.writable ? how : 'elsewhere'
      const written = await this.host.save(writeBay(bay), name, file?.token ?? null, where)
      if (!written) return false
      const handed = this.measure.handOver(bay)
      this.store.setState(({ history }) => ({
        file: { token: written.token, name: written.name, writable: written.writable },
        history: history && sealed(history),
        saved: bay,
        banner:
          handed.length > 0
            ? { title: words.measure.mesh.handedTitle, lines: words.measure.mesh.handed(handed), news: true }
            : null,
      }))
      this.keeping.saved()
      return true
    } catch (error) {
      this.tellNotSaved(faultsOf(error, { code: 'file-unwritable', file: file?.name, expected: words.file.writable }))
      return false
    }
  }

  /** Begins to drag a copy of the bay, as it is now, out of the window. */
  dragBayOut(): void {
    const bay = bayOf(this.store.getState())
    const name = this.store.getState().file?.name ?? words.file.newName
    if (bay) this.host.dragOut?.(new TextEncoder().encode(writeBay(bay)), name)
  }

  /** Stops whatever the worker does for this window: reading a bay, or computing gaps. */
  stop(): void {
    const { reading } = this.store.getState()
    const alive = this.link.stop()
    this.store.setState({ reading: null, computing: null, ...(reading === null && { stopped: true }) })
    if (!alive) void this.reopen()
  }

  /** Ends the workers; the room is of no use afterwards. */
  close(): void {
    this.keeping.close()
    this.searches.close()
    this.sheets.close()
    this.link.end()
  }

  /** Lays a pipe as it might be over the drawing, or takes it off; the newest wish counts. */
  async ghost(wanted: Sketch | null): Promise<void> {
    const own = ++this.ghosts
    const ghost = wanted && (await this.link.sketch(wanted))
    if (own === this.ghosts && ghost !== this.scene.getState().ghost) this.scene.setState({ ghost })
  }

  computeAgain(): void {
    this.store.setState({ stopped: false, troubles: null })
    this.ask()
  }

  /** Does something that would lose unsaved work, after asking. */
  guarded(goOn: () => void): void {
    if (isDirty(this.store.getState())) this.store.setState({ question: { kind: 'unsaved', goOn } })
    else goOn()
  }

  /** Opens a bay, and offers unsaved work on it that a former window left behind. */
  private async openingAnother(choose: () => Promise<OpenedBay | null>): Promise<void> {
    if (await this.opening(choose)) await this.keeping.lookForLost(this.store.getState().file?.token ?? null)
  }

  /** @returns whether the bay that was chosen is now shown */
  private async opening(choose: () => Promise<OpenedBay | null>): Promise<boolean> {
    let chosen: OpenedBay | null = null
    try {
      chosen = await choose()
      if (!chosen) return false
      const { text, name, token, writable } = chosen
      this.store.setState({ reading: { name, progress: null } })
      const opened = await this.link.open(text, name, token, this.host, (progress) =>
        this.store.setState(({ reading }) => ({ reading: reading && { ...reading, progress } })),
      )
      if (!opened) return false
      if (opened.ok) this.show({ token, name, writable }, opened.value, text)
      else this.tellFaults(words.banner.notOpened(name), opened.faults)
      return opened.ok
    } catch (error) {
      this.tellFaults(words.banner.notOpened(chosen?.name ?? ''), faultsOf(error, { code: 'file-unreadable' }))
      return false
    } finally {
      this.store.setState({ reading: null })
    }
  }

  private show(file: Pick<OpenedBay, 'token' | 'name' | 'writable'>, opened: Opened, text: string): void {
    this.scene.setState((scene) => ({
      ...scene,
      keepOuts: [],
      parts: [],
      bounds: null,
      ghost: null,
      opened: scene.opened + 1,
    }))
    this.searches.renew()
    this.keeping.opened()
    const asRead = { bay: opened.bay, text }
    this.store.setState((state) => ({ ...bayOpened(state, file, opened), asRead }))
  }

  /** Gives a new worker the bay as it is now, with the meshes of its file. */
  private async reopen(): Promise<void> {
    const { file } = this.store.getState()
    const bay = bayOf(this.store.getState())
    if (!bay || !file) return
    const opened = await this.link.open(writeBay(bay), file.name, file.token, this.host, () => {})
    if (opened && !opened.ok) this.tellFaults(words.banner.notOpened(file.name), opened.faults)
    if (opened?.ok && !this.store.getState().stopped) this.ask()
  }

  private askIfChanged(state: WindowState, before: WindowState): void {
    const isNew = bayOf(state) !== bayOf(before) || state.candidate !== before.candidate
    const isSeatNew = state.stage !== before.stage || state.seatNeed !== before.seatNeed
    if (isNew || (isSeatNew && !state.stopped && asksForSeat(state) && !isSeatOfNow(state))) this.ask()
  }

  private ask(): void {
    const state = this.store.getState()
    const bay = bayOf(state)
    if (bay) this.link.ask({ bay, candidate: state.candidate, need: asksForSeat(state) ? state.seatNeed : null })
  }

  private listener(): DeskListener {
    return {
      drawn: (drawing) => this.scene.setState((scene) => sceneAfter(scene, drawing), true),
      answered: (bay: Bay, candidate, { ledger, milliseconds }) =>
        this.store.setState(
          ledger.ok
            ? { kept: { ledger: ledger.value, bay, milliseconds }, troubles: null }
            : { troubles: { bay, candidate, faults: ledger.faults } },
        ),
      bent: (bay, candidate, { bends }) => this.store.setState({ bends: { bay, candidate, outcome: bends } }),
      seated: (bay, candidate, need, { judged }) => this.store.setState({ seat: { bay, candidate, need, judged } }),
      computing: (progress) => this.store.setState({ computing: { progress } }),
      rested: () => this.store.setState({ computing: null }),
      broke: (said) => {
        this.store.setState({ computing: null, stopped: true })
        this.tell(words.banner.workerBroke, [said])
        void this.reopen()
      },
    }
  }

  /** What another program did to the file is a question; anything else is told, with where the work is meanwhile. */
  private tellNotSaved(faults: readonly Fault[]): void {
    const code = faults[0]?.code
    if (code === 'changed-outside') this.keeping.ask('changed')
    else if (code === 'file-gone') this.keeping.ask('gone')
    else {
      const { kept } = this.keeping.store.getState()
      this.tell(words.banner.notSaved, [...faultTexts(faults), ...(kept ? [keepingWords.keptAside] : [])])
    }
  }

  private tellFaults(title: string, faults: readonly Fault[]): void {
    this.tell(title, faultTexts(faults))
  }

  private tell(title: string, lines: readonly string[]): void {
    this.store.setState({ banner: { title, lines } })
  }
}

const titles = {
  'not-kept': keepingWords.lost.notKept,
  'not-taken': keepingWords.lost.notTaken,
  'not-read': keepingWords.outside.notRead,
} as const
const hints = [keepingWords.lost.notKeptHint]
