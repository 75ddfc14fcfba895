import { nearestName } from '../bay/nearest.ts'
import type { Meshes } from '../bay/part.ts'
import { pipeEnd, pipePoints, stubsOf } from '../bay/pipeEnds.ts'
import type { Stub } from '../bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../bay/schema.ts'
import { Workshop } from '../bay/workshop.ts'
import type { StockElbow } from '../bay/workshopSchema.ts'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { turnMatrix, type Vec3 } from '../shape/vec.ts'
import { candidateOf } from '../verdict/ledger.ts'
import type { BendsAnswer, BentTube, JointAnswer, PipeBends, PipeReason } from './answer.ts'
import { type ClampObstacles, clampObstacles } from './clampObstacles.ts'
import type { JointedPipe } from './jointAsked.ts'
import { judgeJoints } from './jointJudged.ts'
import { chainLoss } from './loss.ts'
import { bendNotes, bendReasons, bendingOf, elbowReasons } from './makeable.ts'
import { flowLoss } from './pipeFlow.ts'
import { type PutTogether, putTogether, sameLength, type Tube } from './tubes.ts'

/**
 * How the pipes of a candidate are bent and joined, every reason why one cannot be, and what they lose.
 * @param bay as read or edited; it must pass `checkBay`
 * @param candidateId the first candidate where undefined
 * @param meshes the meshes that the bay names, by `file`: clamps are looked for room among them
 * @param options `pipe`: this one alone; `workshop`: keeps solids of unchanged parts from one call to the next
 * @returns pipes in the order of the file, those not routed by their ids; bay frame, mm. `makeable` is false just where
 *   there are reasons. `chainLoss` is of the pipes that were asked for, those between them that are not routed unknown.
 *   Faults: 'no-candidate', 'unknown-candidate', 'unknown-pipe', and where clamps name tools those of solids that cannot
 *   be made ('mesh-missing' …)
 */
export function bends(
  bay: Bay,
  candidateId: string | undefined,
  meshes: Meshes,
  { pipe: only, workshop = new Workshop() }: { readonly pipe?: string; readonly workshop?: Workshop } = {},
): Outcome<BendsAnswer> {
  const candidate = candidateOf(bay, candidateId)
  if (!candidate.ok) return candidate
  const asked = askedPipes(candidate.value, only)
  if (!asked.ok) return asked
  const obstacles = clampObstacles(bay, candidate.value, meshes, workshop)
  if (!obstacles.ok) return obstacles
  const turn = turnMatrix(candidate.value.turn)
  const stubs = stubsOf(candidate.value, { turn, at: candidate.value.at })
  const pipes: PipeBends[] = []
  const unrouted: string[] = []
  for (const pipe of asked.value) {
    const placed = placedPipe(bay, candidate.value, pipe, stubs)
    if (placed) pipes.push(pipeBends(placed, obstacles.value))
    else unrouted.push(pipe.id)
  }
  const makeable = unrouted.length === 0 && pipes.every((pipe) => pipe.makeable)
  return good({
    candidate: candidate.value.id,
    answer: makeable ? 'makeable' : 'not makeable',
    pipes,
    unrouted,
    chainLoss: unrouted.length > 0 ? null : chainLoss(pipes.map(({ loss }) => loss)),
  })
}

/** The pipe of that id, or all; a fault that names the nearest where there is none. */
export function askedPipes({ pipes = [] }: Candidate, id: string | undefined): Outcome<readonly Pipe[]> {
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

/** A routed pipe, its corners not yet looked at. */
type PlacedPipe = Omit<JointedPipe, 'straights'>

function placedPipe(bay: Bay, candidate: Candidate, pipe: Pipe, stubs: readonly Stub[]): PlacedPipe | null {
  const from = pipeEnd(pipe, 'from', bay, stubs)
  const to = pipeEnd(pipe, 'to', bay, stubs)
  const points = from && to && pipePoints(pipe, from, to)
  return points ? { bay, candidate, pipe, from, to, points } : null
}

function pipeBends(placed: PlacedPipe, obstacles: ClampObstacles): PipeBends {
  const { bay, pipe, points } = placed
  const material = bay.stock?.tubes?.find(({ id }) => id === pipe.tube)?.material ?? null
  const bending = bendingOf(bay, pipe, material)
  const elbows = elbowsOf(bay, pipe)
  const elbowAt = (point: number) => elbows.get(point)
  const made = putTogether(points, pipe, elbowAt, bending.tool, bending.springBack)
  const bent = made.ok ? { ...made.value, points } : null
  const jointed: JointedPipe = { ...placed, straights: bent?.run.straights ?? null }
  const judged = judgeJoints(jointed, obstacles)
  const loss = bent && flowLoss(jointed, bent.run)
  const reasons = [
    ...(made.ok ? [] : made.faults.map((fault) => shapeReason(fault, points))),
    ...(bent ? [...elbowReasons(bent, elbowAt), ...bendReasons(pipe, bent, bending)] : []),
    ...judged.joints.flatMap((joint) => backwards(joint, placed)),
    ...judged.reasons,
  ]
  return {
    id: pipe.id,
    name: pipe.name,
    outsideDiameter: pipe.outsideDiameter,
    wall: pipe.wall,
    bendRadius: pipe.bendRadius,
    dOfBend: pipe.bendRadius / pipe.outsideDiameter,
    material,
    bender: bending.bender?.name ?? null,
    makeable: reasons.length === 0,
    ...figuresOf(made),
    joints: judged.joints,
    reasons,
    notes: [...(bent ? bendNotes(pipe, bent, bending) : []), ...judged.notes, ...(loss?.notes ?? [])],
    loss,
  }
}

/** Further off than this a pipe's first leg runs back past its port, degrees. */
const sideways = 90

function backwards({ end, angle = 0, port }: JointAnswer, { from, to, points }: PlacedPipe): PipeReason[] {
  if (angle <= sideways) return []
  const [at, point] = end === 'from' ? [from.at, 1] : [to.at, points.length - 2]
  return [{ code: 'port-behind', end, at, point, got: angle, of: port }]
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
