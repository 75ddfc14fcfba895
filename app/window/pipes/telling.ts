import type { Route } from '../../../core/pipe/route/answer.ts'

type Pass = Route['passes'][number]

/**
 * What a route passes, the most telling first: what another route passes on another side, or not at all; of equally
 * telling ones the nearest.
 * @param routes all that are offered, the route itself among them
 */
export function tellingFirst(route: Pick<Route, 'passes'>, routes: readonly Pick<Route, 'passes'>[]): Pass[] {
  const isTelling = ({ keepOut, side }: Pass) =>
    routes.some(({ passes }) => !passes.some((other) => other.keepOut === keepOut && other.side === side))
  const [telling, others] = [route.passes.filter(isTelling), route.passes.filter((pass) => !isTelling(pass))]
  const nearest = (passes: readonly Pass[]) => [...passes].sort((a, b) => a.gap - b.gap)
  return [...nearest(telling), ...nearest(others)]
}
