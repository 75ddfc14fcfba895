import { useMemo } from 'react'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { type Way, wayShown, waysIn } from '../state/seat.ts'
import { bayOf } from '../state/windowState.ts'

/** The ways in that can be looked at, and the one that is; the same objects for as long as nothing about them changes. */
export function useWays(): { readonly ways: readonly Way[]; readonly shown: Way | null } {
  const { room } = useHere()
  const search = useSearches(({ seat }) => seat)
  const bay = useWindow(bayOf)
  const candidate = useWindow((state) => state.candidate)
  const seat = useWindow((state) => state.seat)
  const need = useWindow((state) => state.seatNeed)
  const chosen = useWindow((state) => state.way)
  // biome-ignore lint/correctness/useExhaustiveDependencies: they are all that `waysIn` reads of the state
  const ways = useMemo(() => waysIn(room.store.getState(), search), [room, search, bay, candidate, seat, need])
  return { ways, shown: wayShown(ways, chosen) }
}
