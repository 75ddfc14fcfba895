import type { Meshes } from '../../bay/part.ts'
import { candidateParts } from '../../bay/parts.ts'
import type { Bay, Candidate, Pipe } from '../../bay/schema.ts'
import { good, type Outcome } from '../../fault.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { candidateOf } from '../../verdict/ledger.ts'
import { LedgerMemory } from '../../verdict/memory.ts'
import type { PipeReason } from '../answer.ts'
import { bendingOf, missingDie } from '../makeable.ts'
import type { ClosedBy, Passage, Route, RouteAnswer, RouteProofs, RouteRequest } from './answer.ts'
import { judged } from './judge.ts'
import { marginAt } from './margin.ts'
import { polish } from './polish.ts'
import { type FoundRoute, Pool } from './pool.ts'
import type { Corners, RouteProblem, Stop } from './problem.ts'
import { proveRoute } from './proofs.ts'
import { RouteSearch } from './search.ts'
import { routeProblem } from './setUp.ts'
import { type Weights, weightsOf } from './weights.ts'
import { withRoute } from './withRoute.ts'
import { Work } from './work.ts'

/** What goes with a request, but cannot be written into one. */
export interface RouteHooks {
  /** Breaks the search off; it ends with the best so far and what is proved. */
  readonly stop?: Stop
  /** Told the cost of the best route (Infinity: none yet) and what no route costs less than, mm. */
  readonly progress?: (inHand: number, bound: number) => void
  /** That of a ledger, so that solids are not made anew. */
  readonly memory?: LedgerMemory
}

const defaultRoutes = 5

/**
 * Looks for centrelines of one pipe from port to port that clear everything by the ledger and that its bender can bend,
 * and proves what can be proved beside them.
 * @param candidateId the first candidate where undefined
 * @param pipeId its present path is one of the starts
 * @param meshes the meshes that the bay names, by `file`
 * @param request how many routes, clearly different from each other; what a bend and a loss coefficient count; whether other
 *   radii than the pipe's own are tried
 * @returns routes best first, each of which clears by `ledger` and can be bent by `bends`, joints apart. 'closed' where it
 *   is proved that no tube of this diameter and clearance gets through; 'none found' proves nothing. Broken off, it holds
 *   what was found until then. Pipes without a path are nowhere: a route need not keep clear of where they will be.
 *   Where several radii are tried, what is proved holds for all of them.
 *   Faults: those of the ledger, 'unknown-pipe', 'bend-too-tight'
 * Work is counted: the same bay gives the same routes on every machine, unless `stop` breaks it off.
 */
export function route(
  bay: Bay,
  candidateId: string | undefined,
  pipeId: string,
  meshes: Meshes,
  request: RouteRequest & RouteHooks = {},
): Outcome<RouteAnswer> {
  const memory = request.memory ?? new LedgerMemory()
  const candidate = candidateOf(bay, candidateId)
  if (!candidate.ok) return candidate
  const own = routeProblem(bay, candidate.value.id, pipeId, meshes, memory)
  if (!own.ok) return own
  const pipe = candidate.value.pipes?.find(({ id }) => id === pipeId) as Pipe
  const job: Job = { bay, candidate: candidate.value, meshes, memory, request, work: new Work(request.stop ?? noStop) }
  const questions = [questionOf(job, pipe, own.value), ...otherRadii(job, pipe)]
  const [{ weights }] = questions
  const unrouted = othersUnrouted(job, pipe)
  const [{ refused }] = questions
  const answer = {
    proved: holdsForAll(questions.map(({ proved }) => proved)),
    ...(refused && questions.every((question) => question.refused) && { refused }),
    ...(unrouted.length > 0 && { unrouted }),
    weights: { bend: weights.bend, loss: weights.loss },
  }
  const [{ closedBy }] = questions
  if (closedBy && questions.every((question) => question.closedBy))
    return good({ answer: 'closed', routes: [], closedBy, tried: 0, stopped: 'done', ...answer })
  const { routes, tried } = searched(job, questions.filter(isWorthSearching))
  const { ended } = job.work
  return good({
    answer: routes.length > 0 ? 'found' : ended === 'cancelled' ? 'cancelled' : 'none found',
    routes,
    tried,
    stopped: ended ?? 'done',
    ...answer,
  })
}

const noStop: Stop = () => null

/** A straight pipe needs no die. */
const isWorthSearching = ({ refused, proved }: Question): boolean => !refused || proved.fewestBends === 0

interface Job {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly meshes: Meshes
  readonly memory: LedgerMemory
  readonly request: RouteRequest & RouteHooks
  readonly work: Work
}

function othersUnrouted({ bay, candidate, memory }: Job, { id }: Pipe): readonly string[] {
  // The pipe's own present path may be one that cannot be rounded: it does not count.
  const others = { ...candidate, pipes: candidate.pipes?.filter((pipe) => pipe.id !== id) }
  const made = candidateParts(bay, others, memory.workshop)
  return made.ok ? made.value.unrouted : []
}

/** A problem with one radius, and what is proved of it. */
interface Question {
  readonly pipe: Pipe
  readonly problem: RouteProblem
  readonly weights: Weights
  readonly proved: RouteProofs
  readonly closedBy: ClosedBy | undefined
  /** Why the bender can make no bend of it, wherever it lies. */
  readonly refused: PipeReason | null
  /** What the proofs came across: a route of fewest bends, and a way that is open, bends aside. */
  readonly simplest: Corners | null
  readonly way: readonly Vec3[]
  /** No route costs less, mm. */
  readonly bound: number
}

function questionOf({ bay, request, work }: Job, pipe: Pipe, problem: RouteProblem): Question {
  const weights = weightsOf(pipe, request)
  const proof = proveRoute(problem, { stop: () => (work.asks() ? work.ended : null) })
  const { closedBy, fewestBends, lengthAtLeast, passage, simplest, way } = proof
  const proved: RouteProofs = { fewestBends, lengthAtLeast, passage }
  const bound = proved.lengthAtLeast + proved.fewestBends * weights.ofBend(0)
  const refused = missingDie(pipe, bendingOf(bay, pipe, null))
  return { pipe, problem, weights, proved, closedBy, refused, simplest, way, bound }
}

/** Where all radii are asked for: the same with each other one that the bender has, the smallest first. */
function otherRadii(job: Job, pipe: Pipe): Question[] {
  const { bay, candidate, meshes, memory, request } = job
  const radii = request.radii === 'all' ? (bendingOf(bay, pipe, null).tool?.radii ?? []) : []
  const others = radii.filter((each) => each !== pipe.bendRadius && each >= pipe.outsideDiameter / 2)
  return others
    .sort((a, b) => a - b)
    .flatMap((bendRadius) => {
      const changed = withRoute(bay, candidate.id, pipe.id, { path: pipe.path, bendRadius })
      const problem = routeProblem(changed, candidate.id, pipe.id, meshes, memory)
      return problem.ok ? [questionOf(job, { ...pipe, bendRadius }, problem.value)] : []
    })
}

function holdsForAll(proofs: readonly RouteProofs[]): RouteProofs {
  return {
    fewestBends: Math.min(...proofs.map(({ fewestBends }) => fewestBends)),
    lengthAtLeast: Math.min(...proofs.map(({ lengthAtLeast }) => lengthAtLeast)),
    passage: proofs.map(({ passage }) => passage).reduce(wider),
  }
}

/** The box that is searched grows with the radius, and what is not known of one is not known of all. */
const wider = (a: Passage | null, b: Passage | null): Passage | null =>
  a && b ? (b.spareAtMost > a.spareAtMost ? b : a) : null

function searched(job: Job, questions: readonly Question[]): { routes: Route[]; tried: number } {
  const { request } = job
  if (questions.length === 0) return { routes: [], tried: 0 }
  const bound = Math.min(...questions.map((question) => question.bound))
  const all = new Pool(questions[0].pipe.outsideDiameter)
  const radii = new Map<FoundRoute, number>()
  request.progress?.(Infinity, bound)
  let tried = 0
  for (const question of questions) {
    const before = all.best
    const told = (cost: number) => request.progress?.(Math.min(cost, before), bound)
    const search = searchOf(job, question, told)
    for (const route of search.run()) {
      radii.set(route, question.pipe.bendRadius)
      all.add(route)
    }
    tried += search.tried
  }
  const offered = all.offered(request.routes ?? defaultRoutes)
  return { tried, routes: offered.map((route) => routeOf(route, radii.get(route) as number)) }
}

function searchOf(
  { bay, candidate, meshes, memory, request, work }: Job,
  { pipe, problem, weights, proved, simplest, way }: Question,
  told: (cost: number) => void,
): RouteSearch {
  const polishing = { bendWeight: weights.bend, ofBend: weights.ofBend, dropBends: false }
  const stop: Stop = () => (work.asks() ? work.ended : null)
  return new RouteSearch(problem, {
    want: request.routes ?? defaultRoutes,
    weights,
    fewestBends: proved.fewestBends,
    starts: [pipe.path, simplest ?? []].filter((corners) => corners.length > 0),
    way,
    marginAt: (point, upTo) => Math.min(upTo, marginAt(problem, point, upTo).atMost),
    polish: (corners, balls) => polish(problem, corners, { ...polishing, balls, stop }),
    judge: (corners) => judged({ bay, candidate, pipe, meshes, memory }, corners),
    work,
    told,
  })
}

function routeOf({ corners, length, bends, cost, judged: { least, passes } }: FoundRoute, bendRadius: number): Route {
  return { path: corners, bendRadius, length, bends, cost, least, passes }
}
