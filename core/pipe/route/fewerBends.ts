import { bentAlong } from './pool.ts'
import type { Corners, RouteProblem } from './problem.ts'
import type { Weights } from './weights.ts'

/**
 * Leaves out corners one by one, polished anew each time, as long as the route grows cheaper.
 * @param fewest no fewer bends are possible: nothing is tried below
 * @returns the corners as they were where nothing is won
 */
export function fewerBends(
  problem: RouteProblem,
  weights: Weights,
  corners: Corners,
  fewest: number,
  polish: (corners: Corners) => Corners | null,
): Corners {
  const costOf = (each: Corners) => bentAlong(problem, weights, each)?.cost ?? Infinity
  let [best, cost] = [corners, costOf(corners)]
  // The first and the last corner lie on the ports' lines: two are the least that can be polished.
  while (best.length > Math.max(2, fewest)) {
    const before = best
    for (let out = 1; out + 1 < before.length; out++) {
      const fewer = polish(before.filter((_, k) => k !== out))
      const less = fewer ? costOf(fewer) : Infinity
      if (fewer && less < cost - 1e-6) [best, cost] = [fewer, less]
    }
    if (best === before) break
  }
  return best
}
