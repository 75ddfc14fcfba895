import type { MeshFile, SettingsWish, SheetSet, SheetSettings } from '../../sheet/settings.ts'
import { today } from '../../wording/today.ts'
import { rememberPaper, rememberedWish } from '../sheets/rememberedWish.ts'
import { steppedZoom } from '../sheets/zoom.ts'
import type { SearchRoom } from './searchRoom.ts'
import {
  createSheetsStore,
  freshSet,
  isAskedNow,
  type SheetsStanding,
  settingsOf,
  sheetsStanding,
  textOfBay,
} from './sheets.ts'
import { bayOf, candidateIn, freshness, type WindowState, type WindowStore } from './windowState.ts'

/** Making the sheets takes seconds: a further edit is waited for, ms. */
export const sheetsSettleFor = 400

/**
 * Has the sheets made anew for as long as somebody looks at them: a moment after an edit, the newest winning. Elsewhere in the
 * window they go out of date until they are asked for.
 */
export class SheetsRoom {
  readonly store = createSheetsStore(rememberedWish())
  private readonly window: WindowStore
  private readonly searches: SearchRoom
  private readonly meshFiles: () => Promise<ReadonlyMap<string, MeshFile>>
  private timer: ReturnType<typeof setTimeout> | null = null
  private asked = 0

  constructor(window: WindowStore, searches: SearchRoom, meshFiles: () => Promise<ReadonlyMap<string, MeshFile>>) {
    this.window = window
    this.searches = searches
    this.meshFiles = meshFiles
    window.subscribe((state, before) => {
      const isOther = bayOf(state) !== bayOf(before) || state.candidate !== before.candidate
      if (isOther || state.units !== before.units) this.changed()
      else if (state.stage !== before.stage || freshness(state) !== freshness(before)) this.goOn()
    })
    searches.store.subscribe(({ sheets }, before) => {
      if (sheets.found === null && before.sheets.found !== null) this.store.setState({ shown: null, page: 0 })
      if (sheets !== before.sheets) this.goOn()
    })
    this.store.subscribe(({ wish }, before) => {
      if (wish === before.wish) return
      rememberPaper(wish)
      this.changed()
    })
  }

  settings(): SheetSettings {
    return settingsOf(this.store.getState(), this.window.getState(), today())
  }

  standing(): SheetsStanding {
    return sheetsStanding(
      this.searches.store.getState(),
      this.store.getState(),
      this.window.getState(),
      this.settings(),
    )
  }

  /** Null while there is none of the bay, candidate and settings that are shown. */
  freshSet(): SheetSet | null {
    return freshSet(this.searches.store.getState(), this.window.getState(), this.settings())
  }

  wish(change: SettingsWish): void {
    this.store.setState(({ wish }) => ({ wish: { ...wish, ...change } }))
  }

  /** @param page from 0 */
  turnTo(page: number): void {
    this.store.setState(({ shown, turned }) => ({
      page: Math.max(0, Math.min(page, (shown?.set.pages ?? 1) - 1)),
      turned: turned + 1,
    }))
  }

  zoomBy(factor: number): void {
    this.store.setState(({ scale }) => ({ zoom: steppedZoom(scale, factor) }))
  }

  /** Makes them now, wherever in the window one is, also after they were given up. */
  make(): void {
    this.store.setState({ held: false })
    this.wait(null)
    void this.ask(() => true)
  }

  cancel(): void {
    this.asked++
    this.wait(null)
    this.store.setState({ held: true })
    this.searches.drop('sheets')
  }

  close(): void {
    this.asked++
    this.wait(null)
  }

  /** Something else is to be made: not at once, for more may change. */
  private changed(): void {
    this.asked++
    if (this.store.getState().held) this.store.setState({ held: false })
    const { running } = this.searches.store.getState().sheets
    if (running && !isAskedNow(running.sought, this.window.getState(), this.settings())) this.searches.drop('sheets')
    this.wait(sheetsSettleFor)
  }

  private wait(time: number | null): void {
    if (this.timer !== null) clearTimeout(this.timer)
    this.timer =
      time === null
        ? null
        : setTimeout(() => {
            this.timer = null
            this.goOn()
          }, time)
  }

  private goOn(): void {
    if (this.timer === null && this.isDue(this.window.getState())) void this.ask((state) => this.isDue(state))
  }

  /** Somebody looks at the sheets, and those of the bay as it is are neither there nor under way. */
  private isDue(state: WindowState): boolean {
    const looked = state.stage === 'sheets' && freshness(state) === 'fresh' && !this.store.getState().held
    const { found, running } = this.searches.store.getState().sheets
    const settings = this.settings()
    const last = running ?? found
    return looked && !(last && isAskedNow(last.sought, state, settings))
  }

  private async ask(isWanted: (state: WindowState) => boolean): Promise<void> {
    const own = ++this.asked
    const meshFiles = await this.meshFiles()
    const state = this.window.getState()
    if (own !== this.asked || candidateIn(state) === null || !isWanted(state)) return
    this.searches.seek('sheets', { settings: this.settings(), text: textOfBay(state), meshFiles })
  }
}
