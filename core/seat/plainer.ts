import type { SeatSearch } from './search.ts'
import { isWayOut, shorten, withPush } from './shorten.ts'
import type { Step } from './steps.ts'
import { leastOf, tune, type Tuned } from './tune.ts'

/** Of every way that is tried, mm: it only has to be one. */
const hair = 0.005

/**
 * The same margin, nearly, in fewer and plainer moves: those that it does not live on are left out, the others tuned anew;
 * nobody turns a part by 2° for nothing.
 */
export function plainer(
  search: SeatSearch,
  from: Tuned,
  { seed, ceiling, until }: { seed: number; ceiling: number; until: number },
): Tuned {
  const enough = Math.max(hair, from.margin - Math.max(0.1, 0.05 * from.margin))
  let now = from
  for (let again = true; again && now.steps.length > 1; ) {
    again = false
    for (const steps of withOneLess(search, now.steps)) {
      if (search.work.isOver(until)) break
      const tuned = tune(search, steps, { seed, margin: hair, trials: 200, ceiling, until })
      if (tuned.margin < enough) continue
      now = tuned
      again = true
      break
    }
  }
  const steps = shorten(search, now.steps, enough, until)
  return { steps, margin: Math.max(enough, leastOf(search, steps)) }
}

function* withOneLess(search: SeatSearch, steps: readonly Step[]): Generator<readonly Step[]> {
  for (let i = 0; i < steps.length - 1; i++) {
    const made = withPush(search, [...steps.slice(0, i), ...steps.slice(i + 1)])
    if (isWayOut(search, made, hair)) yield made
  }
}
