import type { Meshes } from '../../core/bay/part.ts'
import type { Outcome } from '../../core/fault.ts'
import { clearingMoves } from '../../core/largest/clearingMoves.ts'
import { eachDepth, largest } from '../../core/largest/largest.ts'
import { place } from '../../core/largest/place.ts'
import { routeAll } from '../../core/pipe/route/routeAll.ts'
import type { ProvedPath } from '../../core/seat/answer.ts'
import { seat } from '../../core/seat/seat.ts'
import { largestSeated } from '../../core/seat/seated.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import type { SetWatch } from '../sheet/set.ts'
import type { SheetSet } from '../sheet/settings.ts'
import { compared } from './compared.ts'
import {
  provedWithin,
  type SearchAnswer,
  type SearchAsk,
  type SearchDesk,
  type SearchKind,
  type SearchPoint,
  type SearchResults,
  searchKinds,
} from './searchProtocol.ts'

/** Between two messages about the same search, ms. */
const pause = 30

/** The search desk itself; `searcher.ts` puts it behind a message port. */
export class SearchDeskHere implements SearchDesk {
  private meshes: Meshes = new Map()
  /** Of the comparison: only what changed is measured again. */
  private memory = new LedgerMemory()
  private tickets: Int32Array | null = null

  async borrow(meshes: Meshes): Promise<void> {
    this.meshes = meshes
    this.memory = new LedgerMemory()
  }

  async watch(tickets: SharedArrayBuffer): Promise<void> {
    this.tickets = new Int32Array(tickets)
  }

  async search<K extends SearchKind>(ask: SearchAsk<K>, told: (point: SearchPoint) => void): Promise<SearchAnswer<K>> {
    const begin = performance.now()
    const asked = { begin, stop: this.stopOf(ask), told: patient(told, begin, ask.kind !== 'seat') }
    const outcome = (await this.answer(ask as SearchAsk, asked)) as Outcome<SearchResults[K]>
    return { outcome, milliseconds: performance.now() - begin }
  }

  private answer(ask: SearchAsk, { stop, told }: Asked): Answered | Promise<Answered> {
    const { bay, candidate } = ask
    const within = provedWithin
    if (isOf('largest', ask))
      return largest(bay, candidate, this.meshes, { within, stop, progress: told, holds: ask.request.holds })
    if (isOf('depths', ask)) return eachDepth(bay, candidate, this.meshes, { within, stop })
    if (isOf('clearing', ask)) return clearingMoves(bay, candidate, this.meshes, ask.request)
    if (isOf('seated', ask))
      return largestSeated(bay, candidate, this.meshes, { ...ask.request, within, stop, progress: told })
    if (isOf('compared', ask)) return compared(bay, candidate, this.meshes, this.memory, { ...ask.request, stop })
    if (isOf('route', ask))
      return routeAll(bay, candidate, ask.request.pipes, this.meshes, { ...ask.request, stop, progress: told })
    if (isOf('seat', ask)) {
      const progress = (share: number, best: ProvedPath | null) => told(best?.least.atLeast ?? -Infinity, share)
      return seat(bay, candidate, this.meshes, { ...ask.request, stop, progress })
    }
    if (isOf('sheets', ask)) return this.sheets(ask, { stop, progress: (share) => told(0, share) })
    if (!isOf('place', ask)) throw new Error(`no search is called ${ask.kind}`)
    const { free, reach } = ask.request
    const limits = bay.candidates.find(({ id }) => id === candidate)?.limits
    const tilt = ask.request.tilt ? limits?.tilt : undefined
    return place(bay, candidate, this.meshes, { free, reach, stop, progress: told, ...(tilt && { tilt }) })
  }

  /** What lays out pages is large, and wanted by few questions. */
  private async sheets(ask: SearchAsk<'sheets'>, watch: SetWatch): Promise<Outcome<SheetSet>> {
    const { sheetsHere } = await import('./sheetsHere.ts')
    return sheetsHere(ask, this.meshes, watch)
  }

  private stopOf({ kind, ticket }: SearchAsk): () => 'cancelled' | null {
    const slot = searchKinds.indexOf(kind)
    return () => (this.tickets !== null && Atomics.load(this.tickets, slot) !== ticket ? 'cancelled' : null)
  }
}

type Answered = Outcome<SearchResults[SearchKind]>

interface Asked {
  readonly stop: () => 'cancelled' | null
  readonly told: (value: number, bound: number) => void
}

const isOf = <K extends SearchKind>(kind: K, ask: SearchAsk): ask is SearchAsk<K> => ask.kind === kind

/** Does not chatter. @param bounded a value or bound that is not there yet says nothing */
function patient(
  told: (point: SearchPoint) => void,
  begin: number,
  bounded: boolean,
): (value: number, bound: number) => void {
  let next = begin
  return (value, bound) => {
    const now = performance.now()
    if (now < next || (bounded && !(Number.isFinite(value) && Number.isFinite(bound)))) return
    next = now + pause
    told({ milliseconds: now - begin, value, bound })
  }
}
