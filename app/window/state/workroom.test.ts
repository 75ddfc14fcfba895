import { expose } from 'comlink'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { hostDouble } from '../../../test/kit/hostDouble.ts'
import { pipedBay } from '../../../test/kit/pipedBay.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { FaultError } from '../../../core/fault.ts'
import type { Host, OpenedBay } from '../../host.ts'
import { DeskHere } from '../../worker/deskHere.ts'
import { SearchDeskHere } from '../../worker/searchDeskHere.ts'
import { withField } from './edit.ts'
import { bendsStanding, shownBends } from './pipes.ts'
import { createWindowStore, doEdit, freshness, isDirty, redo, troublesNow, undo } from './windowState.ts'
import { Workroom } from './workroom.ts'

const text = JSON.stringify(sampleBay())
const file = (name: string, content = text): OpenedBay => ({ token: name, name, text: content, writable: true })

/** A desk behind a real message port, in the place of a worker. */
class PortWorker<D extends DeskHere | SearchDeskHere> {
  readonly desk: D
  private readonly channel = new MessageChannel()
  constructor(desk: D) {
    this.desk = desk
    expose(this.desk, this.channel.port2 as unknown as Parameters<typeof expose>[1])
  }
  asWorker(): Worker {
    const { port1, port2 } = this.channel
    const end = () => {
      port1.close()
      port2.close()
    }
    return Object.assign(port1, { terminate: end }) as unknown as Worker
  }
}

const rooms: Workroom[] = []
afterEach(() => {
  for (const room of rooms.splice(0)) room.close()
})

function roomWith(host: Partial<Host> = {}) {
  const workers: PortWorker<DeskHere>[] = []
  const store = createWindowStore()
  const whole = hostDouble({ first: async () => file('first.bay.json'), ...host })
  const startWorker = () => {
    const worker = new PortWorker(new DeskHere())
    workers.push(worker)
    return worker.asWorker()
  }
  const room = new Workroom(store, whole, startWorker, () => new PortWorker(new SearchDeskHere()).asWorker())
  rooms.push(room)
  return { room, store, workers }
}
const depth = (value: number) => ({
  name: 'depth',
  label: `depth ${value}`,
  undo: 'step' as const,
  apply: (bay: ReturnType<typeof sampleBay>) => withField(bay, ['candidates', 0, 'core', 'depth'], value),
})
const fresh = (store: ReturnType<typeof createWindowStore>) =>
  vi.waitFor(() => expect(freshness(store.getState())).toBe('fresh'))

describe('a bay in the window', () => {
  test('is opened, drawn and judged', async () => {
    const { room, store } = roomWith()
    await room.start()
    await fresh(store)
    expect(store.getState().kept?.ledger.pairs.length).toBeGreaterThan(5)
    expect(room.scene.getState().parts[0].key).toBe('core')
    expect(isDirty(store.getState())).toBe(false)
  })

  test('of many quick edits the newest is judged, and not every one on the way', async () => {
    const { room, store, workers } = roomWith()
    await room.start()
    await fresh(store)
    const computed = vi.spyOn(workers[0].desk, 'ledger')
    for (let value = 91; value <= 130; value++) doEdit(store, depth(value))
    await fresh(store)
    expect(store.getState().kept?.bay.candidates[0].core.depth).toBe(130)
    expect(computed.mock.calls.length).toBeLessThan(10)
    undo(store)
    await fresh(store)
    expect(store.getState().kept?.bay.candidates[0].core.depth).toBe(129)
    redo(store)
    expect(store.getState().history?.present.candidates[0].core.depth).toBe(130)
  })

  test('pipes are told of after the ledger, and anew after an edit; where corners cannot be rounded, why', async () => {
    const piped = async () => file('piped.bay.json', JSON.stringify(pipedBay()))
    const { room, store } = roomWith({ first: piped })
    const order: string[] = []
    store.subscribe((state, before) => {
      if (state.kept !== before.kept) order.push('ledger')
      if (state.bends !== before.bends && state.bends) order.push('bends')
    })
    await room.start()
    const told = () => vi.waitFor(() => expect(bendsStanding(store.getState())).toBe('fresh'))
    await told()
    expect(order).toEqual(['ledger', 'bends'])
    expect(shownBends(store.getState())?.pipes[0].makeable).toBe(false)
    const tight = { name: 'r', label: 'r', undo: 'step' as const }
    doEdit(store, {
      ...tight,
      apply: (bay) => withField(bay, ['candidates', 0, 'pipes', 0, 'bendRadius'], 900),
    })
    expect(bendsStanding(store.getState())).toBe('updating')
    await told()
    expect(troublesNow(store.getState())).not.toEqual([])
    expect(shownBends(store.getState())?.pipes[0].reasons.map(({ code }) => code)).toContain('negative-straight')
  })

  test('the newest wish for a ghost counts', async () => {
    const piped = async () => file('piped.bay.json', JSON.stringify(pipedBay()))
    const { room, store } = roomWith({ first: piped })
    await room.start()
    await fresh(store)
    const bay = store.getState().history!.present
    const wish = room.ghost({ bay, candidate: 'wide', pipe: 'hot' })
    await room.ghost(null)
    await wish
    expect(room.scene.getState().ghost).toBeNull()
    await room.ghost({ bay, candidate: 'wide', pipe: 'hot' })
    expect(room.scene.getState().ghost?.key).toBe('pipe-hot')
  })

  test('an edit that no bay may hold is refused and changes nothing', async () => {
    const { room, store } = roomWith()
    await room.start()
    const before = store.getState().history
    const done = doEdit(store, depth(-3))
    expect(done).toMatchObject({ ok: false, faults: [{ code: 'too-small', field: 'candidates[0].core.depth' }] })
    expect(store.getState().history).toBe(before)
  })

  test('what cannot be judged keeps the last ledger and says why', async () => {
    const { room, store } = roomWith()
    await room.start()
    await fresh(store)
    const kept = store.getState().kept
    const pipe = {
      id: 'p',
      name: 'P',
      from: 'turbo',
      to: 'throttle',
      outsideDiameter: 50,
      wall: 2,
      bendRadius: 900,
      path: [
        [0, 0, 0],
        [9, 9, 9],
      ],
    }
    doEdit(store, {
      name: 'pipe',
      label: 'pipe',
      undo: 'step',
      apply: (bay) => withField(bay, ['candidates', 0, 'pipes'], [pipe]),
    })
    await vi.waitFor(() => expect(freshness(store.getState())).toBe('outOfDate'))
    expect(store.getState().kept).toBe(kept)
    expect(troublesNow(store.getState())[0].code).toBe('straight-too-short')
    undo(store)
    await fresh(store)
    expect(troublesNow(store.getState())).toEqual([])
  })
})

describe('files', () => {
  test('a bad one is told in words, and what was open stays', async () => {
    const { room, store } = roomWith({
      open: async () => file('bad.bay.json', '{"format": "gapwright-bay", "version": 9}'),
    })
    await room.start()
    await fresh(store)
    const { history } = store.getState()
    await room.openAsked()
    await vi.waitFor(() => expect(store.getState().banner?.lines.join()).toMatch(/newer program/))
    expect(store.getState().history).toBe(history)
    expect(store.getState().reading).toBeNull()
  })

  test('a refusal of the host is told in words', async () => {
    const { room, store } = roomWith({
      save: async () => {
        throw new FaultError([
          { code: 'file-unwritable', file: 'first.bay.json', expected: 'a place that can be written' },
        ])
      },
    })
    await room.start()
    doEdit(store, depth(100))
    expect(await room.save('in-place')).toBe(false)
    expect(store.getState().banner?.lines[0]).toMatch(/first\.bay\.json.*cannot be written/)
    expect(isDirty(store.getState())).toBe(true)
  })

  test('saving writes what is there now, and only then nothing is unsaved', async () => {
    const written: string[] = []
    const { room, store } = roomWith({
      save: async (content, name) => {
        written.push(content)
        return { token: 't', name, text: content, writable: true }
      },
    })
    await room.start()
    doEdit(store, depth(100))
    expect(isDirty(store.getState())).toBe(true)
    expect(await room.save('in-place')).toBe(true)
    expect(JSON.parse(written[0]).candidates[0].core.depth).toBe(100)
    expect(isDirty(store.getState())).toBe(false)
    undo(store)
    expect(isDirty(store.getState())).toBe(true)
  })

  test('unsaved work is asked about before it is replaced', async () => {
    const open = vi.fn(async () => file('other.bay.json', JSON.stringify({ ...sampleBay(), name: 'Other' })))
    const { room, store } = roomWith({ open })
    await room.start()
    doEdit(store, depth(100))
    await room.openAsked()
    expect(open).not.toHaveBeenCalled()
    store.getState().question?.goOn()
    await vi.waitFor(() => expect(store.getState().history?.present.name).toBe('Other'))
  })
})

describe('stopping', () => {
  test('a reading that is cancelled leaves what was open, in a new worker', async () => {
    let give: (bytes: Uint8Array) => void = () => {}
    const slow = {
      ...sampleBay(),
      keepOuts: [{ id: 's', name: 'S', role: 'body', shape: { kind: 'mesh', file: 's.stl', unit: 'mm' } }],
      ports: [],
      candidates: [],
    }
    const { room, store, workers } = roomWith({
      open: async () => file('slow.bay.json', JSON.stringify(slow)),
      beside: () =>
        new Promise((done) => {
          give = done
        }),
    })
    await room.start()
    await fresh(store)
    await room.openAsked()
    await vi.waitFor(() => expect(store.getState().reading?.progress?.what).toBe('s.stl'))
    room.stop()
    give(new Uint8Array(84))
    await vi.waitFor(() => expect(workers).toHaveLength(2))
    expect(store.getState().history?.present.name).toBe(sampleBay().name)
    doEdit(store, depth(101))
    await fresh(store)
    expect(store.getState().kept?.bay.candidates[0].core.depth).toBe(101)
  })

  test('a worker that breaks is told of and started anew', async () => {
    const { room, store, workers } = roomWith()
    await room.start()
    await fresh(store)
    vi.spyOn(workers[0].desk, 'draw').mockRejectedValueOnce(new Error('out of paper'))
    doEdit(store, depth(102))
    await vi.waitFor(() => expect(store.getState().banner?.lines).toEqual(['out of paper']))
    expect(freshness(store.getState())).toBe('stopped')
    await vi.waitFor(() => expect(workers).toHaveLength(2))
    room.computeAgain()
    await fresh(store)
  })
})
