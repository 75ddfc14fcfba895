import { createStore, type StoreApi } from 'zustand/vanilla'
import { writeBay } from '../../../core/bay/write.ts'
import { type SettingsWish, type SheetSet, type SheetSettings, settledSettings } from '../../sheet/settings.ts'
import type { Contents, Zoom } from '../sheets/zoom.ts'
import type { SearchState } from './searches.ts'
import type { Sought } from './searchLink.ts'
import { bayOf, candidateIn, freshness, type WindowState } from './windowState.ts'

export interface SheetsState {
  readonly wish: SettingsWish
  /** The user ended the making of them, for the bay and the wish as they are. */
  readonly held: boolean
  readonly zoom: Zoom
  /** Of the page that is looked at, pixels to a point. */
  readonly scale: number
  /** The set whose pages are shown, and what is in it; null until the first one is. */
  readonly shown: { readonly set: SheetSet; readonly contents: Contents } | null
  /** The page that is looked at, from 0. */
  readonly page: number
  /** Counts up with every wish to see a page. */
  readonly turned: number
  /** What came of the last saving or printing. */
  readonly said: string | null
  /** A folder of that name is there already. */
  readonly taken: { readonly name: string; readonly answered: (yes: boolean) => void } | null
}

export type SheetsStore = StoreApi<SheetsState>

export const createSheetsStore = (wish: SettingsWish): SheetsStore =>
  createStore<SheetsState>(() => ({
    wish,
    held: false,
    zoom: 'width',
    scale: 1,
    shown: null,
    page: 0,
    turned: 0,
    said: null,
    taken: null,
  }))

/** @param today YYYY-MM-DD */
export const settingsOf = ({ wish }: SheetsState, state: WindowState, today: string): SheetSettings =>
  settledSettings(wish, { units: state.units, revision: candidateIn(state)?.revision, today })

/** The bay as the text that the sheets carry: its file's own, or what would be saved. */
export function textOfBay({ asRead, history }: WindowState): string {
  if (history === null) return ''
  return asRead?.bay === history.present ? asRead.text : writeBay(history.present)
}

/** Whether sheets were asked of the bay, the candidate and the settings that are shown. */
export function isAskedNow(
  { bay, candidate, request }: Sought<'sheets'>,
  state: WindowState,
  settings: SheetSettings,
): boolean {
  return (
    bay === bayOf(state) &&
    candidate === state.candidate &&
    JSON.stringify(request.settings) === JSON.stringify(settings)
  )
}

export type SheetsStanding = 'none' | 'working' | 'fresh' | 'failed' | 'cancelled' | 'outOfDate' | 'waits'

/** How the sheets that there are stand to the bay that is shown. 'waits': for gaps that cannot be told, or are not. */
export function sheetsStanding(
  { sheets: { found, running } }: SearchState,
  sheets: SheetsState,
  state: WindowState,
  settings: SheetSettings,
): SheetsStanding {
  if (candidateIn(state) === null) return 'none'
  if (found && isAskedNow(found.sought, state, settings)) return found.outcome.ok ? 'fresh' : 'failed'
  if (running && isAskedNow(running.sought, state, settings)) return 'working'
  if (sheets.held) return 'cancelled'
  if (state.stage === 'sheets') {
    const known = freshness(state)
    return known === 'outOfDate' || known === 'stopped' ? 'waits' : 'working'
  }
  return found ? 'outOfDate' : 'none'
}

/** The set of the bay, candidate and settings that are shown. */
export function freshSet(searches: SearchState, state: WindowState, settings: SheetSettings): SheetSet | null {
  const { found } = searches.sheets
  return found?.outcome.ok && isAskedNow(found.sought, state, settings) ? found.outcome.value : null
}
