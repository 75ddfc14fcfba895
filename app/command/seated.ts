import { leftOutIds } from '../../core/bay/keepOuts.ts'
import type { Fault } from '../../core/fault.ts'
import type { SeatedAnswer, SeatedCore } from '../../core/seat/seated.ts'
import { defaultNeed } from '../../core/seat/subject.ts'
import { renamed, unroutedOf } from './adopt.ts'
import { type Aim, amountText } from '../wording/amounts.ts'
import { answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import type { LargestOptions } from './largestOptions.ts'
import { pathJson } from './seat.ts'
import { asLargest, type SeatedTelling, seatedText } from './seatedText.ts'
import type { Searcher } from './searches.ts'
import { adopted, brokenOff, inFile, type Start, watched } from './searching.ts'

/**
 * `largest --seated`: the largest core that can also be offered up. The candidate given carries its way in, so that it can be
 * proved again.
 */
export async function largestThatComesIn(
  path: string,
  start: Start,
  given: LargestOptions,
  io: Io,
  search: Searcher,
  refuseLimits: (faults: readonly Fault[]) => number,
): Promise<number> {
  const { bay, candidate: before, units, opened } = start
  const { for: aim, within, tilt, withinBox, need } = given
  const request = { for: aim, within, tilt, withinBox, ...(need !== undefined && { need }) }
  const ask = { bay, candidate: before.id, meshes: opened.meshes, request }
  const found = await watched('seated', ask, given.seconds, progressWording(aim, start), io, search)
  if (!found) return brokenOff(io)
  const outcome = inFile(path, found)
  if (!outcome.ok) return refuseLimits(outcome.faults)
  const answer = ready(start, outcome.value)
  const written = await adopted(start, answer.best?.candidate ?? null, io)
  if (!written.ok) return refuse(io, written.faults)
  const leftOut = leftOutIds(bay)
  const telling: SeatedTelling = { bay, before, aim, leftOut, written: written.value, units, need: need ?? defaultNeed }
  if (given.json) io.out(jsonText(seatedJson(start, telling, answer)))
  else io.out(seatedText(telling, answer, io))
  if (answer.stopped === 'cancelled') return answered.cancelled
  return answer.best && leftOut.length === 0 ? answered.good : answered.notGood
}

/** Under a name of its own, with its way in. */
function ready({ bay }: Start, answer: SeatedAnswer): SeatedAnswer {
  const { best } = answer
  if (!best) return answer
  const { start, moves } = best.path
  const offering = {
    start: { at: mutable(start.at), turn: mutable(start.turn) },
    moves: moves.map(({ shift, pivot, axis, angle }) => ({
      shift: mutable(shift),
      pivot: mutable(pivot),
      axis: mutable(axis),
      angle,
    })),
  }
  const candidate = { ...renamed(bay, best.candidate, 'largest'), offering }
  return { ...answer, best: { ...best, candidate } satisfies SeatedCore }
}

const mutable = ([x, y, z]: readonly [number, number, number]): [number, number, number] => [x, y, z]

/** JSON has no infinity: a bound that is not there yet is null. */
const bounded = (bound: number | null): number | null => (bound !== null && Number.isFinite(bound) ? bound : null)

function seatedJson(
  { bay, candidate, opened }: Start,
  { aim, leftOut, written, need }: SeatedTelling,
  answer: SeatedAnswer,
) {
  const { best, atSeat, upperBoundPath, notCounted } = answer
  const head = { command: 'largest', bay: { name: bay.name, sha256: opened.sha256 }, of: candidate.id, for: aim }
  const alone =
    atSeat.answer === 'found'
      ? { answer: atSeat.answer, core: atSeat.core, at: atSeat.at, turn: atSeat.turn, value: atSeat.value }
      : { answer: atSeat.answer, conflict: atSeat.conflict }
  const bounds = { need, upperBoundSeat: bounded(atSeat.upperBound), seatAlone: alone }
  if (!best)
    return {
      ...head,
      answer: answer.answer,
      stopped: answer.stopped,
      upperBound: bounded(atSeat.upperBound),
      seated: { path: null, least: null, upperBoundPath: null, notCounted: [], ...bounds },
      leftOut,
    }
  const { upperBound, candidate: given, ...rest } = asLargest(best, answer)
  return {
    ...head,
    ...rest,
    upperBound: bounded(upperBound),
    candidate: given,
    seated: {
      path: pathJson(best.path, best.candidate.core),
      least: best.path.least,
      upperBoundPath: bounded(upperBoundPath),
      notCounted,
      ...bounds,
    },
    leftOut,
    unrouted: unroutedOf(bay, given),
    ...(written !== null && { adopted: { file: written, candidate: given.id } }),
  }
}

const progressWording =
  (aim: Aim, { units }: Start) =>
  (value: number, bound: number): string => {
    const inHand = value > 0 ? `${amountText(value, aim, units, 'down')} comes in` : 'none that comes in yet'
    return Number.isFinite(bound) ? `${inHand}, at most ${amountText(bound, aim, units, 'up')}` : inHand
  }
