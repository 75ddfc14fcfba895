import type { RouteAnswer } from '../../../core/pipe/route/answer.ts'
import { asksTheSame } from './pipes.ts'
import type { OneSearch, SearchStanding } from './searches.ts'
import { bayOf, type WindowState } from './windowState.ts'

/** The routes that were found for a pipe, of whatever bay. */
export function routesOf({ found }: OneSearch<'route'>, pipe: string): RouteAnswer | null {
  return found?.outcome.ok ? (found.outcome.value.pipes.find((each) => each.pipe === pipe)?.answer ?? null) : null
}

/**
 * How the routes of a pipe stand to the bay that is shown. They stay as good as they were when one of them is adopted, or
 * one of a pipe that was routed together with it.
 */
export function routeStanding(
  { found, running }: OneSearch<'route'>,
  state: WindowState,
  pipe: string,
): SearchStanding {
  if (running) return 'working'
  const bay = bayOf(state)
  if (!found || !bay || found.sought.candidate !== state.candidate || !found.sought.request.pipes.includes(pipe))
    return 'none'
  return asksTheSame(found.sought.bay, bay, found.sought.candidate, found.sought.request.pipes) ? 'fresh' : 'outOfDate'
}
