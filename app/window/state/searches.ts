import { createStore, type StoreApi } from 'zustand/vanilla'
import { asksTheSameCore } from '../../../core/largest/asksTheSame.ts'
import type { SearchAnswer, SearchKind, SearchPoint, SearchResults } from '../../worker/searchProtocol.ts'
import type { Sought } from './searchLink.ts'
import { bayOf, freshness, type WindowState } from './windowState.ts'

/** The last answer of a kind, and of what. */
export interface Found<K extends SearchKind> {
  readonly sought: Sought<K>
  readonly outcome: SearchAnswer<K>['outcome']
  readonly milliseconds: number
  /** How value and bound closed in. */
  readonly trace: readonly SearchPoint[]
}

export interface Running<K extends SearchKind> {
  readonly sought: Sought<K>
  readonly trace: readonly SearchPoint[]
}

export interface OneSearch<K extends SearchKind> {
  readonly found: Found<K> | null
  readonly running: Running<K> | null
}

/** What is searched for in the second worker and what was found; kept apart from the window's state, as the scene is. */
export type SearchState = { readonly [K in SearchKind]: OneSearch<K> }
export type SearchStore = StoreApi<SearchState>

const nothing = { found: null, running: null }
export const noSearches: SearchState = {
  largest: nothing,
  depths: nothing,
  place: nothing,
  clearing: nothing,
  route: nothing,
  seat: nothing,
  compared: nothing,
  sheets: nothing,
  seated: nothing,
}
export const createSearchStore = (): SearchStore => createStore<SearchState>(() => noSearches)

/** How an answer stands to the bay and the candidate that are shown. */
export type SearchStanding = 'none' | 'fresh' | 'working' | 'outOfDate'

/** Whether an answer to a question is one for the bay and the candidate that are shown. */
export function isOfNow(
  { kind, bay, candidate }: Pick<Sought, 'kind' | 'bay' | 'candidate'>,
  state: WindowState,
): boolean {
  const now = bayOf(state)
  if (now === null || candidate !== state.candidate) return false
  return bay === now || (leavesPipesOut(kind) && asksTheSameCore(bay, now, candidate))
}

const leavesPipesOut = (kind: SearchKind): boolean => kind === 'largest' || kind === 'depths' || kind === 'place'

export function standingOf<K extends SearchKind>({ found, running }: OneSearch<K>, state: WindowState): SearchStanding {
  if (found && isOfNow(found.sought, state)) return 'fresh'
  if (running) return 'working'
  return found ? 'outOfDate' : 'none'
}

/** The largest core comes by itself after each edit: until then it is being worked on, unless the computing was stopped. */
export function largestStanding({ largest }: SearchState, state: WindowState): SearchStanding {
  const standing = standingOf(largest, state)
  if (standing === 'fresh' || standing === 'working' || state.candidate === null) return standing
  return freshness(state) === 'stopped' ? standing : 'working'
}

/** The answer of a kind, if it is one of the bay and candidate that are shown. */
export function freshResult<K extends SearchKind>(one: OneSearch<K>, state: WindowState): SearchResults[K] | null {
  const { found } = one
  return found?.outcome.ok && isOfNow(found.sought, state) ? found.outcome.value : null
}

/** Whether what each millimetre buys is known as well. */
export const knowsHolds = ({ found }: SearchState['largest']): boolean => found?.sought.request.holds === true

/** The same core again, with its holds: how it was found stays to be seen. */
export function foundAfter<K extends SearchKind>(
  one: OneSearch<K>,
  sought: Sought<K>,
  answer: SearchAnswer<K>,
): Found<K> {
  const { found, running } = one
  const again =
    found !== null &&
    found.sought.candidate === sought.candidate &&
    asksTheSameCore(found.sought.bay, sought.bay, sought.candidate)
  const { outcome, milliseconds } = answer
  if (again && sought.kind === 'largest')
    return { sought, outcome, milliseconds: found.milliseconds, trace: found.trace }
  return { sought, outcome, milliseconds, trace: closed(running?.trace ?? [], milliseconds, outcome) }
}

/** The trace with the answer itself as its last point. */
function closed(
  trace: readonly SearchPoint[],
  milliseconds: number,
  outcome: SearchAnswer['outcome'],
): readonly SearchPoint[] {
  if (!outcome.ok || outcome.value === null || !('upperBound' in outcome.value)) return trace
  const { value } = outcome
  return [...trace, { milliseconds, value: value.answer === 'found' ? value.value : 0, bound: value.upperBound }]
}
