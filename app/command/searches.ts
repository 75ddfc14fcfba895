import type { Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { bad, FaultError } from '../../core/fault.ts'
import { eachDepth, type LargestRequest, largest } from '../../core/largest/largest.ts'
import { type PlaceRequest, place } from '../../core/largest/place.ts'
import type { RouteRequest } from '../../core/pipe/route/answer.ts'
import { routeAll } from '../../core/pipe/route/routeAll.ts'
import { seat, type SeatRequest } from '../../core/seat/seat.ts'
import type { SetRequest } from '../sheet/set.ts'
import { largestSeated, type SeatedRequest } from '../../core/seat/seated.ts'

/** What every search is asked about: plain data, so that it can be handed to a thread. */
interface Subject {
  readonly bay: Bay
  readonly candidate: string | undefined
  readonly meshes: Meshes
}

/** Why a search ends before its proof. */
export type Stop = 'time' | 'cancelled'

/** A search asks now and then whether to stop, and says what it has in hand and what is not excluded yet. */
interface Watch {
  readonly stop: () => Stop | null
  readonly progress: (inHand: number, bound: number) => void
}

type Asked<T> = Omit<T, keyof Watch>

/** Ids of the pipes to route. */
interface Pipes {
  readonly pipes: readonly string[]
}

/** What a set of sheets is made of beside its subject. */
type SetWish = Omit<SetRequest, keyof Subject>

/** Every computation that takes long enough to be watched and cancelled. A new one is a line here. */
export const searches = {
  place: ({ bay, candidate, meshes, request }: Subject & { request: Asked<PlaceRequest> }, watch: Watch) =>
    place(bay, candidate, meshes, { ...request, ...watch }),
  largest: ({ bay, candidate, meshes, request }: Subject & { request: Asked<LargestRequest> }, watch: Watch) =>
    largest(bay, candidate, meshes, { ...request, ...watch }),
  depths: ({ bay, candidate, meshes, request }: Subject & { request: Asked<LargestRequest> }, watch: Watch) =>
    eachDepth(bay, candidate, meshes, { ...request, ...watch }),
  seated: ({ bay, candidate, meshes, request }: Subject & { request: Asked<SeatedRequest> }, watch: Watch) =>
    largestSeated(bay, candidate, meshes, { ...request, ...watch }),
  route: ({ bay, candidate, meshes, request }: Subject & { request: RouteRequest & Pipes }, watch: Watch) =>
    routeAll(bay, candidate, request.pipes, meshes, { ...request, ...watch }),
  seat: ({ bay, candidate, meshes, request }: Subject & { request: Asked<SeatRequest> }, { stop, progress }: Watch) =>
    seat(bay, candidate, meshes, {
      ...request,
      stop,
      progress: (share, best) => progress(best?.least.atLeast ?? Number.NEGATIVE_INFINITY, share),
    }),
  sheets: async ({ request, ...subject }: Subject & { request: SetWish }, { stop, progress }: Watch) => {
    // Laying out pages takes libraries that no other command should wait for.
    const { makeSet } = await import('../sheet/set.ts')
    return makeSet({ ...subject, ...request }, { stop, progress: (share) => progress(0, share) })
  },
} as const

export type Searches = typeof searches
export type SearchName = keyof Searches
export type SearchAsk<N extends SearchName> = Parameters<Searches[N]>[0]
export type SearchAnswer<N extends SearchName> = Awaited<ReturnType<Searches[N]>>

export interface SearchLimits {
  /** After this long it ends with what it has, s. */
  readonly seconds: number
  readonly progress: (inHand: number, bound: number) => void
  /** Called when the user has asked to stop and the search is about to end. */
  readonly stopping: () => void
}

/** Runs a search somewhere. Null where the user broke it off before it had anything to say. */
export type Searcher = <N extends SearchName>(
  name: N,
  ask: SearchAsk<N>,
  limits: SearchLimits,
) => Promise<SearchAnswer<N> | null>

/** One call for all names: TypeScript cannot see that a name and its question belong together. */
export async function runSearch<N extends SearchName>(
  name: N,
  ask: SearchAsk<N>,
  watch: Watch,
): Promise<SearchAnswer<N>> {
  const search = searches[name] as (ask: SearchAsk<N>, watch: Watch) => SearchAnswer<N> | Promise<SearchAnswer<N>>
  try {
    return await search(ask, watch)
  } catch (error) {
    if (error instanceof FaultError) return bad(...error.faults) as SearchAnswer<N>
    throw error
  }
}

/** In this very thread: nothing but the time can stop it. For programs that call `run` themselves, tests among them. */
export const searchHere: Searcher = (name, ask, { seconds, progress }) => {
  const end = performance.now() + 1000 * seconds
  return runSearch(name, ask, { stop: () => (performance.now() >= end ? 'time' : null), progress })
}
