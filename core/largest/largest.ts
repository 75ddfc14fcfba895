import { keepOutSolids } from '../bay/keepOuts.ts'
import type { Meshes } from '../bay/part.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { LedgerPair } from '../verdict/answer.ts'
import { candidateOf, ledger } from '../verdict/ledger.ts'
import { conflictOf } from './conflict.ts'
import type { CoreQuestion } from './coreProblem.ts'
import { coreQuestion } from './coreQuestion.ts'
import { type Hold, holdsOf } from './holds.ts'
import { sizedAt } from './partBodies.ts'
import type { Core } from './answers.ts'
import { type Solved, type SolveOptions, solved, type TiltRange } from './tilts.ts'
import type { Region } from './wallsOf.ts'

export type { Hold } from './holds.ts'

export interface LargestRequest {
  /** What is made as large as can be; default 'volume'. Of one face (width × height) with 'face'. */
  readonly for?: 'volume' | 'face'
  /** Share by which the bound may exceed the value; default 0.005. */
  readonly within?: number
  /** Tilt about Y, degrees; default the candidate's limits, else the tilt it has. */
  readonly tilt?: { readonly min: number; readonly max: number }
  /** A box in the bay's axes that the whole core has to lie in; stands in for a missing region or greatest size. */
  readonly withinBox?: Region
  /** What a millimetre at each thing that holds the core would buy; default true. */
  readonly holds?: boolean
  /** Cells of the search looked at, at most; default 200,000. Counted work: the same answer on every machine. */
  readonly work?: number
  readonly stop?: () => 'time' | 'cancelled' | null
  readonly progress?: (value: number, upperBound: number) => void
}

export interface LargestAnswer {
  readonly answer: 'found'
  readonly core: { readonly depth: number; readonly width: number; readonly height: number }
  readonly at: Vec3
  readonly turn: Vec3
  /** mm³, or mm² for a face. */
  readonly value: number
  /** No core within the limits that clears has a greater value. */
  readonly upperBound: number
  readonly within: number
  readonly stopped: 'proved' | 'time' | 'cancelled' | 'work'
  readonly holds: readonly Hold[]
  /** Ready to put in the bay; its pipes come back without a path. */
  readonly candidate: Candidate
}

export interface NothingFits {
  readonly answer: 'nothing fits' | 'none found'
  /** Proved where `answer` is 'nothing fits'; else the search was stopped before it found one. */
  readonly stopped: 'proved' | 'time' | 'cancelled' | 'work'
  /** Keep-outs and limits that together leave no core; none of them can be missed for the proof. */
  readonly conflict: readonly string[]
  readonly upperBound: number
}

/**
 * The largest core that goes in with its tanks, stubs and mounts, how close to the best it is proved to be, and what holds it.
 * @param bay as read; keep-outs that are switched off are left out here as everywhere
 * @returns a core that the ledger says clears (pipes left out), or why there is none. Faults: those of the limits, of the
 * candidate and of solids; nothing is run then.
 * Error: `upperBound` holds for every core within limits and tilt that keeps what is asked and 1e-8 mm more, rounding
 * counted; `value` is what the core given has.
 */
export function largest(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  request: LargestRequest = {},
): Outcome<LargestAnswer | NothingFits> {
  const asked = askedIn(bay, candidateId, meshes, request)
  return asked.ok ? answered(bay, asked.value, meshes, request) : asked
}

export interface DepthRow {
  readonly depth: number
  /** Width × height, mm². */
  readonly face: number
  readonly volume: number
  readonly answer: LargestAnswer | NothingFits
}

/** For every stock depth the largest face that goes in, its volume and what holds it. */
export function eachDepth(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  request: LargestRequest = {},
): Outcome<readonly DepthRow[]> {
  const chosen = candidateOf(bay, candidateId)
  if (!chosen.ok) return chosen
  const candidate = chosen.value
  const { limits = {} } = candidate
  const stock = [...new Set(limits.depth?.stock ?? [candidate.core.depth])].sort((a, b) => a - b)
  const rows: DepthRow[] = []
  for (const depth of stock) {
    const only: Candidate = { ...candidate, limits: { ...limits, depth: { ...limits.depth, stock: [depth] } } }
    const one = largest({ ...bay, candidates: [only] }, undefined, meshes, { ...request, for: 'face' })
    if (!one.ok) return one
    const face = one.value.answer === 'found' ? one.value.value : 0
    rows.push({ depth, face, volume: face * depth, answer: one.value })
  }
  return good(rows)
}

interface AskedQuestion {
  /** With pipes, their paths taken out. */
  readonly candidate: Candidate
  readonly question: CoreQuestion
  readonly range: TiltRange
}

function askedIn(bay: Bay, id: string | undefined, meshes: Meshes, request: LargestRequest): Outcome<AskedQuestion> {
  const chosen = candidateOf(bay, id)
  if (!chosen.ok) return chosen
  const keepOuts = keepOutSolids(bay, meshes)
  if (!keepOuts.ok) return keepOuts
  const candidate: Candidate = {
    ...chosen.value,
    ...(chosen.value.pipes && { pipes: chosen.value.pipes.map((pipe) => ({ ...pipe, path: [] })) }),
  }
  const range = tiltRange(candidate, request)
  if (!range.ok) return range
  const question = coreQuestion(
    candidate,
    keepOuts.value,
    request.for ?? 'volume',
    range.value,
    request.withinBox,
    bay.fixings,
  )
  return question.ok ? good({ candidate, question: question.value, range: range.value }) : question
}

function tiltRange({ id, turn, limits }: Candidate, { tilt }: LargestRequest): Outcome<TiltRange> {
  const range = tilt ?? limits?.tilt ?? { min: turn[1], max: turn[1] }
  const fault: Fault = {
    code: 'tilt-range',
    item: id,
    field: 'limits.tilt',
    expected: 'from … to within ±45°, the first no more than the second',
    got: [range.min, range.max],
  }
  const isTilt = (x: number) => Number.isFinite(x) && Math.abs(x) <= 45
  return isTilt(range.min) && isTilt(range.max) && range.min <= range.max ? good(range) : bad(fault)
}

function answered(
  bay: Bay,
  { candidate, question, range }: AskedQuestion,
  meshes: Meshes,
  request: LargestRequest,
): Outcome<LargestAnswer | NothingFits> {
  const stop = request.stop ?? (() => null)
  const within = request.within ?? 0.005
  const options: SolveOptions = {
    within,
    work: request.work ?? 200_000,
    stop,
    progress: (best, bound) => request.progress?.(best ? Math.exp(best.aim) : 0, Math.exp(bound)),
  }
  const first = solved(question, range, options)
  if (!first.best) return good(noneOf(question, range, first, stop))
  const cleared = clearedCore(bay, candidate, question, meshes, first.best, options)
  if (!cleared.ok) return cleared
  if (!cleared.value) return good(noneOf(question, range, { ...first, stopped: 'work' }, stop))
  let { core, sized, pairs } = cleared.value
  let { bound, stopped } = first
  if (request.holds !== false && stopped === 'proved') {
    // Gains are told from an answer that is as near to the best as the searches for them are.
    const finer = solved(
      question,
      { min: core.view.tilt, max: core.view.tilt },
      { ...options, within: 2e-4, work: 5000, best: core },
    )
    const again = finer.best && clearedCore(bay, candidate, question, meshes, finer.best, options)
    if (again?.ok && again.value && again.value.core.aim >= core.aim) ({ core, sized, pairs } = again.value)
    if (range.min === range.max) bound = Math.min(bound, finer.bound)
  }
  const { depth, width, height } = sized.core
  const value = (question.shares[0] > 0 ? depth : 1) * width * height
  const upperBound = Math.max(value, Math.exp(bound) * (1 + 1e-12))
  if (stopped === 'proved' && upperBound > value * (1 + within) * (1 + 1e-9)) stopped = 'work'
  return good({
    answer: 'found',
    core: { depth, width, height },
    at: [...sized.at],
    turn: [...sized.turn],
    value,
    upperBound,
    within,
    stopped,
    holds: request.holds === false ? [] : holdsOf(question, core, pairs, value, stop),
    candidate: sized,
  })
}

function noneOf(
  question: CoreQuestion,
  range: TiltRange,
  { bound, stopped }: Solved,
  stop: SolveOptions['stop'],
): NothingFits {
  const isProved = stopped === 'proved'
  return {
    answer: isProved ? 'nothing fits' : 'none found',
    stopped,
    conflict: isProved ? conflictOf(question, (range.min + range.max) / 2, stop) : [],
    upperBound: isProved ? 0 : Math.exp(bound) * (1 + 1e-12),
  }
}

interface Cleared {
  readonly core: Core
  readonly sized: Candidate
  readonly pairs: readonly LedgerPair[]
}

/**
 * The core as a candidate that the ledger says clears: it has the last word. Where its error for a pair is larger than what
 * answers keep beyond what is asked, that keep-out is kept a little farther off and the search is run again.
 * @returns undefined where even that does not bring a core that is proved clear
 */
function clearedCore(
  bay: Bay,
  candidate: Candidate,
  question: CoreQuestion,
  meshes: Meshes,
  found: Core,
  options: SolveOptions,
): Outcome<Cleared | undefined> {
  let core: Core | undefined = found
  let asked = question.asked
  for (let round = 0; round < 6 && core; round++) {
    const sized = candidateWith(candidate, question, core)
    const checked = ledger({ ...bay, candidates: [{ ...sized, pipes: [] }] }, undefined, meshes)
    if (!checked.ok) return checked
    const { pairs } = checked.value
    const wrong = pairs.filter((pair) => pair.verdict !== 'clears')
    if (wrong.length === 0) return good({ core, sized, pairs })
    asked = asked.map((each) => {
      const short = wrong.filter((pair) => pair.keepOut === each.keepOut.id).map((pair) => pair.error - pair.margin)
      return short.length > 0 ? { ...each, apart: each.apart + Math.max(1e-6, ...short) } : each
    })
    const tilt: number = core.view.tilt
    core = solved({ ...question, asked }, { min: tilt, max: tilt }, { ...options, best: undefined, work: 5000 }).best
  }
  return good(undefined)
}

/** Sizes as they can be had, to the last digit: faces are differences and carry rounding. */
function candidateWith(candidate: Candidate, { sizes }: CoreQuestion, { faces, view }: Core): Candidate {
  const size = [0, 1, 2].map((k) => {
    const length = faces[3 + k] - faces[k]
    for (const exact of [sizes[k].most, sizes[k].least, ...(sizes[k].stepped ? [sizes[k].down(length + 1e-8)] : [])])
      if (Math.abs(exact - length) < 1e-8) return exact
    return length
  })
  const middle = [0, 1, 2].map((k) => faces[k] / 2 + faces[3 + k] / 2)
  const sized = sizedAt(candidate, [middle[0], middle[1], middle[2]], [size[0], size[1], size[2]], view)
  const [x, y, z] = sized.at
  return candidate.limits?.symmetric ? { ...sized, at: [x, 0, z] } : { ...sized, at: [x, y, z] }
}
