import { describe, expect, test } from 'vitest'
import { certify } from '../../core/pipe/route/certify.ts'
import { routeProblem } from '../../core/pipe/route/setUp.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { type Corridor, freeRun, shortestRun } from './corridors.ts'
import { plainRoute } from './plainRouter.ts'
import { keepOut } from './tinyBay.ts'

const problemOf = ({ bay, candidate, pipe }: Corridor) => {
  const problem = routeProblem(bay, candidate, pipe, new Map())
  if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
  return problem.value
}
const free = freeRun(600, 150)
const long = freeRun(1200, 150)
/** A post between the two ports, in the way of the shortest curve. */
const withPost: Corridor = {
  ...long,
  bay: { ...long.bay, keepOuts: [keepOut('post', { kind: 'box', at: [600, 75, 0], size: [40, 160, 160] })] },
}

describe('the plain router', () => {
  test('finds a way where nothing is in it, and none that is shorter than the shortest', () => {
    const problem = problemOf(free)
    for (const seed of [1, 2, 3]) {
      const found = plainRoute(problem, { seed, samples: 2000, first: true })
      if (!found) throw new Error(`seed ${seed} found nothing`)
      const { valid, length, bends } = certify(problem, found.corners)
      expect(valid).toBe(true)
      expect(length).toBeGreaterThanOrEqual(shortestRun(600, 150) - 1e-6)
      expect(found.cost).toBeCloseTo(length + 100 * bends, 9)
    }
  })

  test('goes round a post, as the ledger agrees', () => {
    const corridor = withPost
    const found = plainRoute(problemOf(corridor), { seed: 5, samples: 5000, first: true })
    if (!found) throw new Error('found nothing')
    const routed = withRoute(corridor.bay, corridor.candidate, corridor.pipe, { path: found.corners, bendRadius: 90 })
    expect(ledger(routed, undefined, new Map())).toMatchObject({ ok: true, value: { verdict: 'clears' } })
  })

  test('the same seed finds the same; more samples find none that is dearer', () => {
    const problem = problemOf(free)
    const few = plainRoute(problem, { seed: 7, samples: 1000 })
    expect(plainRoute(problem, { seed: 7, samples: 1000 })).toEqual(few)
    const more = plainRoute(problem, { seed: 7, samples: 3000 })
    expect(more?.cost).toBeLessThanOrEqual(few?.cost ?? 0)
  })

  test('finds nothing where a port is shut in, and ends when told to', () => {
    const shut = { ...free.bay, keepOuts: [keepOut('lid', { kind: 'box', at: [90, 0, 0], size: [20, 400, 400] })] }
    const problem = problemOf({ ...free, bay: shut })
    expect(plainRoute(problem, { seed: 1, samples: 300 })).toBeNull()
    let asked = 0
    const stop = () => ++asked > 10
    expect(plainRoute(problem, { seed: 1, samples: 1e9, stop })).toBeNull()
    expect(asked).toBe(11)
  })
})
