import { keepOutSolids } from '../bay/keepOuts.ts'
import type { Meshes } from '../bay/part.ts'
import type { Bay, Candidate, Limits } from '../bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import type { Vec3 } from '../shape/vec.ts'
import { candidateOf, ledger } from '../verdict/ledger.ts'
import { type FitQuestion, fitFaults, fitProblem, type Region } from './fit.ts'
import { valueAt } from './fitAim.ts'
import { candidateAt, facesOf } from './fitFrame.ts'
import type { FitResult } from './fitSearch.ts'
import { type Hold, holdsOf } from './fitHolds.ts'
import { type Tilted, tiltedSearch } from './fitTilt.ts'

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
  /** Nodes of the search, at most; default 20,000 upright. Counted work: the same answer on every machine. */
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
  /** Limits and keep-outs that the proof leans on. */
  readonly conflict: readonly string[]
  readonly upperBound: number
}

/**
 * The largest core that goes in with its tanks and stubs, how close to the best it is proved to be, and what holds it.
 * @param bay as read; keep-outs that are switched off are left out here as everywhere
 * @returns a core that the ledger says clears (pipes left out), or why there is none. Faults: those of the limits, of the
 * candidate and of solids; nothing is run then.
 * Error: `upperBound` holds for every core within limits and tilt, rounding counted; `value` is what the core given has.
 */
export function largest(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  request: LargestRequest = {},
): Outcome<LargestAnswer | NothingFits> {
  const question = questionOf(bay, candidateId, meshes, request)
  if (!question.ok) return question
  const range = tiltRange(question.value.candidate, request)
  if (!range.ok) return range
  const found = tiltedSearch(question.value, range.value, request)
  if (!found.result.best) return good(noneOf(question.value, found.result))
  return answerOf(question.value, meshes, found, request)
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
  const question = questionOf(bay, candidateId, meshes, request)
  if (!question.ok) return question
  const { limits, candidate } = question.value
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

function questionOf(bay: Bay, id: string | undefined, meshes: Meshes, request: LargestRequest): Outcome<FitQuestion> {
  const chosen = candidateOf(bay, id)
  if (!chosen.ok) return chosen
  const keepOuts = keepOutSolids(bay, meshes)
  if (!keepOuts.ok) return keepOuts
  const candidate: Candidate = {
    ...chosen.value,
    ...(chosen.value.pipes && { pipes: chosen.value.pipes.map((pipe) => ({ ...pipe, path: [] })) }),
  }
  const limits: Limits = candidate.limits ?? {}
  const question: FitQuestion = {
    bay,
    candidate,
    keepOuts: keepOuts.value,
    aim: request.for ?? 'volume',
    limits,
    within: request.withinBox,
  }
  const faults = fitFaults(question)
  return faults.length > 0 ? bad(...faults) : good(question)
}

function tiltRange({ id, turn, limits }: Candidate, { tilt }: LargestRequest): Outcome<{ min: number; max: number }> {
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

function noneOf(_question: FitQuestion, { stopped, conflict, upperBound }: FitResult): NothingFits {
  return { answer: stopped === 'proved' ? 'nothing fits' : 'none found', stopped, conflict, upperBound }
}

function answerOf(
  question: FitQuestion,
  meshes: Meshes,
  found: Tilted,
  request: LargestRequest,
): Outcome<LargestAnswer> {
  const { result, tilt } = found
  const problem = fitProblem(question, tilt, 0)
  if (!problem.ok) return problem
  const { engine, aim } = problem.value
  const faces = result.best as NonNullable<FitResult['best']>
  const candidate = candidateAt({ ...question.candidate, turn: engine.candidate.turn }, engine.axes, faces)
  // The ledger has the last word on what clears.
  const checked = ledger({ ...question.bay, candidates: [{ ...candidate, pipes: [] }] }, undefined, meshes)
  if (!checked.ok) return checked
  const wrong = checked.value.pairs.find((pair) => pair.verdict !== 'clears')
  if (wrong) throw new Error(`the largest core found does not clear: ${JSON.stringify({ wrong, candidate })}`)
  const value = valueAt(aim, facesOf(candidate, engine.axes))
  return good({
    answer: 'found',
    core: { depth: candidate.core.depth, width: candidate.core.width, height: candidate.core.height },
    at: candidate.at,
    turn: candidate.turn,
    value,
    upperBound: Math.max(value, result.upperBound),
    within: request.within ?? 0.005,
    stopped: result.stopped,
    holds: request.holds === false ? [] : holdsOf(question, tilt, faces, checked.value.pairs, request.stop),
    candidate,
  })
}
