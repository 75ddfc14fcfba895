import { describe, expect, it } from 'vitest'
import { plainRoute } from '../../../test/kit/plainRouter.ts'
import { seeded } from '../../../test/kit/random.ts'
import { routeRoom } from '../../../test/kit/routeRooms.ts'
import type { Meshes } from '../../bay/part.ts'
import { ledger } from '../../verdict/ledger.ts'
import { bends } from '../bends.ts'
import { certify } from './certify.ts'
import { route } from './route.ts'
import { routeProblem } from './setUp.ts'
import { withRoute } from './withRoute.ts'

const nothing: Meshes = new Map()
const seeds = [101, 102, 103, 104, 105, 106, 107, 108]

/** Rooms are made anew for each question: nothing is shared between two answers. */
const roomFor = (seed: number) => routeRoom(seeded(seed)).bay

function answerFor(seed: number, routes: number) {
  const answer = route(roomFor(seed), undefined, 'run', nothing, { routes })
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

describe('routes through rooms of random things', () => {
  const answers = new Map(seeds.map((seed) => [seed, answerFor(seed, 3)]))

  it.each(seeds)('clear by the ledger, can be bent, and are certified; seed %i', (seed) => {
    const bay = roomFor(seed)
    const problem = routeProblem(bay, undefined, 'run', nothing)
    if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
    for (const found of answers.get(seed)?.routes ?? []) {
      const routed = withRoute(bay, 'only', 'run', found)
      const checked = ledger(routed, undefined, nothing)
      if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
      expect(checked.value.verdict).toBe('clears')
      expect(found.least.margin).toBe(checked.value.pairs.find(({ part }) => part === 'pipe-run')?.margin)
      const bent = bends(routed, undefined, nothing)
      expect(bent.ok && bent.value.pipes[0].reasons).toEqual([])
      expect(certify(problem.value, found.path)).toMatchObject({ valid: true, bends: found.bends })
    }
  })

  it('are found in most rooms', () => {
    const found = [...answers.values()].filter(({ routes }) => routes.length > 0)
    expect(found.length).toBeGreaterThanOrEqual(6)
  })

  it.each(seeds.slice(0, 3))('come out the same again, to the last digit; seed %i', (seed) => {
    expect(JSON.stringify(answerFor(seed, 3))).toBe(JSON.stringify(answers.get(seed)))
  })

  it('are there wherever a plain sampling planner finds one, and no dearer', () => {
    let met = 0
    for (const seed of seeds) {
      const problem = routeProblem(roomFor(seed), undefined, 'run', nothing)
      const plain = problem.ok && plainRoute(problem.value, { seed, samples: 1500 })
      if (!plain) continue
      met++
      expect(answers.get(seed)?.routes[0]?.cost ?? Infinity).toBeLessThanOrEqual(plain.cost + 1e-6)
    }
    expect(met).toBeGreaterThanOrEqual(3)
  })

  it('cost no less than what is proved', () => {
    for (const { routes, proved, weights } of answers.values())
      for (const { cost, length, bends: count } of routes) {
        expect(length).toBeGreaterThanOrEqual(proved.lengthAtLeast - 1e-7)
        expect(count).toBeGreaterThanOrEqual(proved.fewestBends)
        expect(cost).toBeGreaterThanOrEqual(proved.lengthAtLeast + weights.bend * proved.fewestBends - 1e-7)
      }
  })
})
