import type { Bay, Candidate, Pipe } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import type { BendsAnswer, PipeBends, PipeReason } from '../../../core/pipe/answer.ts'
import { bayOf, candidateIn, candidateIndex, type Stage, type WindowState } from './windowState.ts'

const noPipes: readonly Pipe[] = []

export const pipesIn = (state: WindowState): readonly Pipe[] => candidateIn(state)?.pipes ?? noPipes

/** Whether there is anything to see in a stage: pipes need a candidate that has some, the seat one and what it goes past. */
export function hasStage(state: WindowState, stage: Stage): boolean {
  if (stage !== 'measure' && candidateIn(state) === null) return false
  if (stage === 'pipes') return pipesIn(state).length > 0
  return stage !== 'seat' || (bayOf(state)?.keepOuts.length ?? 0) > 0
}

/** The stage that is shown. */
export const stageIn = (state: WindowState): Stage =>
  [state.stage, 'gaps' as const].find((stage) => hasStage(state, stage)) ?? 'measure'

/** The pipe that is looked at; null where the candidate has none. */
export const pipeIn = (state: WindowState): Pipe | null =>
  pipesIn(state).find(({ id }) => id === state.pipe) ?? pipesIn(state)[0] ?? null

/** The way to the pipe that is looked at, for edits. */
export function pipePath(state: WindowState): readonly (string | number)[] {
  const pipe = pipeIn(state)
  return ['candidates', candidateIndex(state), 'pipes', pipesIn(state).findIndex(({ id }) => id === pipe?.id)]
}

/** The last answer about the pipes of this candidate, be it of this bay or the one before. */
export function shownBends(state: WindowState): BendsAnswer | null {
  const { bends } = state
  return bends?.candidate === state.candidate && bends.outcome.ok ? bends.outcome.value : null
}

const noFaults: readonly Fault[] = []

/** Why nothing can be told about the pipes. */
export const bendFaults = (state: WindowState): readonly Fault[] =>
  state.bends && isOfNow(state) && !state.bends.outcome.ok ? state.bends.outcome.faults : noFaults

export type BendsStanding = 'none' | 'fresh' | 'updating' | 'stopped'

/** How the answer about the pipes stands to the bay that is shown. */
export function bendsStanding(state: WindowState): BendsStanding {
  if (pipesIn(state).length === 0) return 'none'
  if (isOfNow(state)) return 'fresh'
  return state.stopped ? 'stopped' : 'updating'
}

const isOfNow = (state: WindowState): boolean =>
  state.bends?.bay === bayOf(state) && state.bends?.candidate === state.candidate

export const bendsOf = (answer: BendsAnswer | null, pipe: Pipe | null): PipeBends | null =>
  answer?.pipes.find(({ id }) => id === pipe?.id) ?? null

/** What is marked in the drawing and listed beside it: what is in the way first, then what is to be watched. */
export const remarksOf = (bends: PipeBends | null): readonly PipeReason[] =>
  bends ? [...bends.reasons, ...bends.notes] : []

/** Whether two bays ask the same of some pipes: all is as it was but the ways that these take. */
export function asksTheSame(one: Bay, other: Bay, candidate: string, routed: readonly string[]): boolean {
  if (one === other) return true
  const [before, after] = [one, other].map((bay) => bay.candidates.find(({ id }) => id === candidate))
  if (!before || !after || !sameBut(one, other, ['candidates']) || !sameBut(before, after, ['pipes', 'offering']))
    return false
  const pipes = (of: Candidate) => of.pipes ?? []
  return (
    pipes(before).length === pipes(after).length &&
    pipes(before).every((each, i) => sameBut(each, pipes(after)[i], routed.includes(each.id) ? itsWay : []))
  )
}

/** What adopting a route changes. */
const itsWay: readonly (keyof Pipe)[] = ['path', 'bendRadius', 'elbows']

/** Whether two records are the same but for some fields. */
export function sameBut<T extends object>(one: T, other: T, but: readonly (keyof T)[]): boolean {
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])] as (keyof T)[]
  return keys.every((key) => but.includes(key) || Object.is(one[key], other[key]))
}
