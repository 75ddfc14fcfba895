import { createStore, type StoreApi } from 'zustand/vanilla'
import { checkEdited } from '../../../core/bay/checkEdited.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { Fault, Outcome } from '../../../core/fault.ts'
import { good } from '../../../core/fault.ts'
import type { BendsAnswer } from '../../../core/pipe/answer.ts'
import type { LeastOnTheWay, SeatPath } from '../../../core/seat/answer.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { Ledger, LedgerPair } from '../../../core/verdict/answer.ts'
import type { OpenedBay } from '../../host.ts'
import { defaultNeed } from '../../../core/seat/subject.ts'
import type { MeshNote, Opened, Progress, SeatJudged } from '../../worker/protocol.ts'
import { type Seeing, seeingAnew, startSeeing } from '../seeing/seeing.ts'
import type { Edit } from './edit.ts'
import { followed } from './follow.ts'
import { pairNamed } from './pairs.ts'
import { did, type History, historyOf, redone, steppedTo, undone } from './history.ts'

export type Stage = 'measure' | 'core' | 'gaps' | 'pipes' | 'seat' | 'sheets'
export type ViewName = 'space' | 'front' | 'side' | 'plan'
export type Theme = 'light' | 'dark'

/** The file that the bay came from or goes to. */
export type BayFile = Pick<OpenedBay, 'token' | 'name' | 'writable'>

/** The last ledger that was good, and of which bay it is. */
export interface KeptLedger {
  readonly ledger: Ledger
  readonly bay: Bay
  readonly milliseconds: number
}

/** How the pipes are bent and joined, or why that cannot be told, and of which bay it is. */
export interface KeptBends {
  readonly bay: Bay
  readonly candidate: string | null
  readonly outcome: Outcome<BendsAnswer>
}

/** What is judged of the seat, and of which bay and wish it is. */
export interface KeptSeat {
  readonly bay: Bay
  readonly candidate: string | null
  readonly need: number
  readonly judged: SeatJudged
}

/** Ways in to choose from: the bay's own, and the two that were found. */
export type WayKind = 'own' | 'widest' | 'fewest'

/** The candidate on its way in, as the drawing shows it. */
export interface Motion {
  readonly path: SeatPath
  /** Where it is tightest, if that is known. */
  readonly least: LeastOnTheWay | null
  /** Names of the parts that move. */
  readonly moving: readonly string[]
  /** How many moves are done; broken numbers are shares. */
  readonly at: number
  /** What it sweeps over is drawn as well. */
  readonly swept: boolean
}

export interface Troubles {
  readonly bay: Bay
  readonly candidate: string | null
  readonly faults: readonly Fault[]
}

/** An item that is open for editing: a keep-out, or a part of the candidate ('place', 'limits' beside part names). */
export interface OpenItem {
  readonly side: 'keepOut' | 'part'
  readonly key: string
}

export interface Banner {
  readonly title: string
  readonly lines: readonly string[]
  /** Nothing went wrong: it only says what to do. */
  readonly news?: true
}

export interface Question {
  readonly kind: 'unsaved'
  readonly goOn: () => void
}

export interface WindowState {
  readonly file: BayFile | null
  readonly history: History | null
  /** The bay as it was last read or written; another one at present is unsaved work. */
  readonly saved: Bay | null
  /** A bay with the very text that it was read from. */
  readonly asRead: { readonly bay: Bay; readonly text: string } | null
  readonly meshes: ReadonlyMap<string, MeshNote>
  /** Whether the bay that the program was started with was asked for already. */
  readonly started: boolean
  readonly reading: { readonly name: string; readonly progress: Progress | null } | null
  readonly banner: Banner | null
  readonly question: Question | null
  readonly candidate: string | null
  readonly kept: KeptLedger | null
  /** Why there was no ledger of a bay. */
  readonly troubles: Troubles | null
  readonly bends: KeptBends | null
  readonly computing: { readonly progress: Progress | null } | null
  /** The user stopped the computing; it starts again with the next edit or on request. */
  readonly stopped: boolean
  readonly selected: string | null
  /** Counts up with every choice of a row, so that choosing the same one again flies there again. */
  readonly chosen: number
  /** What is lit up in the drawing for as long as it is pointed at: `keepOut beam`, `part core`. */
  readonly lit: readonly string[]
  readonly stage: Stage
  /** The pipe that is looked at in the Pipes stage; null: the first. */
  readonly pipe: string | null
  /** The reason that is pointed at, by its place among its pipe's reasons and notes. */
  readonly reason: number | null
  /** The corner that is pointed at, in the list or in the drawing. */
  readonly corner: number | null
  readonly seat: KeptSeat | null
  /** Clearance wanted on the way, mm. */
  readonly seatNeed: number
  /** The way in that is looked at; null: the bay's own, or else the widest that was found. */
  readonly way: WayKind | null
  readonly motion: Motion | null
  readonly openItem: OpenItem | null
  /** What is dragged just now: its tightest gap is drawn. */
  readonly held: OpenItem | null
  readonly view: ViewName
  readonly ghosted: boolean
  /** What of the bay is drawn, and how. */
  readonly seeing: Seeing
  readonly units: PeopleUnits
  readonly theme: Theme
  readonly help: boolean
}

export type WindowStore = StoreApi<WindowState>

export const emptyState: WindowState = {
  file: null,
  history: null,
  saved: null,
  asRead: null,
  meshes: new Map(),
  started: false,
  reading: null,
  banner: null,
  question: null,
  candidate: null,
  kept: null,
  troubles: null,
  bends: null,
  computing: null,
  stopped: false,
  selected: null,
  chosen: 0,
  lit: [],
  stage: 'gaps',
  pipe: null,
  reason: null,
  corner: null,
  seat: null,
  seatNeed: defaultNeed,
  way: null,
  motion: null,
  openItem: null,
  held: null,
  view: 'space',
  ghosted: false,
  seeing: startSeeing,
  units: 'mm',
  theme: 'light',
  help: false,
}

export const createWindowStore = (start: Partial<WindowState> = {}): WindowStore =>
  createStore<WindowState>(() => ({ ...emptyState, ...start }))

/** A bay takes the place of what was open: nothing of the former one stays. */
export function bayOpened(state: WindowState, file: BayFile, opened: Opened): Partial<WindowState> {
  const { bay, meshes } = opened
  return {
    file,
    history: historyOf(bay),
    saved: bay,
    meshes: new Map(meshes),
    reading: null,
    banner: null,
    candidate: bay.candidates[0]?.id ?? null,
    kept: null,
    troubles: null,
    bends: null,
    stopped: false,
    selected: null,
    lit: [],
    pipe: null,
    reason: null,
    corner: null,
    seat: null,
    way: null,
    motion: null,
    openItem: null,
    units: bay.units,
    view: state.view,
    seeing: seeingAnew(state.seeing),
  }
}

/**
 * Does an edit, if the bay that comes of it is one that could be read back from a file.
 * @returns the faults otherwise; the bay then stays as it was
 */
export function doEdit(store: WindowStore, edit: Edit): Outcome<null> {
  const { history } = store.getState()
  if (!history) return good(null)
  const edited = followed(history.present, edit.apply(history.present))
  if (edited === history.present) return good(null)
  const checked = checkEdited(edited, history.present)
  if (!checked.ok) return checked
  // The edited value itself and not a copy of it: untouched parts must stay the same objects.
  const merge = edit.undo === 'merge' ? (edit.merge ?? edit.name) : null
  changeHistory(store, did(history, edited, edit.label, merge))
  return good(null)
}

/**
 * Takes back all that was done since `history`, without a trace: a drag that was given up.
 * @param history of the same bay, from before
 */
export const takeBack = (store: WindowStore, history: History): void => changeHistory(store, history)

export const undo = (store: WindowStore): void => stepTo(store, undone)
export const redo = (store: WindowStore): void => stepTo(store, redone)
/** @param done how many of all known steps are done there */
export const goToStep = (store: WindowStore, done: number): void => stepTo(store, (history) => steppedTo(history, done))

function stepTo(store: WindowStore, step: (history: History) => History): void {
  const { history } = store.getState()
  if (history) changeHistory(store, step(history))
}

function changeHistory(store: WindowStore, history: History): void {
  const { candidate } = store.getState()
  const { candidates } = history.present
  const still = candidates.some(({ id }) => id === candidate) ? candidate : (candidates[0]?.id ?? null)
  store.setState({ history, candidate: still, stopped: false })
}

export const bayOf = (state: WindowState): Bay | null => state.history?.present ?? null
export const isDirty = (state: WindowState): boolean => state.history !== null && state.history.present !== state.saved

export function candidateIn(state: WindowState): Candidate | null {
  return bayOf(state)?.candidates.find(({ id }) => id === state.candidate) ?? null
}
export const candidateIndex = (state: WindowState): number =>
  bayOf(state)?.candidates.findIndex(({ id }) => id === state.candidate) ?? -1

/**
 * The ledger to show. That of another candidate only for the moment until the new one is there: where none comes, it
 * would be taken for this one's.
 */
export const shownLedger = (state: WindowState): KeptLedger | null =>
  state.kept?.ledger.candidate === state.candidate || freshness(state) === 'updating' ? state.kept : null

export function selectedPair(state: WindowState): LedgerPair | null {
  const kept = state.selected === null ? null : shownLedger(state)
  return kept && pairNamed(kept.ledger.pairs, state.selected ?? '')
}

export type Freshness = 'none' | 'fresh' | 'updating' | 'outOfDate' | 'stopped'

/** How the ledger that is shown stands to the bay that is shown. */
export function freshness(state: WindowState): Freshness {
  const { kept } = state
  const current = kept !== null && kept.bay === bayOf(state) && kept.ledger.candidate === state.candidate
  if (current) return 'fresh'
  if (state.stopped) return 'stopped'
  if (troublesNow(state).length > 0) return 'outOfDate'
  if (bayOf(state)?.candidates.length === 0) return 'none'
  return 'updating'
}

const noTroubles: readonly Fault[] = []

/** Why there is no ledger of the bay as it is now; empty while it is computed. */
export const troublesNow = (state: WindowState): readonly Fault[] =>
  state.troubles?.bay === bayOf(state) && state.troubles?.candidate === state.candidate
    ? (state.troubles?.faults ?? noTroubles)
    : noTroubles

export function select(store: WindowStore, key: string | null): void {
  store.setState(({ chosen }) => ({ selected: key, chosen: chosen + 1 }))
}
