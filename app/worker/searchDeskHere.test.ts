import { describe, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import { seat } from '../../core/seat/seat.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { cornerCorridor } from '../../test/kit/corridors.ts'
import { keyBay } from '../../test/kit/seatBays.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { SearchDeskHere } from './searchDeskHere.ts'
import { provedWithin, type SearchAsk, type SearchKind, type SearchPoint, searchKinds } from './searchProtocol.ts'

const bay: Bay = {
  ...sampleBay(),
  candidates: sampleBay().candidates.map((candidate) => ({
    ...candidate,
    pipes: [],
    limits: {
      depth: { min: 20, max: 120 },
      width: { min: 100, max: 700 },
      height: { min: 50, max: 400 },
      centre: { min: [-150, -50, 50], max: [90, 50, 300] },
    },
  })),
}
const candidate = bay.candidates[0].id
const ask = <K extends SearchKind>(kind: K, request: SearchAsk<K>['request'], ticket = 1): SearchAsk<K> => ({
  kind,
  bay,
  candidate,
  request,
  ticket,
})

function watchedDesk() {
  const desk = new SearchDeskHere()
  const shared = new SharedArrayBuffer(4 * searchKinds.length)
  void desk.watch(shared)
  const tickets = new Int32Array(shared)
  tickets.fill(1)
  return { desk, tickets }
}

describe('the search desk', () => {
  test('the largest core is proved within a thousandth, and what it tells closes in', async () => {
    const { desk } = watchedDesk()
    const points: SearchPoint[] = []
    const { outcome } = await desk.search(ask('largest', { holds: false }), (point) => points.push(point))
    if (!outcome.ok || outcome.value.answer !== 'found') throw new Error(JSON.stringify(outcome))
    const { value, upperBound, stopped, holds } = outcome.value
    expect(stopped).toBe('proved')
    expect(upperBound).toBeGreaterThanOrEqual(value)
    expect(upperBound).toBeLessThanOrEqual(value * (1 + provedWithin) * (1 + 1e-12))
    expect(holds).toEqual([])
    for (const point of points) {
      expect(point.value).toBeLessThanOrEqual(upperBound)
      expect(point.bound).toBeGreaterThanOrEqual(value * (1 - 1e-9))
    }
  })

  test('a ticket that is not the newest ends a search; another kind goes on', async () => {
    const { desk, tickets } = watchedDesk()
    tickets[searchKinds.indexOf('largest')] = 2
    const ended = await desk.search(ask('largest', { holds: true }), () => {})
    if (!ended.outcome.ok) throw new Error(JSON.stringify(ended.outcome))
    expect(ended.outcome.value.stopped).toBe('cancelled')
    const free = { x: true, y: true, z: true }
    const placed = await desk.search(ask('place', { free, reach: 60, tilt: false }), () => {})
    if (!placed.outcome.ok) throw new Error(JSON.stringify(placed.outcome))
    expect(placed.outcome.value.stopped).not.toBe('cancelled')
  })

  test('the best place is what the ledger says of it', async () => {
    const { desk } = watchedDesk()
    const free = { x: true, y: false, z: false }
    const { outcome } = await desk.search(ask('place', { free, reach: 60, tilt: false }), () => {})
    if (!outcome.ok) throw new Error(JSON.stringify(outcome))
    const placed = {
      ...bay,
      candidates: [{ ...bay.candidates[0], at: [...outcome.value.at] as [number, number, number] }],
    }
    const checked = ledger(placed, candidate, new Map())
    if (!checked.ok) throw new Error(JSON.stringify(checked))
    expect(checked.value.pairs[0].margin).toBeCloseTo(outcome.value.margin.atLeast, 6)
    expect(outcome.value.at.slice(1)).toEqual(bay.candidates[0].at.slice(1))
  })

  test('routes are what the ledger says of them; a ticket that is not the newest ends the search', async () => {
    const { desk, tickets } = watchedDesk()
    const { bay: corner, candidate: only } = cornerCorridor(0.1)
    const asked = { ...ask('route', { pipes: ['run'], routes: 1 }), bay: corner, candidate: only }
    const points: SearchPoint[] = []
    const { outcome } = await desk.search(asked, (point) => points.push(point))
    if (!outcome.ok) throw new Error(JSON.stringify(outcome))
    const [{ pipe, answer }] = outcome.value.pipes
    expect({ pipe, answer: answer.answer }).toEqual({ pipe: 'run', answer: 'found' })
    const checked = ledger(withRoute(corner, only, 'run', answer.routes[0]), only, new Map())
    expect(checked).toMatchObject({ ok: true, value: { verdict: 'clears' } })
    for (const { value, bound } of points) {
      expect(value).toBeGreaterThanOrEqual(answer.routes[0].cost - 1e-9)
      expect(bound).toBeLessThanOrEqual(answer.routes[0].cost)
    }
    tickets[searchKinds.indexOf('route')] = 2
    const ended = await desk.search(asked, () => {})
    expect(ended.outcome).toMatchObject({ ok: true, value: { pipes: [{ answer: { stopped: 'cancelled' } }] } })
  })

  test('a way in is what the core finds, with its progress; a ticket that is not the newest ends the search', async () => {
    const { desk, tickets } = watchedDesk()
    const keyed = keyBay()
    const asked = { ...ask('seat', { need: 3 }), bay: keyed, candidate: keyed.candidates[0].id }
    const points: SearchPoint[] = []
    const { outcome } = await desk.search(asked, (point) => points.push(point))
    expect(outcome).toEqual(seat(keyed, undefined, new Map(), { need: 3 }))
    expect(points.length).toBeGreaterThan(0)
    for (const { bound } of points) expect(bound >= 0 && bound <= 1).toBe(true)
    tickets[searchKinds.indexOf('seat')] = 2
    const ended = await desk.search(asked, () => {})
    expect(ended.outcome).toMatchObject({ ok: true, value: { stopped: 'cancelled' } })
  })

  test('limits that contradict come back as a fault, with nothing run', async () => {
    const { desk } = watchedDesk()
    const wrong = {
      ...bay,
      candidates: [{ ...bay.candidates[0], limits: { ...bay.candidates[0].limits, tilt: { min: 50, max: 60 } } }],
    }
    const { outcome } = await desk.search({ ...ask('largest', { holds: false }), bay: wrong }, () => {})
    expect(outcome).toMatchObject({ ok: false, faults: [{ code: 'tilt-range' }] })
  })
})
