import type { Passage, Route, RouteAllAnswer, RouteAnswer } from '../../core/pipe/route/answer.ts'
import { passesText } from '../wording/routeWords.ts'
import type { RouteTelling } from './routeText.ts'

/**
 * The answer as one object.
 * @param flat one pipe's answer among the fields of the whole; else a list of pipes, also of one
 */
export function routeJson(telling: RouteTelling, sha256: string, flat: boolean): object {
  const { bay, candidate, answer, leftOut, taken } = telling
  const head = { command: 'route', bay: { name: bay.name, sha256 }, candidate: candidate.id }
  const pipes = answer.pipes.map((one) => ({ pipe: one.pipe, ...answerJson(telling, one.answer) }))
  const tail = { leftOut, ...(taken?.file && { adopted: { file: taken.file, pipes: taken.pipes } }) }
  if (flat) return { ...head, ...pipes[0], ...tail }
  return { ...head, answer: wholeAnswer(answer), pipes, order: answer.order, tried: answer.tried, ...tail }
}

/** Found where all are; else what stands in the way most surely. */
export function wholeAnswer({ pipes }: RouteAllAnswer): RouteAnswer['answer'] {
  const answers = pipes.map(({ answer }) => answer.answer)
  return (['closed', 'none found', 'cancelled'] as const).find((one) => answers.includes(one)) ?? 'found'
}

function answerJson(telling: RouteTelling, answer: RouteAnswer) {
  const { routes, proved, closedBy, refused, unrouted, weights, tried, stopped } = answer
  return {
    answer: answer.answer,
    routes: routes.map((route) => routeOf(telling, route)),
    proved: { ...proved, passage: proved.passage && passageJson(proved.passage) },
    ...(closedBy && { closedBy }),
    ...(refused && { refused }),
    ...(unrouted && { unrouted }),
    weights,
    tried,
    stopped,
  }
}

const routeOf = ({ bay, candidate, units }: RouteTelling, route: Route) => {
  const { path, bendRadius, length, bends, cost, least, passes } = route
  const words = passesText(bay, candidate.id, route, units)
  return { path, bendRadius, length, bends, cost, least, words, passes }
}

/** JSON has no infinity: what is not known is null. */
const known = (spare: number): number | null => (Number.isFinite(spare) ? spare : null)
const passageJson = ({ spareAtLeast, spareAtMost, at, between }: Passage) => ({
  spareAtLeast: known(spareAtLeast),
  spareAtMost: known(spareAtMost),
  at,
  between,
})
