import { expose } from 'comlink'
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { SearchDeskHere } from '../../worker/searchDeskHere.ts'
import type { SearchAsk, SearchKind } from '../../worker/searchProtocol.ts'
import { withField } from './edit.ts'
import { freshResult, largestStanding, standingOf } from './searches.ts'
import { SearchRoom } from './searchRoom.ts'
import { bayOf, bayOpened, createWindowStore, doEdit, undo, type WindowStore } from './windowState.ts'

const limits = {
  depth: { min: 20, max: 120 },
  width: { min: 100, max: 700 },
  height: { min: 50, max: 400 },
  centre: { min: [-150, -50, 50] as [number, number, number], max: [90, 50, 300] as [number, number, number] },
}
const bay: Bay = { ...sampleBay(), candidates: sampleBay().candidates.map((c) => ({ ...c, pipes: [], limits })) }

/** The ledger as it comes from the first worker: of the bay as it is. */
function ledgerComes(store: WindowStore) {
  const now = bayOf(store.getState())
  const candidate = store.getState().candidate ?? ''
  const ledger = { candidate, verdict: 'clears', pairs: [], leftOut: [], unrouted: [], exempt: [] } as const
  store.setState({ kept: now && { ledger, bay: now, milliseconds: 1 } })
}

const rooms: SearchRoom[] = []
afterEach(() => {
  for (const room of rooms.splice(0)) room.close()
})

function roomWith(start: Bay = bay) {
  const desk = new SearchDeskHere()
  const asked: SearchAsk[] = []
  const search = desk.search.bind(desk)
  desk.search = <K extends SearchKind>(ask: SearchAsk<K>, told: Parameters<typeof search>[1]) => {
    asked.push(ask)
    return search(ask, told)
  }
  const startSearcher = () => {
    const { port1, port2 } = new MessageChannel()
    expose(desk, port2 as unknown as Parameters<typeof expose>[1])
    const terminate = () => {
      port1.close()
      port2.close()
    }
    return Object.assign(port1, { terminate }) as unknown as Worker
  }
  const store = createWindowStore()
  const room = new SearchRoom(store, startSearcher, async () => new Map())
  rooms.push(room)
  store.setState((state) => bayOpened(state, { token: 't', name: 'my', writable: true }, { bay: start, meshes: [] }))
  const standing = () => largestStanding(room.store.getState(), store.getState())
  const value = () => {
    const known = freshResult(room.store.getState().largest, store.getState())
    return known?.answer === 'found' ? known.value : null
  }
  return { room, store, asked, standing, value }
}
const widthAtMost = (value: number) => ({
  name: 'width',
  label: `width ${value}`,
  undo: 'step' as const,
  apply: (whole: Bay) => withField(whole, ['candidates', 0, 'limits', 'width', 'max'], value),
})

describe('the largest core beside the window', () => {
  test('waits for the ledger, then comes by itself; holds only in the Core stage', async () => {
    const { room, store, asked, standing, value } = roomWith()
    expect(standing()).toBe('working')
    await new Promise((done) => setTimeout(done, 250))
    expect(asked).toEqual([])
    ledgerComes(store)
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    expect(value()).toBeGreaterThan(1e6)
    expect(asked.map(({ request }) => request)).toEqual([{ holds: false }])
    store.setState({ stage: 'core' })
    await vi.waitFor(() => expect(room.store.getState().largest.found?.sought.request.holds).toBe(true))
    expect(asked.map(({ request }) => request)).toEqual([{ holds: false }, { holds: true }])
  })

  test('of many quick edits only the newest is searched; undo is an edit as well', async () => {
    const { store, asked, standing, value } = roomWith()
    ledgerComes(store)
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    const before = value()
    for (let width = 300; width <= 320; width++) {
      doEdit(store, widthAtMost(width))
      ledgerComes(store)
    }
    expect(standing()).toBe('working')
    expect(value()).toBe(null)
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    expect(asked.length).toBe(2)
    expect(asked[1].bay.candidates[0].limits?.width?.max).toBe(320)
    expect(value()).toBeLessThan(before ?? 0)
    for (let i = 0; i < 21; i++) undo(store)
    ledgerComes(store)
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    expect(value()).toBe(before)
  })

  test('limits that contradict are an answer of their own, with the fault', async () => {
    const narrow = structuredClone(bay)
    narrow.candidates[0].limits = { ...limits, height: { min: 101, max: 102, pitch: 50 } }
    const { room, store, standing } = roomWith(narrow)
    ledgerComes(store)
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    expect(room.store.getState().largest.found?.outcome).toMatchObject({
      ok: false,
      faults: [{ code: 'limits-contradict' }],
    })
  })

  test('what was asked for goes out of date with the next edit; another bay leaves nothing', async () => {
    const { room, store } = roomWith()
    ledgerComes(store)
    room.seek('place', { free: { x: true, y: false, z: false }, reach: 30, tilt: false })
    const standing = () => standingOf(room.store.getState().place, store.getState())
    expect(standing()).toBe('working')
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    doEdit(store, widthAtMost(500))
    expect(standing()).toBe('outOfDate')
    room.renew()
    expect(standing()).toBe('none')
  })

  test('a worker that breaks says so, and the next question starts another', async () => {
    const { room, store, standing } = roomWith()
    vi.spyOn(SearchDeskHere.prototype, 'borrow').mockRejectedValueOnce(new Error('no memory'))
    ledgerComes(store)
    await vi.waitFor(() => expect(standing()).toBe('fresh'))
    expect(room.store.getState().largest.found?.outcome).toMatchObject({
      ok: false,
      faults: [{ code: 'search-broke', got: 'no memory' }],
    })
    room.seek('largest', { holds: false })
    await vi.waitFor(() => expect(room.store.getState().largest.found?.outcome.ok).toBe(true))
  })
})
