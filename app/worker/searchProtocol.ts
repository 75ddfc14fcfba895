import type { Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import type { Outcome } from '../../core/fault.ts'
import type { ClearingMoves } from '../../core/largest/clearingMoves.ts'
import type { DepthRow, LargestAnswer, NothingFits } from '../../core/largest/largest.ts'
import type { PlaceAnswer } from '../../core/largest/place.ts'
import type { BendsAnswer } from '../../core/pipe/answer.ts'
import type { RouteAllAnswer, RouteRequest } from '../../core/pipe/route/answer.ts'
import type { SeatAnswer } from '../../core/seat/answer.ts'
import type { SeatedAnswer } from '../../core/seat/seated.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import type { Ledger, LedgerPair } from '../../core/verdict/answer.ts'
import type { MeshFile, SheetSet, SheetSettings } from '../sheet/settings.ts'

/** What can be searched for. Each kind has its own place in the shared memory, so that one can be stopped by itself. */
export const searchKinds = [
  'largest',
  'depths',
  'place',
  'clearing',
  'route',
  'seat',
  'compared',
  'sheets',
  'seated',
] as const
export type SearchKind = (typeof searchKinds)[number]

export interface SearchRequests {
  /** `holds`: also what a millimetre at each thing that holds the core would buy, which takes longer. */
  readonly largest: { readonly holds: boolean }
  readonly depths: Record<string, never>
  readonly place: {
    readonly free: { readonly x: boolean; readonly y: boolean; readonly z: boolean }
    /** mm, each way. */
    readonly reach: number
    /** Whether the tilt of the candidate's limits may be taken. */
    readonly tilt: boolean
  }
  readonly clearing: Pick<LedgerPair, 'part' | 'keepOut' | 'between'>
  /** `pipes`: ids, one or more; several are routed one after the other, in both orders. */
  readonly route: RouteRequest & { readonly pipes: readonly string[] }
  /** `need`: wanted on the way, mm. */
  readonly seat: { readonly need: number }
  /** `need`: as for the seat. */
  readonly compared: { readonly need: number }
  /** The largest core that can also be offered up. `need`: as for the seat. */
  readonly seated: { readonly need: number }
  /** `text`: of the bay's file; `meshFiles` by the `file` that the bay names. */
  readonly sheets: {
    readonly settings: SheetSettings
    readonly text: string
    readonly meshFiles: ReadonlyMap<string, MeshFile>
  }
}

export interface SearchResults {
  readonly largest: LargestAnswer | NothingFits
  readonly depths: readonly DepthRow[]
  readonly place: PlaceAnswer
  /** null for what does not move along with the candidate. */
  readonly clearing: ClearingMoves | null
  readonly route: RouteAllAnswer
  readonly seat: SeatAnswer
  readonly compared: Compared
  readonly seated: SeatedAnswer
  readonly sheets: SheetSet
}

/** What candidates are compared by; null for what a candidate does not have. */
export interface Compared {
  /** Core and tanks along the bay's axes, mm. */
  readonly overall: Vec3 | null
  readonly ledger: Outcome<Ledger>
  readonly bends: Outcome<BendsAnswer> | null
  /** The candidate's own way in, judged. */
  readonly way: Outcome<SeatAnswer> | null
  readonly largest: Outcome<LargestAnswer | NothingFits>
}

export interface SearchAsk<K extends SearchKind = SearchKind> {
  readonly kind: K
  readonly bay: Bay
  readonly candidate: string
  readonly request: SearchRequests[K]
  /** Counts up with every question of its kind; the search goes on for as long as the shared memory says the same. */
  readonly ticket: number
}

/**
 * How far a search has come: the best that is known, and what nothing exceeds. In the unit of the answer; for 'seat' the least
 * margin of the best path, −∞ as long as there is none, and the share of the work that is done; for 'sheets' 0 and that share.
 */
export interface SearchPoint {
  readonly milliseconds: number
  readonly value: number
  readonly bound: number
}

export interface SearchAnswer<K extends SearchKind = SearchKind> {
  readonly outcome: Outcome<SearchResults[K]>
  readonly milliseconds: number
}

/** The second worker: searches that take longer than a ledger may wait. One after the other, in the order of the calls. */
export interface SearchDesk {
  /** Takes over the meshes of the bay that is open. */
  borrow(meshes: Meshes): Promise<void>
  /**
   * Shared memory with the ticket that may go on, one number for each of `searchKinds`. Any other number there ends the
   * search: with the best that is known where there is one.
   */
  watch(tickets: SharedArrayBuffer): Promise<void>
  search<K extends SearchKind>(ask: SearchAsk<K>, told: (point: SearchPoint) => void): Promise<SearchAnswer<K>>
}

/** Share by which the bound of a largest core may exceed its value. */
export const provedWithin = 0.001
