import { createStore } from 'zustand/vanilla'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { Compared } from '../../worker/searchProtocol.ts'
import type { AidState, AidStore } from './aids.ts'
import { sameBut } from './pipes.ts'
import type { SearchRoom } from './searchRoom.ts'
import { bayOf, type WindowState, type WindowStore } from './windowState.ts'

/** What was computed of a candidate, and of what. */
export interface KnownCandidate {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly need: number
  /** Null where no answer came. */
  readonly compared: Compared | null
}

export type Known = ReadonlyMap<string, KnownCandidate>
const nobody: Known = new Map()

/** More columns than this cannot be read side by side. */
export const mostCompared = 4

/** Candidates in the comparison, in the order of the bay; two at least where there are two. */
export function comparedIds(state: WindowState, { compared }: Pick<AidState, 'compared'>): readonly string[] {
  const ids = bayOf(state)?.candidates.map(({ id }) => id) ?? []
  const chosen = ids.filter((id) => compared?.includes(id))
  if (chosen.length > 1) return chosen.slice(0, mostCompared)
  const first = [...new Set([...ids.filter((id) => id === state.candidate), ...ids])].slice(0, mostCompared)
  return ids.filter((id) => first.includes(id))
}

/** Whether what is known of a candidate is of the bay as it is: what other candidates are changes nothing in it. */
export function isKnownNow(known: KnownCandidate | undefined, state: WindowState): known is KnownCandidate {
  const bay = bayOf(state)
  if (!known || !bay || known.need !== state.seatNeed) return false
  const candidate = bay.candidates.find(({ id }) => id === known.candidate.id)
  return known.candidate === candidate && sameBut(known.bay, bay, ['candidates', 'name', 'units'])
}

/**
 * Has the candidates of the comparison computed one after the other, for as long as somebody looks at it. What is known stays
 * known until the bay or the candidate changes.
 */
export class CompareRoom {
  readonly store = createStore<{ readonly known: Known }>(() => ({ known: nobody }))
  private readonly window: WindowStore
  private readonly searches: SearchRoom
  private readonly aids: AidStore

  constructor(window: WindowStore, searches: SearchRoom, aids: AidStore) {
    this.window = window
    this.searches = searches
    this.aids = aids
    aids.subscribe(() => this.goOn())
    window.subscribe((state, before) => {
      if (bayOf(state) !== bayOf(before) || state.seatNeed !== before.seatNeed) this.goOn()
    })
    searches.store.subscribe(({ compared }, before) => {
      if (compared === before.compared) return
      if (compared.found && compared.found !== before.compared.found) this.remember(compared.found)
      this.goOn()
    })
  }

  private remember({ sought, outcome }: NonNullable<ReturnType<SearchRoom['store']['getState']>['compared']['found']>) {
    const candidate = sought.bay.candidates.find(({ id }) => id === sought.candidate)
    if (!candidate) return
    const entry = { bay: sought.bay, candidate, need: sought.request.need, compared: outcome.ok ? outcome.value : null }
    this.store.setState(({ known }) => ({ known: new Map([...known, [candidate.id, entry]]) }))
  }

  /** Asks for the first candidate that is not known, unless one is being computed. */
  private goOn(): void {
    const aids = this.aids.getState()
    if (!aids.comparing || this.searches.store.getState().compared.running) return
    const state = this.window.getState()
    const { known } = this.store.getState()
    const next = comparedIds(state, aids).find((id) => !isKnownNow(known.get(id), state))
    if (next !== undefined) this.searches.compare(next)
  }
}
