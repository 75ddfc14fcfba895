import { createStore } from 'zustand/vanilla'
import { readBay } from '../../../core/bay/read.ts'
import { writeBay } from '../../../core/bay/write.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import type { FoundWork, Host, LostWork, OpenedBay, RecentBay, Standing } from '../../host.ts'
import { faultsOf } from './deskLink.ts'
import { type Difference, differences } from './differences.ts'
import { did, historyOf } from './history.ts'
import { bayOf, isDirty, type WindowState, type WindowStore } from './windowState.ts'

/** How lost work differs from what its file holds now; null where that cannot be read. */
export interface Comparison {
  readonly work: LostWork
  readonly differences: readonly Difference[] | null
}

/** What the window asks about files and unsaved work; nothing of it is in the bay. */
export interface KeepingState {
  /** Work that was left behind and is offered; empty: nothing is asked. */
  readonly lost: readonly LostWork[]
  readonly compared: Comparison | null
  /** The bay's file is not what was read: the question is open. */
  readonly outside: Exclude<Standing, 'same'> | null
  /** The list of steps is open. */
  readonly steps: boolean
  /** The list of bays that were open before; null while it is closed. */
  readonly recent: readonly RecentBay[] | null
  /** The newest unsaved state lies in the journal. */
  readonly kept: boolean
}

/** What the room needs of the window. */
export interface KeepingNeeds {
  readonly store: WindowStore
  readonly host: Host
  /** Opens a bay in the place of what is open; answers whether it is now shown. */
  readonly open: (bay: OpenedBay) => Promise<boolean>
  readonly tell: (what: 'not-kept' | 'not-taken' | 'not-read', faults: readonly Fault[]) => void
}

/** How long after an edit it is kept aside: short enough to lose nothing, long enough not to write while dragging. */
const moment = 400

/**
 * Sees to it that nothing is lost: keeps unsaved work in the journal a moment after each edit, offers what an earlier
 * window left there, and notices when the bay's file was changed by another program.
 */
export class KeepingRoom {
  readonly store = createStore<KeepingState>(() => ({
    lost: [],
    compared: null,
    outside: null,
    steps: false,
    recent: null,
    kept: false,
  }))
  private readonly needs: KeepingNeeds
  private id = newId()
  private timer: ReturnType<typeof setTimeout> | undefined
  /** Something of this bay lies in the journal. */
  private used = false
  /** Standing that the user was asked about and left open: not asked about again until it changes. */
  private leftOpen: Standing = 'same'
  private told = false
  private readonly ends: (() => void)[] = []

  constructor(needs: KeepingNeeds) {
    this.needs = needs
    this.ends.push(needs.store.subscribe((state, before) => this.keepIfChanged(state, before)))
    const heard = needs.host.onTouched?.((token) => {
      if (token === this.token()) void this.check()
    })
    if (heard) this.ends.push(heard)
  }

  /** Another bay was opened: what was kept of the former one was saved or given up. */
  opened(): void {
    this.forget()
    this.id = newId()
    this.leftOpen = 'same'
    this.store.setState({ outside: null, kept: false })
  }

  /** The bay as it is was written. */
  saved(): void {
    this.leftOpen = 'same'
    this.store.setState({ outside: null })
  }

  /** The window may go at any moment: what waits for its moment is kept at once. */
  hurry(): void {
    if (!this.store.getState().kept) void this.keepNow()
  }

  /** Looks for work that a former window left behind: of this bay, or any at the start. */
  async lookForLost(token: string | null): Promise<void> {
    const lost = await this.needs.host.journal.found(token).catch(() => [])
    if (lost.length > 0) this.store.setState({ lost, compared: null })
  }

  async compare(work: LostWork): Promise<void> {
    const found = await this.taken(work)
    if (!found) return
    const [was, is] = [found.onDisk === null ? null : readBay(found.onDisk), readBay(found.bay.text)]
    this.store.setState({ compared: { work, differences: was?.ok && is.ok ? differences(was.value, is.value) : null } })
  }

  /** Goes on with lost work; its bay opens with it, unsaved, and what its file holds is a step back. */
  async takeUp(work: LostWork, label: string): Promise<void> {
    const found = await this.taken(work)
    this.store.setState({ lost: [], compared: null })
    if (!found || !(await this.needs.open(found.bay))) return
    const { store, host } = this.needs
    const disk = found.onDisk === null ? null : readBay(found.onDisk)
    const before = disk?.ok ? disk.value : null
    store.setState(({ history }) => ({
      saved: before,
      asRead: before && { bay: before, text: found.onDisk ?? '' },
      ...(history &&
        before &&
        hasMeshesOf(history.present, before) && {
          history: did(historyOf(before), history.present, label, null),
        }),
    }))
    // First kept under its new name, then let go under the old one: at no time in none.
    if (await this.keepNow()) await host.journal.drop(work.id).catch(() => {})
  }

  async discard(work: LostWork): Promise<void> {
    await this.needs.host.journal.drop(work.id).catch(() => {})
    this.store.setState(({ lost }) => ({ lost: lost.filter(({ id }) => id !== work.id), compared: null }))
  }

  /** Lost work stays where it is, and is offered again. */
  later(): void {
    this.store.setState({ lost: [], compared: null })
  }

  /** Asks how the bay's file stands, and the user if another program has changed it. */
  async check(): Promise<void> {
    const token = this.token()
    if (token === null) return
    const standing = await this.needs.host.standing(token).catch(() => 'same' as const)
    if (token !== this.token()) return
    if (standing === 'same') this.leftOpen = 'same'
    else if (standing !== this.leftOpen) this.ask(standing)
  }

  ask(standing: Exclude<Standing, 'same'>): void {
    this.leftOpen = standing
    this.store.setState({ outside: standing })
  }

  leaveOpen(): void {
    this.store.setState({ outside: null })
  }

  /** What is in the window counts: the next save writes over what another program wrote. */
  async keepMine(): Promise<void> {
    this.store.setState({ outside: null })
    const token = this.token()
    if (token === null) return
    await this.needs.host.again(token).catch(() => {})
    this.leftOpen = 'same'
    this.needs.store.setState({ saved: null })
    await this.keepNow()
  }

  /** What is on the disk counts; what was in the window is a step back, where that can be. */
  async takeTheirs(label: string): Promise<void> {
    this.store.setState({ outside: null })
    const { store, host, open } = this.needs
    const { history: mine } = store.getState()
    const token = this.token()
    if (token === null) return
    try {
      if (!(await open(await host.again(token))) || !mine) return
      store.setState(({ history: theirs }) =>
        theirs && hasMeshesOf(theirs.present, mine.present) ? { history: did(mine, theirs.present, label, null) } : {},
      )
    } catch (error) {
      this.needs.tell('not-read', faultsOf(error, { code: 'file-unreadable' }))
    }
  }

  async showRecent(): Promise<void> {
    this.store.setState({ recent: await this.needs.host.recent().catch(() => []) })
  }

  async forgetRecent(): Promise<void> {
    await this.needs.host.forgetRecent().catch(() => {})
    this.store.setState({ recent: [] })
  }

  close(): void {
    clearTimeout(this.timer)
    for (const end of this.ends) end()
  }

  private token(): string | null {
    return this.needs.store.getState().file?.token ?? null
  }

  private async taken(work: LostWork): Promise<FoundWork | null> {
    try {
      return await this.needs.host.journal.take(work.id)
    } catch (error) {
      this.needs.tell('not-taken', faultsOf(error, { code: 'work-gone' }))
      return null
    }
  }

  private keepIfChanged(state: WindowState, before: WindowState): void {
    if (bayOf(state) === bayOf(before) && state.saved === before.saved) return
    this.store.setState({ kept: false })
    if (!isDirty(state)) {
      this.forget()
      return
    }
    clearTimeout(this.timer)
    this.timer = setTimeout(() => void this.keepNow(), moment)
  }

  /** @returns whether the bay as it is now lies in the journal */
  private async keepNow(): Promise<boolean> {
    clearTimeout(this.timer)
    const { store, host } = this.needs
    const state = store.getState()
    const bay = bayOf(state)
    if (!bay || !state.file || !isDirty(state)) return false
    const { id } = this
    try {
      this.used = true
      await host.journal.keep(id, state.file.token, state.file.name, writeBay(bay))
    } catch (error) {
      // Told once: it would be said again after every edit.
      if (!this.told) this.needs.tell('not-kept', faultsOf(error, { code: 'journal-unwritable' }))
      this.told = true
      return false
    }
    this.told = false
    const now = store.getState()
    // Saved, or another bay opened, while this was on its way.
    if (id !== this.id || !isDirty(now)) await host.journal.drop(id).catch(() => {})
    else if (bayOf(now) === bay) this.store.setState({ kept: true })
    return id === this.id
  }

  private forget(): void {
    clearTimeout(this.timer)
    this.store.setState({ kept: false })
    if (!this.used) return
    this.used = false
    this.needs.host.journal.drop(this.id).catch(() => {})
  }
}

const newId = (): string => crypto.randomUUID()

/** Whether the worker, which has read the meshes of one bay, has all that another one names. */
function hasMeshesOf(read: Bay, other: Bay): boolean {
  const meshes = ({ keepOuts }: Bay) => keepOuts.flatMap(({ shape }) => (shape.kind === 'mesh' ? [shape.file] : []))
  const there = new Set(meshes(read))
  return meshes(other).every((file) => there.has(file))
}
