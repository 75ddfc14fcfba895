import type { Fault } from '../../../core/fault.ts'
import type { LeastOnTheWay, SeatAnswer, SeatPath } from '../../../core/seat/answer.ts'
import type { MountsJudged } from '../../../core/seat/mountsJudged.ts'
import type { SeatSetting } from '../../worker/protocol.ts'
import { sameBut, stageIn } from './pipes.ts'
import type { OneSearch, SearchStanding } from './searches.ts'
import { bayOf, candidateIn, type WayKind, type WindowState } from './windowState.ts'

/** Whether the seat is to be judged: where it is looked at, and where the bay has something to judge. */
export function asksForSeat(state: WindowState): boolean {
  const { offering, mounts = [] } = candidateIn(state) ?? {}
  return stageIn(state) === 'seat' || offering !== undefined || mounts.length > 0
}

export const isSeatOfNow = (state: WindowState): boolean =>
  state.seat !== null &&
  state.seat.bay === bayOf(state) &&
  state.seat.candidate === state.candidate &&
  state.seat.need === state.seatNeed

export type JudgedStanding = 'fresh' | 'updating' | 'stopped'

/** How what is judged of the seat stands to the bay that is shown. */
export function judgedStanding(state: WindowState): JudgedStanding {
  if (isSeatOfNow(state)) return 'fresh'
  return state.stopped ? 'stopped' : 'updating'
}

/** What was judged last of this candidate, be it of this bay or the one before. */
const judgedOf = (state: WindowState) => (state.seat?.candidate === state.candidate ? state.seat.judged : null)

export function settingIn(state: WindowState): SeatSetting | null {
  const setting = judgedOf(state)?.setting
  return setting?.ok ? setting.value : null
}

export function mountsIn(state: WindowState): MountsJudged | null {
  const mounts = judgedOf(state)?.mounts
  return mounts?.ok ? mounts.value : null
}

const noFaults: readonly Fault[] = []

/** Why nothing can be told about the seat at all. */
export function seatFaults(state: WindowState): readonly Fault[] {
  const setting = isSeatOfNow(state) ? judgedOf(state)?.setting : undefined
  return setting?.ok === false ? setting.faults : noFaults
}

/** Why the bay's own way in cannot be judged. */
export function wayFaults(state: WindowState): readonly Fault[] {
  const way = isSeatOfNow(state) ? judgedOf(state)?.way : undefined
  return way?.ok === false ? way.faults : noFaults
}

/** The judgement of the bay's own way in; null where there is none of the bay as it is now. */
export function ownAnswer(state: WindowState): SeatAnswer | null {
  const way = isSeatOfNow(state) ? judgedOf(state)?.way : null
  return way?.ok ? way.value : null
}

/** How the ways that were found stand to the bay that is shown; adopting one of them does not make them old. */
export function foundStanding({ found, running }: OneSearch<'seat'>, state: WindowState): SearchStanding {
  if (running) return 'working'
  const bay = bayOf(state)
  if (!found || !bay || found.sought.candidate !== state.candidate) return 'none'
  const [then, now] = [found.sought.bay, bay].map(({ candidates }) =>
    candidates.find(({ id }) => id === state.candidate),
  )
  const isSame =
    found.sought.request.need === state.seatNeed &&
    (found.sought.bay === bay ||
      (then && now && sameBut(found.sought.bay, bay, ['candidates']) && sameBut(then, now, ['offering'])))
  return isSame ? 'fresh' : 'outOfDate'
}

/** What the search found for this candidate, of whatever bay. */
export function foundAnswer(search: OneSearch<'seat'>, state: WindowState): SeatAnswer | null {
  const { found } = search
  return found?.outcome.ok && found.sought.candidate === state.candidate ? found.outcome.value : null
}

/** One way in to look at. */
export interface Way {
  readonly kind: WayKind
  readonly path: SeatPath
  /** Null where it is not known, or not of the bay as it is now. */
  readonly least: LeastOnTheWay | null
  readonly isOld: boolean
}

export function waysIn(state: WindowState, search: OneSearch<'seat'>): Way[] {
  const own = candidateIn(state)?.offering
  const answer = foundAnswer(search, state)
  const isOld = foundStanding({ ...search, running: null }, state) === 'outOfDate'
  const { path, fewest } = answer ?? {}
  return [
    ...(own ? [{ kind: 'own' as const, path: own, least: ownAnswer(state)?.path?.least ?? null, isOld: false }] : []),
    ...(path ? [{ kind: 'widest' as const, path, least: path.least, isOld }] : []),
    ...(fewest ? [{ kind: 'fewest' as const, path: fewest, least: fewest.least, isOld }] : []),
  ]
}

/** The way that is looked at: the chosen one, or the first there is. */
export const wayShown = (ways: readonly Way[], chosen: WayKind | null): Way | null =>
  ways.find(({ kind }) => kind === chosen) ?? ways[0] ?? null
