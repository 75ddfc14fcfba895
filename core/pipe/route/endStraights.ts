import { clearance } from '../../clearance/clearance.ts'
import { solidFrom } from '../../shape/solid.ts'
import { along } from '../../shape/vec.ts'
import { inLineRad } from './certify.ts'
import type { RouteEnd, RouteObstacle, RouteProblem } from './problem.ts'

/** Bisections of the length of a straight: a thousandth of a millimetre of a metre. */
const halvings = 20
/** Beyond rounding, mm. */
const guard = 1e-6

/** How much too near the straight of an end is to an obstacle over the first `until` mm, proved; negative or 0: not proved to be. */
function breach(
  { radius }: RouteProblem,
  end: RouteEnd,
  obstacle: RouteObstacle,
  exempt: number,
  until: number,
): number {
  if (!(until > exempt + guard)) return 0
  const [from, to] = [along(end.at, end.direction, exempt), along(end.at, end.direction, until)]
  const straight = solidFrom([{ form: 'round', centreline: [{ kind: 'straight', from, to }], radius }])
  const { atMost } = clearance(straight, obstacle.solid, { upTo: obstacle.need, depth: false })
  // Leaning by what its end may deviate, the tube moves by so much at most.
  return obstacle.need - atMost - (until + radius) * inLineRad - guard
}

/** The first length at which the straight of an end is proved to be too near to something; `longest` where it is not until there, mm. */
export function clearStraight(problem: RouteProblem, name: 'from' | 'to', longest: number): number {
  const end = problem[name]
  let clear = longest
  for (const obstacle of problem.obstacles) {
    const fails = (until: number) => breach(problem, end, obstacle, obstacle.exempt[name], until) > 0
    if (!fails(clear)) continue
    let [low, high] = [0, clear]
    for (let i = 0; i < halvings; i++) {
      const middle = (low + high) / 2
      if (fails(middle)) high = middle
      else low = middle
    }
    clear = high
  }
  return clear
}

/** An end whose own straight is too near to something, so that no route can be: the obstacle and by how much, mm. */
export function endBreach(
  problem: RouteProblem,
): { readonly end: RouteEnd; readonly obstacle: string; readonly by: number } | null {
  let worst: ReturnType<typeof endBreach> = null
  for (const name of ['from', 'to'] as const)
    for (const obstacle of problem.obstacles) {
      const end = problem[name]
      const by = breach(problem, end, obstacle, obstacle.exempt[name], end.leastStraight)
      if (by > 0 && (!worst || by > worst.by)) worst = { end, obstacle: obstacle.name, by }
    }
  return worst
}
