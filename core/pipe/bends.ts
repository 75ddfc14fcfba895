import { nearestName } from '../bay/nearest.ts'
import type { Meshes } from '../bay/part.ts'
import { pipeEnd, pipePoints, stubsOf } from '../bay/pipeEnds.ts'
import type { Stub } from '../bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../bay/schema.ts'
import type { StockElbow } from '../bay/workshopSchema.ts'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { turnMatrix, type Vec3 } from '../shape/vec.ts'
import { candidateOf } from '../verdict/ledger.ts'
import type { BendsAnswer, BentTube, PipeBends, PipeReason } from './answer.ts'
import { bendNotes, bendReasons, bendingOf, elbowReasons } from './makeable.ts'
import { type PutTogether, putTogether, sameLength, type Tube } from './tubes.ts'

/**
 * How the pipes of a candidate are bent and joined, and every reason why one cannot be.
 * @param bay as read or edited; it must pass `checkBay`
 * @param candidateId the first candidate where undefined
 * @param meshes the meshes that the bay names, by `file`: clamps are looked for room among them
 * @param options `pipe`: this one alone
 * @returns pipes in the order of the file, those not routed by their ids. `makeable` is false just where there are reasons.
 *   Faults: 'no-candidate', 'unknown-candidate', 'unknown-pipe'
 */
export function bends(
  bay: Bay,
  candidateId: string | undefined,
  _meshes: Meshes,
  options: { readonly pipe?: string } = {},
): Outcome<BendsAnswer> {
  const candidate = candidateOf(bay, candidateId)
  if (!candidate.ok) return candidate
  const asked = askedPipes(candidate.value, options.pipe)
  if (!asked.ok) return asked
  const stubs = stubsOf(candidate.value, { turn: turnMatrix(candidate.value.turn), at: candidate.value.at })
  const pipes: PipeBends[] = []
  const unrouted: string[] = []
  for (const pipe of asked.value) {
    const made = pipeBends(bay, pipe, stubs)
    if (made) pipes.push(made)
    else unrouted.push(pipe.id)
  }
  const makeable = unrouted.length === 0 && pipes.every((pipe) => pipe.makeable)
  return good({
    candidate: candidate.value.id,
    answer: makeable ? 'makeable' : 'not makeable',
    pipes,
    unrouted,
    chainLoss: null,
  })
}

function askedPipes({ pipes = [] }: Candidate, id: string | undefined): Outcome<readonly Pipe[]> {
  if (id === undefined) return good(pipes)
  const found = pipes.filter((pipe) => pipe.id === id)
  if (found.length > 0) return good(found)
  const ids = pipes.map((pipe) => pipe.id)
  const nearest = nearestName(id, ids)
  const fault: Fault = {
    code: 'unknown-pipe',
    expected: ids.length > 0 ? `one of ${ids.join(', ')}` : 'no pipe: it has none',
    got: id,
  }
  return bad(nearest === undefined ? fault : { ...fault, nearest })
}

/** null where the pipe is not routed. */
function pipeBends(bay: Bay, pipe: Pipe, stubs: readonly Stub[]): PipeBends | null {
  const from = pipeEnd(pipe, 'from', bay, stubs)
  const to = pipeEnd(pipe, 'to', bay, stubs)
  const points = from && to && pipePoints(pipe, from, to)
  if (!from || !to || !points) return null
  const tube = bay.stock?.tubes?.find(({ id }) => id === pipe.tube) ?? null
  const bending = bendingOf(bay, pipe, tube?.material ?? null)
  const elbows = elbowsOf(bay, pipe)
  const elbowAt = (point: number) => elbows.get(point)
  const made = putTogether(points, pipe, elbowAt, bending.tool, bending.springBack)
  const placed = made.ok ? { ...made.value, points } : null
  const bent = placed
    ? {
        reasons: [...elbowReasons(placed, elbowAt), ...bendReasons(pipe, placed, bending)],
        notes: bendNotes(pipe, placed, bending),
      }
    : { reasons: made.ok ? [] : made.faults.map((fault) => shapeReason(fault, points)), notes: [] }
  const { reasons } = bent
  return {
    id: pipe.id,
    name: pipe.name,
    outsideDiameter: pipe.outsideDiameter,
    wall: pipe.wall,
    bendRadius: pipe.bendRadius,
    dOfBend: pipe.bendRadius / pipe.outsideDiameter,
    material: tube?.material ?? null,
    bender: bending.bender?.name ?? null,
    makeable: reasons.length === 0,
    ...figuresOf(made),
    joints: [],
    reasons,
    notes: bent.notes,
    loss: null,
  }
}

/** By the number of the point where each is welded in. */
function elbowsOf({ stock }: Bay, { elbows = [] }: Pipe): ReadonlyMap<number, StockElbow> {
  return new Map(
    elbows.flatMap(({ corner, elbow }) => {
      const found = stock?.elbows?.find(({ id }) => id === elbow)
      return found ? [[corner + 1, found] as const] : []
    }),
  )
}

type Figures = Pick<PipeBends, 'tubes' | 'elbows' | 'table' | 'corners' | 'straights' | 'arcs' | 'developed' | 'cut'>

/** Corners that cannot be rounded leave no figures; a straight that is negative leaves none of the tubes. */
function figuresOf(made: Outcome<PutTogether>): Figures {
  if (!made.ok) return { tubes: [], elbows: [], table: [], corners: [], straights: [], arcs: [], developed: 0, cut: 0 }
  const { run, elbows } = made.value
  const { table, corners, straights, arcs, developed } = run
  const overlaps = straights.some((straight) => straight < -sameLength)
  const tubes = overlaps ? [] : made.value.tubes.map(bentTube)
  return {
    tubes,
    elbows,
    table,
    corners,
    straights,
    arcs,
    developed,
    cut: tubes.reduce((sum, { cut }) => sum + cut, 0),
  }
}

const bentTube = ({ table, straights, arcs, developed, cut, setAngles }: Tube): BentTube => ({
  table,
  straights,
  arcs,
  developed,
  cut,
  setAngles,
})

/** Faults of a bend table name their point in brackets. */
function shapeReason({ code, field, got }: Fault, points: readonly Vec3[]): PipeReason {
  const point = Number(/^\[(\d+)\]$/.exec(field ?? '')?.[1])
  if (!Number.isInteger(point)) return { code }
  return { code, point, at: points[point], ...(typeof got === 'number' && { got }) }
}
