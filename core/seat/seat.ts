import type { Meshes } from '../bay/part.ts'
import type { Bay } from '../bay/schema.ts'
import { bad, good } from '../fault.ts'
import type { Fault, Outcome } from '../fault.ts'
import { length, scale, unit } from '../shape/vec.ts'
import { ledger } from '../verdict/ledger.ts'
import { LedgerMemory } from '../verdict/memory.ts'
import type { ProvedPath, SeatAnswer, SeatPath } from './answer.ts'
import { certify, decide } from './certify.ts'
import { isClosed } from './closed.ts'
import { isBeyond, waysOut } from './exits.ts'
import { defaultWork, findPath, leastProved } from './find.ts'
import { nearestMiss } from './miss.ts'
import { missBetween, offBy } from './offBy.ts'
import { endOf, poseOf } from './move.ts'
import { type SeatSubject, seatSubject } from './subject.ts'
import { type Stop, Work } from './work.ts'

export interface SeatRequest {
  /** Clearance wanted on the way, mm; each keep-out's own caps it. Default 3. */
  readonly need?: number
  /** A path of one's own, to be proved or refuted. */
  readonly moves?: SeatPath
  /** Distance queries that the search for a path may take. */
  readonly work?: number
  readonly seed?: number
  readonly stop?: Stop
  /** Share of the work that is done, and the best path so far. */
  readonly progress?: (share: number, best: ProvedPath | null) => void
}

/** The proof that a bay is closed, and the search for the nearest miss, take such shares of the work each. */
const closedShare = 0.8
const missShare = 1
/** A path may end beside the seat by this much at any point of the part, mm: moves are typed in rounded numbers. */
const seated = 0.01

/**
 * Whether a candidate can be offered up to its seat past all that stays: a proved path, or that there is none, or how near it is.
 * @param bay as read or edited; it must pass `checkBay`
 * @param candidateId the first candidate where undefined
 * @param memory keep one per window or job; never changes an answer
 * @returns 'proved': exactly these moves keep the margin, on the whole continuous motion. 'refuted': it does not clear at its
 *   seat, or the path given falls short. 'closed': proved that no path exists. 'none found': the search says no more than
 *   that, with the nearest miss; also where keep-outs are left out for a look. 'cancelled': before anything was found.
 * Faults: those of `seatSubject`; of a path given: 'zero-axis', 'moves-miss-seat', 'start-inside-bay', 'not-finite'.
 * Error: see `certify`. Counted work: the same bay and request give the same answer everywhere, unless `stop` ends it.
 */
export function seat(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  request: SeatRequest = {},
  memory: LedgerMemory = new LedgerMemory(),
): Outcome<SeatAnswer> {
  const { workshop } = memory
  const made = seatSubject(bay, candidateId, meshes, {
    workshop,
    ...(request.need !== undefined && { need: request.need }),
  })
  if (!made.ok) return made
  const subject = made.value
  const faults = request.moves ? pathFaults(subject, request.moves) : []
  if (faults.length > 0) return bad(...faults)
  const atSeat = shortAtSeat(bay, subject, meshes, memory)
  if (!atSeat.ok) return atSeat
  if (atSeat.value) return good({ ...emptyAnswer(subject), answer: 'refuted', atSeat: atSeat.value })
  if (!request.moves) return good(searched(subject, request))
  const answer = judged(subject, request.moves)
  // Moves that fall short are refuted wherever they begin; no others may begin behind a floor or a wall.
  return answer.answer === 'refuted' || isOut(subject, request.moves) ? good(answer) : bad(startInside)
}

const emptyAnswer = (subject: SeatSubject): SeatAnswer => ({
  candidate: subject.candidate.id,
  answer: 'none found',
  path: null,
  fewest: null,
  atSeat: null,
  miss: null,
  need: subject.need,
  off: subject.off,
  leftOut: subject.leftOut,
  withPart: subject.withPart,
  after: subject.after,
  exempt: subject.exempt,
  queries: 0,
  stopped: 'done',
})

/** The pair with the smallest margin of those parts that go in, where it does not clear at the seat. */
function shortAtSeat(
  bay: Bay,
  subject: SeatSubject,
  meshes: Meshes,
  memory: LedgerMemory,
): Outcome<SeatAnswer['atSeat']> {
  const all = ledger(bay, subject.candidate.id, meshes, memory)
  if (!all.ok) return all
  const worst = all.value.pairs.find(
    ({ part, between, verdict }) => between === undefined && subject.withPart.includes(part) && verdict !== 'clears',
  )
  return good(worst ? { part: worst.part, keepOut: worst.keepOut, margin: worst.margin } : null)
}

function judged(subject: SeatSubject, path: SeatPath): SeatAnswer {
  const work = new Work(Infinity)
  const verdict = decide(subject, path, 0, work.sweeps)
  const least =
    verdict === 'proved' ? leastProved(subject, path, work.sweeps) : certify(subject, path, { sweeps: work.sweeps })
  const answer = verdict === 'proved' ? provedAs(subject) : verdict === 'undecided' ? 'none found' : 'refuted'
  return { ...emptyAnswer(subject), answer, path: { ...path, least }, queries: work.done }
}

/** With keep-outs left out for a look nothing is proved of the car. */
const provedAs = ({ leftOut }: SeatSubject): SeatAnswer['answer'] => (leftOut.length > 0 ? 'none found' : 'proved')

function searched(subject: SeatSubject, request: SeatRequest): SeatAnswer {
  const { work: most = defaultWork, seed = 1, stop, progress } = request
  const found = findPath(subject, {
    work: most,
    seed,
    ...(stop && { stop }),
    ...(progress && { progress }),
  })
  const { path, fewest, queries, stopped } = found
  const empty = { ...emptyAnswer(subject), queries, stopped }
  if (path) return { ...empty, answer: provedAs(subject), path, fewest }
  if (found.closed) return { ...empty, answer: 'closed' }
  if (stopped !== 'done') return { ...empty, answer: stopped === 'cancelled' ? 'cancelled' : 'none found' }
  return withoutPath(subject, empty, most, seed, stop)
}

function withoutPath(subject: SeatSubject, empty: SeatAnswer, most: number, seed: number, stop?: Stop): SeatAnswer {
  const proof = new Work(closedShare * most, stop)
  if (isClosed(subject, proof, closedShare * most))
    return { ...empty, answer: 'closed', queries: empty.queries + proof.done }
  const work = new Work(missShare * most, stop)
  const miss = nearestMiss(subject, work, seed, 0.12 * missShare * most)
  const stopped = work.stopped ?? proof.stopped ?? 'done'
  const answer = stopped === 'cancelled' && !miss ? 'cancelled' : 'none found'
  return { ...empty, answer, miss, queries: empty.queries + proof.done + work.done, stopped }
}

function pathFaults(subject: SeatSubject, { start, moves }: SeatPath): Fault[] {
  const numbers = [...start.at, ...start.turn, ...moves.flatMap((m) => [...m.shift, ...m.pivot, ...m.axis, m.angle])]
  if (!numbers.every((x) => Number.isFinite(x) && Math.abs(x) < 1e7))
    return [{ code: 'not-finite', field: 'moves', expected: 'numbers below 10,000,000' }]
  const zero = moves.findIndex(({ axis, angle }) => angle !== 0 && length(axis) === 0)
  if (zero >= 0)
    return [{ code: 'zero-axis', field: `moves[${zero}].axis`, expected: 'a direction to turn about', got: [0, 0, 0] }]
  const end = endOf({ start, moves })
  const off = offBy(subject, end)
  if (off > seated) {
    const { millimetres, degrees } = missBetween(subject.seat, end)
    return [
      {
        code: 'moves-miss-seat',
        field: 'moves',
        expected: 'moves that end at the seat',
        got: { millimetres, degrees },
      },
    ]
  }
  return isOut(subject, { start, moves }, true) ? [] : [startInside]
}

const startInside: Fault = { code: 'start-inside-bay', field: 'start', expected: 'a start beyond all keep-outs' }

function isOut(subject: SeatSubject, { start, moves }: SeatPath, ofBounded = false): boolean {
  const [first] = moves
  const way = first && length(first.shift) > 0 ? [unit(first.shift), unit(scale(first.shift, -1))] : []
  return isBeyond(subject, poseOf(start), [...waysOut(subject.seat), ...way], ofBounded)
}
