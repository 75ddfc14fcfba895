import { askedBy } from '../bay/defaults.ts'
import { keepOutSolids } from '../bay/keepOuts.ts'
import { exemptionsOf, type Meshes } from '../bay/part.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { bad, good, type Outcome } from '../fault.ts'
import { type Mat3, type Pose, product, turnMatrix, type Vec3 } from '../shape/vec.ts'
import { candidateOf, ledger } from '../verdict/ledger.ts'
import { localBody } from './placeBody.ts'
import { type PlaceResult, PlaceSearch } from './placeSearch.ts'
import type { PlacePair, PlaceRange } from './placeWitness.ts'

export interface PlaceRequest {
  /** Axes along which the candidate may move; default all. */
  readonly free?: { readonly x: boolean; readonly y: boolean; readonly z: boolean }
  /** How far from where it stands, each way, mm; default 100. The candidate's `limits.centre` narrows it further. */
  readonly reach?: number
  /** Tilt about Y that may be taken, degrees; default the tilt it has. */
  readonly tilt?: { readonly min: number; readonly max: number }
  /** Width of the answer, mm; default 0.1. */
  readonly within?: number
  /** Cells of the search looked at, at most; default 20,000. The same number gives the same answer everywhere. */
  readonly work?: number
  readonly stop?: () => 'time' | 'cancelled' | null
  readonly progress?: (margin: number, bound: number) => void
}

export interface PlaceAnswer {
  /** 'none found': the best place known does not clear, and that none does is not proved. */
  readonly answer: 'clears' | 'none clears' | 'none found'
  readonly at: Vec3
  readonly turn: Vec3
  /** Least margin over core, tanks, stubs and mounts at `at`, and what no place in the range exceeds, mm. */
  readonly margin: { readonly atLeast: number; readonly atMost: number }
  readonly stopped: PlaceResult['stopped']
  /** What holds it there: pairs within a tenth of a millimetre of the least margin. */
  readonly holds: readonly { readonly keepOut: string; readonly part: string }[]
  /** Ready to put in the bay; its pipes come back without a path. */
  readonly candidate: Candidate
}

/**
 * The place of the greatest least margin for a candidate of fixed size: core, tanks, stubs and mounts against every keep-out, each
 * with its required clearance, uncertainty and tolerance. Pipes are left out.
 * @param bay as read; keep-outs that are switched off are left out here as everywhere
 * @returns a place whose margin is as the ledger has it, with the bound; 'none clears' where the bound is below 0: the
 * proof, and `holds` names what conflicts at the best place known.
 * Faults: 'no-candidate', 'unknown-candidate', those of solids, 'no-keep-out', 'centre-out-of-reach', 'tilt-range'.
 * Error: margin.atMost − margin.atLeast ≤ `within` unless stopped is 'work', 'time', 'cancelled' or 'none clears'.
 */
export function place(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  request: PlaceRequest = {},
): Outcome<PlaceAnswer> {
  const chosen = candidateOf(bay, candidateId)
  if (!chosen.ok) return chosen
  // Pipes do not move along; without them nothing can fail to be rounded.
  const candidate: Candidate = {
    ...chosen.value,
    ...(chosen.value.pipes && { pipes: chosen.value.pipes.map((pipe) => ({ ...pipe, path: [] })) }),
  }
  const pairs = pairsOf(bay, { ...candidate, pipes: [] }, meshes)
  if (!pairs.ok) return pairs
  const range = rangeOf(candidate, request)
  if (!range.ok) return range
  const search = new PlaceSearch(pairs.value, range.value, startIn(range.value), {
    within: request.within ?? 0.1,
    work: request.work ?? 20_000,
    stop: request.stop ?? (() => null),
    progress: request.progress ?? (() => undefined),
  })
  return answerOf(bay, candidate, meshes, range.value, search.run())
}

function pairsOf(bay: Bay, candidate: Candidate, meshes: Meshes): Outcome<PlacePair[]> {
  const keepOuts = keepOutSolids(bay, meshes)
  const made = candidateParts(bay, candidate)
  if (!keepOuts.ok) return keepOuts
  if (!made.ok) return made
  if (keepOuts.value.length === 0)
    return bad({ code: 'no-keep-out', field: 'keepOuts', expected: 'at least one keep-out in place' })
  return good(
    made.value.parts.flatMap((part) => {
      const body = localBody(part.name, part.solid, part.tolerance, part.pose)
      return keepOuts.value.flatMap(({ id, keepOut, solid }): PlacePair[] => {
        if (exemptionsOf(part).has(id)) return []
        const { required, uncertainty } = askedBy(keepOut)
        return [{ body, keepOut: { id, solid }, wanted: required + uncertainty + body.tolerance }]
      })
    }),
  )
}

const degree = Math.PI / 180

function rangeOf({ at, turn, limits, id }: Candidate, request: PlaceRequest): Outcome<PlaceRange> {
  const { free = { x: true, y: true, z: true }, reach = 100, tilt = { min: turn[1], max: turn[1] } } = request
  const isTilt = (x: number) => Number.isFinite(x) && Math.abs(x) <= 45
  if (!(isTilt(tilt.min) && isTilt(tilt.max) && tilt.min <= tilt.max))
    return bad({
      code: 'tilt-range',
      item: id,
      field: 'limits.tilt',
      expected: 'from … to within ±45°',
      got: [tilt.min, tilt.max],
    })
  const low = [0, 0, 0, tilt.min * degree] as [number, number, number, number]
  const high = [0, 0, 0, tilt.max * degree] as [number, number, number, number]
  for (const k of [0, 1, 2] as const) {
    if (![free.x, free.y, free.z][k]) continue
    low[k] = -reach
    high[k] = reach
    const centre = limits?.centre
    if (centre) {
      low[k] = Math.max(low[k], centre.min[k] - at[k])
      high[k] = Math.min(high[k], centre.max[k] - at[k])
    }
    if (low[k] > high[k])
      return bad({
        code: 'centre-out-of-reach',
        item: id,
        field: 'limits.centre',
        expected: `within ${reach} mm of the candidate`,
        got: centre,
      })
  }
  const fixed = turnMatrix([turn[0], 0, 0])
  const last = turnMatrix([0, 0, turn[2]])
  const turned = (middle: Mat3): Mat3 => product(last, product(middle, fixed))
  return good({
    low,
    high,
    poseAt: (shift, angle): Pose => ({
      turn: turned(turnMatrix([0, angle / degree, 0])),
      at: [at[0] + shift[0], at[1] + shift[1], at[2] + shift[2]],
    }),
    turnRate: (angle) => turned([-Math.sin(angle), 0, Math.cos(angle), 0, 0, 0, -Math.cos(angle), 0, -Math.sin(angle)]),
  })
}

/** Where it stands, or the nearest that the range allows. */
const startIn = ({ low, high }: PlaceRange): Float64Array =>
  Float64Array.from(low, (x, k) => Math.min(high[k], Math.max(x, 0)))

function answerOf(
  bay: Bay,
  before: Candidate,
  meshes: Meshes,
  range: PlaceRange,
  result: PlaceResult,
): Outcome<PlaceAnswer> {
  const [x, y, z, tilt] = result.best.state
  const at = range.poseAt([x, y, z], tilt).at
  const turn: Vec3 = range.high[3] > range.low[3] ? [before.turn[0], tilt / degree, before.turn[2]] : [...before.turn]
  const candidate: Candidate = { ...before, at: [...at], turn: [...turn] }
  // The ledger has the last word: what is answered here is what `check` will say.
  const checked = ledger({ ...bay, candidates: [{ ...candidate, pipes: [] }] }, undefined, meshes)
  if (!checked.ok) return checked
  const { pairs } = checked.value
  const proved = result.stopped === 'none clears'
  // The ledger counts an overlap as a gap of 0; where nothing at all is asked for, that alone would look like a margin of 0.
  const atLeast = proved ? Math.min(pairs[0].margin, result.upperBound) : pairs[0].margin
  const atMost = Math.max(atLeast, result.upperBound)
  const clears = pairs.every((pair) => pair.verdict === 'clears')
  return good({
    answer: clears ? 'clears' : proved || atMost < 0 ? 'none clears' : 'none found',
    at,
    turn,
    margin: { atLeast, atMost },
    stopped: result.stopped,
    holds: proved
      ? result.conflict.map(({ keepOut, body }) => ({ keepOut: keepOut.id, part: body.name }))
      : pairs.filter((pair) => pair.margin <= atLeast + 0.1).map(({ keepOut, part }) => ({ keepOut, part })),
    candidate,
  })
}
