import { writeBay } from '../../core/bay/write.ts'
import { good, type Outcome } from '../../core/fault.ts'
import type { RouteAllAnswer } from '../../core/pipe/route/answer.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import type { Io } from './io.ts'
import type { Start } from './searching.ts'

/** What became of --adopt; `missing`: not all that was to be adopted was there. */
export interface Taken {
  /** null where nothing was written. */
  readonly file: string | null
  readonly pipes: readonly { readonly pipe: string; readonly route: number }[]
  readonly missing: boolean
}

/**
 * Writes the bay with a route in the path of every pipe that has one, where that was asked for.
 * @param take which of a pipe's routes, counted from 1
 * @returns null where nobody asked. What is not there to adopt is said on stderr.
 */
export async function adoptRoutes(
  { bay, candidate, adoption }: Pick<Start, 'bay' | 'candidate' | 'adoption'>,
  answer: RouteAllAnswer,
  take: number,
  io: Io,
): Promise<Outcome<Taken | null>> {
  if (adoption === null) return good(null)
  let routed = bay
  const pipes: Taken['pipes'][number][] = []
  for (const { pipe, answer: one } of answer.pipes) {
    const route = one.routes[take - 1]
    if (!route) continue
    routed = withRoute(routed, candidate.id, pipe, route)
    pipes.push({ pipe, route: take })
  }
  const missing = pipes.length < answer.pipes.length
  if (pipes.length > 0) {
    const written = await saveAtomically(adoption, writeBay(routed))
    return written.ok ? good({ file: written.value, pipes, missing }) : written
  }
  const there = Math.max(0, ...answer.pipes.map((one) => one.answer.routes.length))
  const why = there === 0 ? 'there is no route to adopt' : `there is no route ${take}, only ${there} were found`
  io.err(`${adoption} is not written: ${why}.\n`)
  return good({ file: null, pipes, missing })
}
