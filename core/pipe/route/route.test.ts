import { beforeAll, describe, expect, it } from 'vitest'
import { cornerCorridor, doubleCorridor, freeRun, shortestRun, slotCorridor } from '../../../test/kit/corridors.ts'
import type { Corridor } from '../../../test/kit/corridors.ts'
import { keepOut } from '../../../test/kit/tinyBay.ts'
import type { Meshes } from '../../bay/part.ts'
import type { Bay } from '../../bay/schema.ts'
import { ledger } from '../../verdict/ledger.ts'
import { bends } from '../bends.ts'
import type { RouteAnswer, RouteRequest } from './answer.ts'
import { alike, pointsAlong } from './likeness.ts'
import { bentAlong } from './pool.ts'
import { type RouteHooks, route } from './route.ts'
import { routeProblem } from './setUp.ts'
import { weightsOf } from './weights.ts'
import { withRoute } from './withRoute.ts'

const nothing: Meshes = new Map()

function answerOf({ bay, candidate, pipe }: Corridor, request: RouteRequest & RouteHooks = {}): RouteAnswer {
  const answer = route(bay, candidate, pipe, nothing, request)
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

/** Everyone's word: each route put into its pipe clears by the ledger, and can be bent. */
function holds({ bay, candidate, pipe }: Corridor, { routes, proved }: RouteAnswer): void {
  for (const found of routes) {
    const routed = withRoute(bay, candidate, pipe, found)
    const checked = ledger(routed, candidate, nothing)
    if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
    const rows = checked.value.pairs.filter(({ part, keepOut }) => [part, keepOut].includes(`pipe-${pipe}`))
    expect(rows.length).toBeGreaterThan(0)
    for (const { verdict } of rows) expect(verdict).toBe('clears')
    expect(found.least.margin).toBe(Math.min(...rows.map(({ margin }) => margin)))
    const bent = bends(routed, candidate, nothing, { pipe })
    if (!bent.ok) throw new Error(JSON.stringify(bent.faults))
    // The ports of the free run are of another size: that is a matter of joints.
    expect(bent.value.pipes[0].reasons.filter(({ code }) => code !== 'diameters-differ')).toEqual([])
    expect(bent.value.pipes[0].developed).toBeCloseTo(found.length, 6)
    expect(bent.value.pipes[0].arcs).toHaveLength(found.bends)
    expect(found.bends).toBeGreaterThanOrEqual(proved.fewestBends)
    expect(found.length).toBeGreaterThanOrEqual(proved.lengthAtLeast)
  }
  const costs = routes.map(({ cost }) => cost)
  expect(costs).toEqual([...costs].sort((a, b) => a - b))
}

/** No two of them are the same way. */
function differ({ bay, candidate, pipe }: Corridor, { routes }: RouteAnswer): void {
  const problem = routeProblem(bay, candidate, pipe, nothing)
  const tube = bay.candidates[0].pipes?.find(({ id }) => id === pipe)
  if (!problem.ok || !tube) throw new Error('no problem')
  const ways = routes.map(({ path }) => pointsAlong(bentAlong(problem.value, weightsOf(tube, {}), path)?.pieces ?? []))
  for (const [i, way] of ways.entries())
    for (const other of ways.slice(0, i)) expect(alike(way, other, tube.outsideDiameter)).toBe(false)
}

describe('corridors that have a tenth of a millimetre to spare', () => {
  // Costs of long runs of another program with the same method, on the same walls: 1540.24 and 1056.69.
  it.each([
    ['one turn', cornerCorridor(0.1), 1540.24],
    ['two turns', doubleCorridor(0.1), 1822.9],
    ['slot', slotCorridor(0.1), 1056.7],
  ])('%s: found, and as cheap as long runs come to', (_, corridor, cost) => {
    const answer = answerOf(corridor, { routes: 2 })
    expect(answer).toMatchObject({ answer: 'found', stopped: 'done' })
    expect(answer.routes[0].cost).toBeLessThan(1.001 * cost)
    expect(answer.routes[0].least.margin).toBeLessThan(0.1)
    holds(corridor, answer)
    differ(corridor, answer)
  })
})

describe('corridors that lack a tenth of a millimetre', () => {
  it.each([
    ['one turn', cornerCorridor(-0.1)],
    ['two turns', doubleCorridor(-0.1)],
  ])('%s: none found, and not said to be impossible', (_, corridor) => {
    const answer = answerOf(corridor)
    expect(answer).toMatchObject({ answer: 'none found', routes: [], stopped: 'done' })
    expect(answer.tried).toBeGreaterThan(10)
    // A hose would go through: it is the bend that does not.
    expect(answer.proved.passage?.spareAtLeast).toBeGreaterThan(0)
  })

  it('a slot: proved to be closed, between its two sides', () => {
    const { answer, routes, tried, proved } = answerOf(slotCorridor(-0.1))
    expect({ answer, routes, tried }).toEqual({ answer: 'closed', routes: [], tried: 0 })
    expect(proved.passage?.spareAtMost).toBeLessThan(0)
    expect(proved.passage?.spareAtMost).toBeGreaterThan(-0.0501)
    expect([...(proved.passage?.between ?? [])].sort()).toEqual(['lower', 'upper'])
  })
})

describe('free of everything', () => {
  const corridor = freeRun(600, 150)
  const answer = answerOf(corridor)

  it('the best route is the shortest curve there is, and others are different ways', () => {
    expect(answer.routes[0].length).toBeCloseTo(shortestRun(600, 150), 4)
    expect(answer.routes[0].bends).toBe(2)
    expect(answer.routes).toHaveLength(5)
    holds(corridor, answer)
    differ(corridor, answer)
  })

  it('the same again is the same, to the last digit', () => {
    expect(JSON.stringify(answerOf(corridor))).toBe(JSON.stringify(answer))
  })

  it('ports in line take a straight', () => {
    const { routes } = answerOf(freeRun(600, 0), { routes: 1 })
    expect(routes).toMatchObject([{ path: [], bends: 0, length: 600, cost: 600 }])
  })
})

describe('a present path', () => {
  it('is one of the starts, and not an obstacle', () => {
    const corridor = cornerCorridor(0.1)
    const [best] = answerOf(corridor, { routes: 1 }).routes
    const bay = withRoute(corridor.bay, corridor.candidate, corridor.pipe, best)
    const again = answerOf({ ...corridor, bay }, { routes: 1 }).routes
    expect(again[0].cost).toBeLessThan(best.cost + 1e-3)
  })

  it('that clears nothing does no harm', () => {
    const corridor = slotCorridor(0.1)
    const bay = withRoute(corridor.bay, corridor.candidate, corridor.pipe, { path: [[0, 0, 0]], bendRadius: 60 })
    expect(answerOf({ ...corridor, bay }, { routes: 1 }).answer).toBe('found')
  })
})

describe('a wall close behind a port', () => {
  it('is in nobody’s way: the tube ends flat', () => {
    const { bay, candidate, pipe } = freeRun(600, 150)
    const at: [number, number, number] = [-56, 0, 0]
    // 6 mm behind the port, of which 5 are asked for; as a line's end the tube would be in it by half its diameter.
    const wall = keepOut('wall', { kind: 'box', at, size: [100, 400, 400] }, { clearance: 5 })
    const corridor = { bay: { ...bay, keepOuts: [wall] }, candidate, pipe }
    const answer = answerOf(corridor, { routes: 2 })
    expect(answer.routes).toHaveLength(2)
    expect(answer.routes[0].least.margin).toBeCloseTo(1, 6)
    holds(corridor, answer)
  })
})

describe('other radii of the bender', () => {
  const wide = slotCorridor(0.1)
  const [tool] = wide.bay.benders?.[0].tools ?? []
  const benders = [{ id: 'shop', name: 'Shop bender', tools: [{ ...tool, radii: [60, 45, 90] }] }]
  const corridor = { ...wide, bay: { ...wide.bay, benders } }

  it('are not taken unless asked for', () => {
    const { routes } = answerOf(corridor, { routes: 2 })
    expect(routes.map(({ bendRadius }) => bendRadius)).toEqual([60, 60])
  })

  it('are tried where asked for, and each route names its own', () => {
    const answer = answerOf(corridor, { routes: 3, radii: 'all' })
    const own = answerOf(corridor, { routes: 1 })
    expect(answer.routes[0].bendRadius).toBe(45)
    expect(answer.routes[0].cost).toBeLessThan(own.routes[0].cost)
    holds(corridor, answer)
  })
})

describe('weights', () => {
  it('with bends cheap the route is no longer, with bends dear it has no more of them', () => {
    const corridor = cornerCorridor(30)
    const [cheap] = answerOf(corridor, { routes: 1, bendWeight: 1 }).routes
    const [dear] = answerOf(corridor, { routes: 1, bendWeight: 1000 }).routes
    expect(cheap.length).toBeLessThanOrEqual(dear.length + 1e-6)
    expect(dear.bends).toBeLessThanOrEqual(cheap.bends)
    expect(dear.cost).toBeCloseTo(dear.length + 1000 * dear.bends, 6)
  })

  it('of loss enter the cost', () => {
    const answer = answerOf(freeRun(600, 150), { routes: 1, lossWeight: 500 })
    expect(answer.weights).toEqual({ bend: 100, loss: 500 })
    const [{ cost, length, bends: count }] = answer.routes
    expect(cost).toBeGreaterThan(length + 100 * count + 10)
  })
})

describe('bad questions', () => {
  const { bay }: { bay: Bay } = freeRun(600, 150)

  it('name the candidate or the pipe', () => {
    expect(route(bay, 'other', 'run', nothing)).toMatchObject({ ok: false, faults: [{ code: 'unknown-candidate' }] })
    expect(route(bay, undefined, 'rum', nothing)).toMatchObject({
      ok: false,
      faults: [{ code: 'unknown-pipe', nearest: 'run' }],
    })
  })
})

describe('breaking off', () => {
  const corridor = cornerCorridor(0.1)
  let polls = 0
  beforeAll(() => {
    answerOf(corridor, {
      stop: () => {
        polls++
        return null
      },
    })
  })

  it('is asked about often', () => {
    expect(polls).toBeGreaterThan(200)
  })

  it.each([0, 0.03, 0.2, 0.5, 0.8, 0.97])('after %d of all polls leaves an answer that holds', (share) => {
    const after = Math.floor(share * polls)
    let count = 0
    const answer = answerOf(corridor, { stop: () => (count++ >= after ? 'cancelled' : null) })
    expect(answer.stopped).toBe('cancelled')
    expect(answer.answer).toBe(answer.routes.length > 0 ? 'found' : 'cancelled')
    holds(corridor, answer)
    if (share === 0) expect(answer.routes).toEqual([])
    if (share > 0.9) expect(answer.routes.length).toBeGreaterThan(0)
    // Once told, it does not go on.
    expect(count - after).toBeLessThan(30)
  })

  it('by the clock with nothing in hand says that none was found', () => {
    expect(answerOf(corridor, { stop: () => 'time' })).toMatchObject({
      answer: 'none found',
      stopped: 'time',
      routes: [],
    })
  })
})

describe('progress', () => {
  it('tells a cost that never rises and a bound that holds, also while nothing better is found', () => {
    const told: [number, number][] = []
    const corridor = cornerCorridor(0.1)
    const { routes } = answerOf(corridor, { progress: (inHand, bound) => told.push([inHand, bound]) })
    expect(told.length).toBeGreaterThan(1)
    expect(told[0][0]).toBe(Infinity)
    for (const [i, [inHand, bound]] of told.entries()) {
      expect(bound).toBeLessThanOrEqual(routes[0].cost)
      if (i > 0) expect(inHand).toBeLessThanOrEqual(told[i - 1][0])
    }
    expect(told[told.length - 1][0]).toBe(routes[0].cost)
    expect(told[told.length - 2][0]).toBe(routes[0].cost)
  })
})
