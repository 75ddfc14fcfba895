import { describe, expect, it } from 'vitest'
import { bareCandidate, keepOut, tinyBay } from '../../../test/kit/tinyBay.ts'
import type { Meshes } from '../../bay/part.ts'
import type { Bay, KeepOut, Pipe, Port } from '../../bay/schema.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { ledger } from '../../verdict/ledger.ts'
import type { RouteAllAnswer, RouteRequest } from './answer.ts'
import { route, type RouteHooks } from './route.ts'
import { routeAll } from './routeAll.ts'
import { withRoute } from './withRoute.ts'

const nothing: Meshes = new Map()

interface Run {
  readonly id: string
  readonly from: readonly [at: Vec3, direction: Vec3]
  readonly to: readonly [at: Vec3, direction: Vec3]
  readonly path?: readonly Vec3[]
}

/** Pipes of ⌀ 30 that bend on 45 mm and keep 5 mm from each other, between ports in the air. */
function runsIn(runs: readonly Run[], keepOuts: KeepOut[] = []): Bay {
  const port = (id: string, [at, direction]: Run['from']): Port => ({
    id,
    name: id,
    at: [...at],
    direction: [...direction],
    outsideDiameter: 30,
  })
  const pipe = ({ id, path = [] }: Run): Pipe => ({
    id,
    name: id,
    from: `${id}-a`,
    to: `${id}-b`,
    outsideDiameter: 30,
    wall: 1.5,
    bendRadius: 45,
    path: path.map((point) => [...point]),
  })
  const core = { depth: 2, width: 2, height: 2 }
  const ports = runs.flatMap(({ id, from, to }) => [port(`${id}-a`, from), port(`${id}-b`, to)])
  const tool = { outsideDiameter: 30, radii: [45], grip: 25, leastStraight: 0, leastEnd: 20, largestAngle: 135 }
  return {
    ...tinyBay(keepOuts, bareCandidate({ at: [-3000, 0, 0], core, pipes: runs.map(pipe) }), ports),
    benders: [{ id: 'shop', name: 'Shop bender', tools: [tool] }],
  }
}

function allOf(bay: Bay, pipes: readonly string[], request: RouteRequest & RouteHooks = {}): RouteAllAnswer {
  const answer = routeAll(bay, undefined, pipes, nothing, request)
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

/** All best routes together clear; and so does every other route of one pipe among the best of the others. */
function holdTogether(bay: Bay, { pipes }: RouteAllAnswer): void {
  const best = pipes.reduce(
    (routed, { pipe, answer }) => (answer.routes[0] ? withRoute(routed, 'only', pipe, answer.routes[0]) : routed),
    bay,
  )
  for (const { pipe, answer } of pipes)
    for (const found of answer.routes) {
      const checked = ledger(withRoute(best, 'only', pipe, found), undefined, nothing)
      if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
      expect(checked.value.pairs.filter(({ verdict }) => verdict !== 'clears')).toEqual([])
    }
}

const along: Run = {
  id: 'along',
  from: [
    [0, 0, 0],
    [1, 0, 0],
  ],
  to: [
    [700, 0, 0],
    [-1, 0, 0],
  ],
}
const across: Run = {
  id: 'across',
  from: [
    [350, -400, 0],
    [0, 1, 0],
  ],
  to: [
    [350, 420, 10],
    [0, -1, 0],
  ],
}

describe('two pipes that cross', () => {
  const bay = runsIn([along, across])
  const answer = allOf(bay, ['across', 'along'], { routes: 3 })

  it('are both routed, and clear each other with every route', () => {
    expect(answer.pipes.map(({ pipe }) => pipe)).toEqual(['across', 'along'])
    for (const { answer: one } of answer.pipes) expect(one.answer).toBe('found')
    holdTogether(bay, answer)
  })

  it('are tried in both orders, and the order of least cost is taken', () => {
    expect(answer.tried.map(({ order }) => order)).toEqual([
      ['across', 'along'],
      ['along', 'across'],
    ])
    const total = answer.pipes.reduce((sum, { answer: one }) => sum + one.routes[0].cost, 0)
    expect(answer.tried.map(({ found }) => found)).toEqual([2, 2])
    expect(total).toBeCloseTo(Math.min(...answer.tried.map(({ cost }) => cost)), 6)
    const [first, second] = answer.tried
    expect(answer.order).toEqual(first.cost <= second.cost ? first.order : second.order)
    // Alone each of the two is cheaper than with the other in its way.
    const alone = [across, along].map(
      (run) => allOf(runsIn([run]), [run.id], { routes: 1 }).pipes[0].answer.routes[0].cost,
    )
    expect(alone[0] + alone[1]).toBeLessThan(total - 10)
  })

  it('come out the same again', () => {
    expect(JSON.stringify(allOf(bay, ['across', 'along'], { routes: 3 }))).toBe(JSON.stringify(answer))
  })
})

describe('a pipe between two others', () => {
  const beside = (id: string, y: number): Run => ({
    id,
    from: [
      [0, y, 0],
      [1, 0, 0],
    ],
    to: [
      [700, y, 0],
      [-1, 0, 0],
    ],
  })
  const lid = (id: string, z: number) =>
    keepOut(id, { kind: 'halfSpace', point: [0, 0, z], normal: [0, 0, -Math.sign(z)] }, { clearance: 5 })
  /** Between the middles of its neighbours there are 2 · 35 mm and `spare`: what a pipe of 30 with 5 mm on each side needs. */
  const bayWith = (spare: number) =>
    runsIn(
      [
        beside('left', -35 - spare / 2),
        {
          id: 'middle',
          from: [
            [-100, 0, 0],
            [1, 0, 0],
          ],
          to: [
            [800, 0, 0],
            [-1, 0, 0],
          ],
        },
        beside('right', 35 + spare / 2),
      ],
      [lid('floor', -20.5), lid('roof', 20.5)],
    )

  it('goes through where there is a tenth to spare', () => {
    const answer = route(bayWith(0.2), undefined, 'middle', nothing, { routes: 1 })
    expect(answer).toMatchObject({ ok: true, value: { answer: 'found', routes: [{ bends: 0, length: 900 }] } })
    if (answer.ok) expect(answer.value.routes[0].least.keepOut).toMatch(/^pipe-(left|right)$/)
  })

  it('is not sent between them where a tenth is missing', () => {
    const answer = route(bayWith(-0.2), undefined, 'middle', nothing, { routes: 1 })
    if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
    for (const { bends } of answer.value.routes) expect(bends).toBeGreaterThan(1)
  })
})

describe('pipes that are not meant', () => {
  it('stand where they are, those without a path are nowhere, and those whose turn comes later as well', () => {
    const bay = runsIn([along, { ...across, path: [[350, 0, 0]] }])
    const alone = allOf(bay, ['along'], { routes: 1 }).pipes[0].answer
    expect(alone.routes[0].bends).toBeGreaterThan(1)
    const both = allOf(bay, ['along', 'across'], { routes: 1 })
    const first = both.tried.find(({ order }) => order[0] === 'along')
    expect(first?.found).toBe(2)
    const unrouted = runsIn([along, across])
    const only = allOf(unrouted, ['along'], { routes: 1 }).pipes[0].answer
    expect(only.routes[0].bends).toBe(0)
    // Said, so that nobody takes the route for one that keeps clear of all pipes.
    expect(only.unrouted).toEqual(['across'])
    expect(alone.unrouted).toBeUndefined()
    expect(allOf(unrouted, ['along', 'across'], { routes: 1 }).pipes.map(({ answer }) => answer.unrouted)).toEqual([
      undefined,
      undefined,
    ])
  })
})

describe('what cannot be', () => {
  it('a pipe in a closed box leaves the others their routes', () => {
    const wall = (id: string, at: [number, number, number], size: [number, number, number]) =>
      keepOut(id, { kind: 'box', at, size }, { clearance: 5 })
    // Round the beginning of `across`: it has nowhere to go.
    const cage = [
      wall('c-front', [240, -350, 0], [20, 240, 240]),
      wall('c-rear', [460, -350, 0], [20, 240, 240]),
      wall('c-left', [350, -470, 0], [240, 20, 240]),
      wall('c-right', [350, -230, 0], [240, 20, 240]),
      wall('c-below', [350, -350, -120], [240, 240, 20]),
      wall('c-above', [350, -350, 120], [240, 240, 20]),
    ]
    const answer = allOf(runsIn([along, across], cage), ['along', 'across'], { routes: 1 })
    const [first, second] = answer.pipes.map(({ answer: one }) => one)
    expect(first).toMatchObject({ answer: 'found', routes: [{ bends: 0 }] })
    expect(second.routes).toEqual([])
    expect(['closed', 'none found']).toContain(second.answer)
    for (const { found } of answer.tried) expect(found).toBe(1)
  })

  it('an empty list and an unknown pipe are faults', () => {
    const bay = runsIn([along])
    expect(routeAll(bay, undefined, [], nothing)).toMatchObject({ ok: false, faults: [{ code: 'no-pipe' }] })
    expect(routeAll(bay, undefined, ['alonf'], nothing)).toMatchObject({ ok: false, faults: [{ nearest: 'along' }] })
  })

  it('broken off, the first order is answered as far as it came', () => {
    let polls = 0
    const answer = allOf(runsIn([along, across]), ['across', 'along'], {
      stop: () => (polls++ > 40 ? 'cancelled' : null),
    })
    expect(answer.tried).toHaveLength(1)
    expect(answer.pipes).toHaveLength(2)
    expect(answer.pipes[1].answer.stopped).toBe('cancelled')
  })
})
