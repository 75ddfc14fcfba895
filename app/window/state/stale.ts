import { foundStanding, judgedStanding } from './seat.ts'
import { type SearchState, largestStanding } from './searches.ts'
import { bendsStanding } from './pipes.ts'
import { candidateIn, freshness, type Stage, type WindowState } from './windowState.ts'
import type { Workroom } from './workroom.ts'

/** Whether a stage's answer is one of a bay that is no more, and nothing is under way to better it: a press does. */
export function isStale(state: WindowState, searches: SearchState, stage: Stage): boolean {
  if (candidateIn(state) === null) return false
  if (stage === 'core') return isCoreStale(state, searches)
  if (stage === 'gaps') return freshness(state) === 'stopped'
  if (stage === 'pipes') return bendsStanding(state) === 'stopped'
  if (stage !== 'seat') return false
  if (candidateIn(state)?.offering !== undefined) return judgedStanding(state) === 'stopped'
  return foundStanding(searches.seat, state) === 'outOfDate'
}

function isCoreStale(state: WindowState, searches: SearchState): boolean {
  const standing = largestStanding(searches, state)
  return standing === 'outOfDate' || (standing === 'none' && freshness(state) === 'stopped')
}

/** Computes a stage's answer anew. */
export function bringUpToDate(room: Workroom, stage: Stage): void {
  const state = room.store.getState()
  if (state.stopped) room.computeAgain()
  if (stage === 'core') room.searches.seek('largest', { holds: false })
  if (stage === 'seat' && candidateIn(state)?.offering === undefined)
    room.searches.seek('seat', { need: state.seatNeed })
  if (stage === 'sheets') room.sheets.make()
}
