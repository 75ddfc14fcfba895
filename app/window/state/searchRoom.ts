import { isOfRun, type Meshes } from '../../../core/bay/part.ts'
import { bad } from '../../../core/fault.ts'
import { type SearchKind, type SearchRequests, searchKinds } from '../../worker/searchProtocol.ts'
import {
  createSearchStore,
  foundAfter,
  freshResult,
  isOfNow,
  knowsHolds,
  noSearches,
  type OneSearch,
} from './searches.ts'
import { SearchLink, type Sought } from './searchLink.ts'
import { pairKey } from './pairs.ts'
import { bayOf, freshness, selectedPair, type WindowState, type WindowStore } from './windowState.ts'

/** An edit is often followed by another: the search waits this long for it, ms. */
export const settleFor = 150

/**
 * Asks the second worker. The largest core comes by itself, once the ledger is there and no edit has come for a moment;
 * its holds in the Core stage; clearing moves for a chosen gap that does not clear; all else on request.
 */
export class SearchRoom {
  readonly store = createSearchStore()
  private readonly window: WindowStore
  private readonly link: SearchLink
  private timer: ReturnType<typeof setTimeout> | null = null
  /** The user ended the search for the bay as it is: it begins again with the next edit or on request. */
  private held = false

  constructor(window: WindowStore, startSearcher: () => Worker, meshes: () => Promise<Meshes>) {
    this.window = window
    this.link = new SearchLink(startSearcher, meshes, {
      began: (sought) => this.put(sought.kind, ({ found }) => ({ found, running: { sought, trace: [] } as never })),
      told: (sought, point) =>
        this.put(sought.kind, ({ found, running }) => ({
          found,
          running: running && { ...running, trace: [...running.trace, point] },
        })),
      answered: (sought, answer) => {
        this.put(sought.kind, (one) => ({ found: foundAfter(one, sought as never, answer as never), running: null }))
        if (sought.kind === 'largest') this.seekLargest()
      },
      dropped: (kind) => this.put(kind, ({ found }) => ({ found, running: null })),
      lost: (sought, fault) =>
        this.put(sought.kind, (one) => ({
          found: foundAfter(one, sought as never, { outcome: bad(fault), milliseconds: 0 }),
          running: null,
        })),
    })
    window.subscribe((state, before) => this.follow(state, before))
  }

  /** Searches on request: 'depths' and 'place', and 'largest' after it was ended. */
  seek<K extends SearchKind>(kind: K, request: SearchRequests[K]): void {
    const state = this.window.getState()
    const bay = bayOf(state)
    if (!bay || state.candidate === null) return
    if (kind === 'largest') this.held = false
    this.link.ask({ kind, bay, candidate: state.candidate, request } as Sought)
  }

  /** Computes what another candidate, or this one, is compared by. */
  compare(candidate: string): void {
    const state = this.window.getState()
    const bay = bayOf(state)
    if (bay) this.link.ask({ kind: 'compared', bay, candidate, request: { need: state.seatNeed } })
  }

  cancel(kind: SearchKind): void {
    if (kind === 'largest') this.held = true
    this.link.cancel(kind)
  }

  /** Nobody wants the answer any more; what was found before stays. */
  drop(kind: SearchKind): void {
    this.link.drop(kind)
  }

  /** Another bay lies on the desk: nothing of the former one stays. */
  renew(): void {
    this.wait()
    this.link.end()
    this.store.setState(noSearches, true)
  }

  close(): void {
    this.wait()
    this.link.end()
  }

  private follow(state: WindowState, before: WindowState): void {
    if (bayOf(state) !== bayOf(before) || state.candidate !== before.candidate) {
      this.held = false
      for (const kind of searchKinds) {
        const { running } = this.store.getState()[kind]
        // An edit of a pipe changes nothing in the largest core: the search for it goes on.
        if (!running || !isOfNow(running.sought, state)) this.link.drop(kind)
      }
      this.wait(settleFor)
    } else if (freshness(state) !== freshness(before) || state.stage !== before.stage) this.seekLargest()
    if (selectedPair(state) !== selectedPair(before) || freshness(state) !== freshness(before)) this.seekMoves(state)
  }

  /** Starts waiting anew, or ends it. */
  private wait(time: number | null = null): void {
    if (this.timer !== null) clearTimeout(this.timer)
    this.timer = time === null ? null : setTimeout(() => this.settled(), time)
  }

  private settled(): void {
    this.timer = null
    this.seekLargest()
  }

  private seekLargest(): void {
    const state = this.window.getState()
    const { largest } = this.store.getState()
    // Until the first worker has answered, it is not sure that it has its bay.
    const hasLedger = freshness(state) === 'fresh' || freshness(state) === 'outOfDate'
    if (this.timer !== null || this.held || largest.running || !hasLedger) return
    const known = freshResult(largest, state)
    const isCurrent = largest.found !== null && isOfNow(largest.found.sought, state)
    if (!isCurrent) this.seek('largest', { holds: false })
    else if (state.stage === 'core' && !knowsHolds(largest) && known?.answer === 'found' && known.stopped === 'proved')
      this.seek('largest', { holds: true })
  }

  private seekMoves(state: WindowState): void {
    const pair = selectedPair(state)
    if (!pair || freshness(state) !== 'fresh' || pair.verdict === 'clears' || pair.between) return
    if (isOfRun(pair.part)) return
    const { clearing } = this.store.getState()
    const last = clearing.running ?? clearing.found
    const isSame = last?.sought.bay === bayOf(state) && last.sought.candidate === state.candidate
    if (isSame && pairKey(last.sought.request) === pairKey(pair)) return
    const { part, keepOut } = pair
    this.seek('clearing', { part, keepOut })
  }

  private put<K extends SearchKind>(kind: K, change: (one: OneSearch<K>) => OneSearch<K>): void {
    this.store.setState((state) => ({ [kind]: change(state[kind] as OneSearch<K>) }))
  }
}
