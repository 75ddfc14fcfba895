import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../core/shape/vec.ts'
import { bends } from '../core/pipe/bends.ts'
import type { RouteAnswer } from '../core/pipe/route/answer.ts'
import { certify } from '../core/pipe/route/certify.ts'
import { route } from '../core/pipe/route/route.ts'
import { routeProblem } from '../core/pipe/route/setUp.ts'
import { withRoute } from '../core/pipe/route/withRoute.ts'
import { ledger } from '../core/verdict/ledger.ts'
import { slotCorridor, slotWidth } from './kit/corridors.ts'
import { pipeRoom, type PipeRoom } from './kit/pipeRoom.ts'
import { plainRoute } from './kit/plainRouter.ts'
import { seeded } from './kit/random.ts'
import { keepOut } from './kit/tinyBay.ts'

/* Random rooms: what the router answers, held to the ledger, to the bender, and to a planner written apart. */
const seeds = Array.from({ length: 14 }, (_, n) => n + 1)
const plainSamples = 400

interface Asked {
  readonly room: PipeRoom
  readonly answer: RouteAnswer
  /** A route of the plain planner, where it found one. */
  readonly plain: readonly Vec3[] | null
}

function asked(seed: number): Asked {
  const room = pipeRoom(seed)
  const found = route(room.bay, room.candidate, room.pipe, room.meshes, { routes: 3 })
  if (!found.ok) throw new Error(JSON.stringify(found.faults))
  const plain = plainRoute(problemOf(room), { seed, samples: plainSamples, first: true })
  return { room, answer: found.value, plain: plain?.corners ?? null }
}

const problemOf = ({ bay, candidate, pipe, meshes }: PipeRoom) => {
  const problem = routeProblem(bay, candidate, pipe, meshes)
  if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
  return problem.value
}

const answers = new Map<number, Asked>()
const of = (seed: number): Asked => {
  const known = answers.get(seed) ?? asked(seed)
  answers.set(seed, known)
  return known
}

describe.each(seeds)('random room of seed %i', (seed) => {
  test('every route clears by the ledger and can be bent, with the figures that are told', () => {
    const { room, answer } = of(seed)
    for (const { path, bendRadius, length, bends: count, cost, least } of answer.routes) {
      const routed = withRoute(room.bay, room.candidate, room.pipe, { path, bendRadius })
      const checked = ledger(routed, room.candidate, room.meshes)
      if (!checked.ok) throw new Error(JSON.stringify(checked.faults))
      const rows = checked.value.pairs.filter(({ part }) => part === `pipe-${room.pipe}`)
      expect(rows.map(({ verdict }) => verdict)).toEqual(rows.map(() => 'clears'))
      expect(checked.value.unrouted).toEqual([])
      expect(least.margin).toBeCloseTo(rows[0].margin, 9)
      const bent = bends(routed, room.candidate, room.meshes)
      if (!bent.ok) throw new Error(JSON.stringify(bent.faults))
      expect(bent.value.pipes[0].reasons).toEqual([])
      expect(bent.value.pipes[0].developed).toBeCloseTo(length, 6)
      expect(bent.value.pipes[0].arcs).toHaveLength(count)
      expect(cost).toBeCloseTo(length + 100 * count, 6)
    }
    expect(answer.routes.map(({ cost }) => cost)).toEqual(answer.routes.map(({ cost }) => cost).sort((a, b) => a - b))
  })

  test('no route, of the router or of the plain planner, contradicts what is proved', () => {
    const { room, answer, plain } = of(seed)
    const problem = problemOf(room)
    const { proved } = answer
    const routes = [...answer.routes.map(({ path }) => path), ...(plain ? [plain] : [])]
    if (answer.answer === 'closed') expect(routes).toEqual([])
    for (const corners of routes) {
      const { valid, bends: count, length, leastMargin } = certify(problem, corners)
      expect(valid).toBe(true)
      expect(count).toBeGreaterThanOrEqual(proved.fewestBends)
      expect(length).toBeGreaterThanOrEqual(proved.lengthAtLeast - 1e-6)
      expect(leastMargin).toBeLessThanOrEqual((proved.passage?.spareAtMost ?? Infinity) + 1e-6)
    }
    if (proved.passage) expect(proved.passage.spareAtLeast).toBeLessThanOrEqual(proved.passage.spareAtMost)
  })
})

test('the rooms are mixed: nearly all have a route, and the plain planner has one in some of them only', () => {
  expect(seeds.filter((seed) => of(seed).answer.answer === 'found').length).toBeGreaterThan(seeds.length - 3)
  const plain = seeds.filter((seed) => of(seed).plain !== null).length
  expect(plain).toBeGreaterThan(3)
  expect(plain).toBeLessThan(seeds.length - 1)
  // What the plain planner finds, the router finds too, and no dearer.
  for (const { answer, plain, room } of seeds.map(of)) {
    if (!plain) continue
    const { length, bends: count } = certify(problemOf(room), plain)
    expect(answer.routes[0]?.cost ?? Infinity).toBeLessThanOrEqual(length + 100 * count + 1e-6)
  }
})

test.each(seeds.slice(0, 2))('room of seed %i: the same answer once more', (seed) => {
  expect(asked(seed).answer).toEqual(of(seed).answer)
})

/* Slabs across a closed room leave three slits of known widths: the widest one is the passage, less the pipe and what it keeps. */
describe('slits of random widths', () => {
  const random = seeded(9)
  const slits = Array.from({ length: 10 }, () => [0, 0, 0].map(() => random.real(52, 62)))

  test.each(slits)('%f, %f and %f mm: open, or closed, by as much as the widest', (...widths) => {
    const { bay } = slotCorridor(0)
    const walls = bay.keepOuts.filter(({ id }) => id !== 'lower' && id !== 'upper')
    const ends = [-400, ...[-120, 20, 140].flatMap((at, n) => [at - widths[n] / 2, at + widths[n] / 2]), 400]
    const slabs = [0, 2, 4, 6].map((n) => {
      const size: [number, number, number] = [20 + 30 * n, ends[n + 1] - ends[n], 800]
      return keepOut(`slab-${n}`, { kind: 'box', at: [60, (ends[n] + ends[n + 1]) / 2, 0], size }, { clearance: 5 })
    })
    const found = route({ ...bay, keepOuts: [...walls, ...slabs] }, undefined, 'run', new Map(), { routes: 1 })
    if (!found.ok) throw new Error(JSON.stringify(found.faults))
    const spare = (Math.max(...widths) - slotWidth) / 2
    const { answer, closedBy, proved } = found.value
    expect(answer).toBe(spare < 0 ? 'closed' : 'found')
    if (closedBy) {
      expect(closedBy.shortBy).toBeGreaterThan(0)
      expect(closedBy.shortBy).toBeLessThanOrEqual(-spare + 1e-6)
      expect(closedBy.between.every((id) => id.startsWith('slab-'))).toBe(true)
    }
    expect(proved.passage?.spareAtLeast).toBeLessThanOrEqual(spare + 1e-6)
    expect(proved.passage?.spareAtMost).toBeGreaterThanOrEqual(spare - 1e-6)
  })

  test('some are open and some are not', () => {
    const open = slits.filter((widths) => Math.max(...widths) > slotWidth).length
    expect(open).toBeGreaterThan(1)
    expect(open).toBeLessThan(slits.length - 1)
  })
})
