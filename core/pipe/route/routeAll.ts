import type { Meshes } from '../../bay/part.ts'
import type { Bay, Candidate } from '../../bay/schema.ts'
import { bad, good, type Outcome } from '../../fault.ts'
import { candidateOf } from '../../verdict/ledger.ts'
import { LedgerMemory } from '../../verdict/memory.ts'
import type { Route, RouteAllAnswer, RouteAnswer, RouteRequest } from './answer.ts'
import { judged } from './judge.ts'
import { route, type RouteHooks } from './route.ts'
import { withRoute } from './withRoute.ts'

/** One order tried: what each pipe answered, and the bay with the best routes in it. */
interface Round {
  readonly order: readonly string[]
  readonly answers: ReadonlyMap<string, RouteAnswer>
  readonly bay: Bay
  readonly found: number
  readonly cost: number
}

/**
 * Routes several pipes one after the other, each clear of the best routes of those before it; in the order given and in
 * its reverse.
 * @param pipeIds one or more, each once; pipes not among them stand where they are
 * @param request as for `route`, for each pipe. `progress` counts the pipes of all orders together: the cost in hand is that
 *   of the order at work, the bound that of its pipes so far
 * @returns of the orders tried that with most pipes found, then with the least cost in all, then the one given; the pipes as
 *   they were asked for. Routes of earlier pipes that a later pipe's best route does not clear are left out.
 *   Faults: those of `route`, 'no-pipe' for an empty list
 */
export function routeAll(
  bay: Bay,
  candidateId: string | undefined,
  pipeIds: readonly string[],
  meshes: Meshes,
  request: RouteRequest & RouteHooks = {},
): Outcome<RouteAllAnswer> {
  const found = candidateOf(bay, candidateId)
  if (!found.ok) return found
  const pipes = [...new Set(pipeIds)]
  if (pipes.length === 0)
    return bad({ code: 'no-pipe', item: found.value.id, field: 'candidates', expected: 'at least one pipe' })
  const memory = request.memory ?? new LedgerMemory()
  const orders = pipes.length > 1 ? [pipes, [...pipes].reverse()] : [pipes]
  const rounds: Round[] = []
  for (const order of orders) {
    const round = routedInOrder(bay, found.value, order, meshes, { ...request, memory })
    if (!round.ok) return round
    rounds.push(round.value)
    if (wasStopped(round.value)) break
  }
  const best = rounds.reduce((a, b) => (b.found > a.found || (b.found === a.found && b.cost < a.cost) ? b : a))
  return good({
    order: best.order,
    pipes: pipes.map((pipe) => ({ pipe, answer: agreed(best, pipe, found.value, meshes, memory) })),
    tried: rounds.map(({ order, found, cost }) => ({ order, found, cost })),
  })
}

const wasStopped = ({ answers }: Round): boolean => [...answers.values()].some(({ stopped }) => stopped !== 'done')

function routedInOrder(
  bay: Bay,
  candidate: Candidate,
  order: readonly string[],
  meshes: Meshes,
  request: RouteRequest & RouteHooks,
): Outcome<Round> {
  const answers = new Map<string, RouteAnswer>()
  let [done, found, cost, bound] = [bay, 0, 0, 0]
  for (const [turn, pipe] of order.entries()) {
    // Pipes whose turn has not come are nowhere, also where they have a path already.
    const alone = withoutPipes(done, candidate, order.slice(turn + 1))
    const [before, boundBefore] = [cost, bound]
    const progress = (inHand: number, least: number) => request.progress?.(before + inHand, boundBefore + least)
    const answer = route(alone, candidate.id, pipe, meshes, { ...request, progress })
    if (!answer.ok) return answer
    answers.set(pipe, answer.value)
    const { routes, proved, weights } = answer.value
    bound += proved.lengthAtLeast + weights.bend * proved.fewestBends
    const [best] = routes
    // A present path that does not clear is in nobody's way.
    if (!best) done = withoutPipes(done, candidate, [pipe])
    else [found, cost, done] = [found + 1, cost + best.cost, withRoute(done, candidate.id, pipe, best)]
  }
  return good({ order, answers, bay: done, found, cost })
}

function withoutPipes(bay: Bay, { id }: Candidate, gone: readonly string[]): Bay {
  const less = (candidate: Candidate): Candidate => ({
    ...candidate,
    pipes: candidate.pipes?.filter((pipe) => !gone.includes(pipe.id)),
  })
  return { ...bay, candidates: bay.candidates.map((each) => (each.id === id ? less(each) : each)) }
}

/** The routes of a pipe that clear where all others now are, with what the ledger says of them there. */
function agreed({ answers, bay }: Round, pipeId: string, { id }: Candidate, meshes: Meshes, memory: LedgerMemory) {
  const answer = answers.get(pipeId) as RouteAnswer
  const candidate = bay.candidates.find((each) => each.id === id)
  const pipe = candidate?.pipes?.find((each) => each.id === pipeId)
  if (!candidate || !pipe || answers.size < 2) return answer
  const routes = answer.routes.flatMap((found): Route[] => {
    const now = judged({ bay, candidate, pipe: { ...pipe, bendRadius: found.bendRadius }, meshes, memory }, found.path)
    return now ? [{ ...found, least: now.least, passes: now.passes }] : []
  })
  return { ...answer, routes }
}
