import { afterEach, describe, expect, test, vi } from 'vitest'
import { hostDouble } from '../../../test/kit/hostDouble.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { readBay } from '../../../core/bay/read.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { writeBay } from '../../../core/bay/write.ts'
import { FaultError } from '../../../core/fault.ts'
import type { Host, LostWork, OpenedBay, Standing } from '../../host.ts'
import { withField } from './edit.ts'
import { KeepingRoom } from './keeping.ts'
import { bayOf, bayOpened, createWindowStore, doEdit, isDirty, undo } from './windowState.ts'

const bay = sampleBay() as Bay
const text = writeBay(bay)
const depth = (value: number, of: Bay = bay) => withField(of, ['candidates', 0, 'core', 'depth'], value)
const edit = (value: number) => ({
  name: 'depth',
  label: `depth ${value}`,
  undo: 'step' as const,
  apply: (of: Bay) => depth(value, of),
})
const work: LostWork = { id: 'lost-work', name: 'a.bay.json', where: '~', keptAt: 1 }
const file = (content = text): OpenedBay => ({ token: 't', name: 'a.bay.json', text: content, writable: true })

const rooms: KeepingRoom[] = []
afterEach(() => {
  for (const room of rooms.splice(0)) room.close()
  vi.useRealTimers()
})

/** A room over a journal in memory; `touched` is what the host tells of the disk. */
function roomWith(over: Partial<Host> = {}) {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
  const journal = new Map<string, string>()
  const store = createWindowStore()
  const told: string[] = []
  let touched: (token: string) => void = () => {}
  const host = hostDouble({
    journal: {
      keep: async (id, _token, _name, content) => void journal.set(id, content),
      drop: async (id) => void journal.delete(id),
      found: async () => [work],
      take: async () => ({ bay: file(writeBay(depth(123))), onDisk: text }),
    },
    onTouched: (listener) => {
      touched = listener
      return () => {}
    },
    ...over,
  })
  const open = async (chosen: OpenedBay) => {
    const read = readBay(chosen.text)
    if (!read.ok) return false
    room.opened()
    store.setState((state) => bayOpened(state, chosen, { bay: read.value, meshes: [] } as never))
    return true
  }
  const room = new KeepingRoom({ store, host, open, tell: (what) => told.push(what) })
  rooms.push(room)
  return { room, store, journal, told, open, touch: (token: string) => touched(token) }
}
const moment = () => vi.advanceTimersByTimeAsync(1000)
const depths = (journal: Map<string, string>) =>
  [...journal.values()].map((content) => JSON.parse(content).candidates[0].core.depth)

describe('the journal', () => {
  test('has the newest edit a moment after it, once for many, and nothing of what is saved or undone', async () => {
    const { store, journal, open, room } = roomWith()
    await open(file())
    for (const value of [91, 92, 93]) doEdit(store, edit(value))
    expect(journal.size).toBe(0)
    await moment()
    expect(depths(journal)).toEqual([93])
    expect(room.store.getState().kept).toBe(true)
    doEdit(store, edit(94))
    expect(room.store.getState().kept).toBe(false)
    await moment()
    expect(depths(journal)).toEqual([94])
    store.setState(({ history }) => ({ saved: history?.present ?? null }))
    await moment()
    expect(journal.size).toBe(0)
    undo(store)
    await moment()
    expect(depths(journal)).toEqual([93])
  })

  test('looking around and choosing keep nothing', async () => {
    const { store, journal, open } = roomWith()
    await open(file())
    store.setState({ view: 'plan', selected: 'core beam' })
    await moment()
    expect(journal.size).toBe(0)
  })

  test('is given up for another bay, and an edit during a save is kept', async () => {
    const { store, journal, open } = roomWith()
    await open(file())
    doEdit(store, edit(91))
    await moment()
    const saving = bayOf(store.getState())
    doEdit(store, edit(92))
    store.setState({ saved: saving })
    await moment()
    expect(depths(journal)).toEqual([92])
    await open(file())
    await moment()
    expect(journal.size).toBe(0)
  })

  test('a write that ends after the save leaves nothing behind', async () => {
    let write = () => {}
    const journal = new Set<string>()
    const { store, open } = roomWith({
      journal: {
        keep: (id) =>
          new Promise((done) => {
            write = () => {
              journal.add(id)
              done()
            }
          }),
        drop: async (id) => void journal.delete(id),
        found: async () => [],
        take: async () => ({ bay: file(), onDisk: null }),
      },
    })
    await open(file())
    doEdit(store, edit(91))
    await moment()
    store.setState(({ history }) => ({ saved: history?.present ?? null }))
    write()
    await moment()
    expect(journal.size).toBe(0)
  })

  test('that cannot be written is told once, and again only after it could', async () => {
    let fails = true
    const { store, open, told } = roomWith({
      journal: {
        keep: async () => {
          if (fails) throw new FaultError([{ code: 'journal-unwritable' }])
        },
        drop: async () => {},
        found: async () => [],
        take: async () => ({ bay: file(), onDisk: null }),
      },
    })
    await open(file())
    const step = async (value: number) => {
      doEdit(store, edit(value))
      await moment()
    }
    await step(91)
    await step(92)
    expect(told).toEqual(['not-kept'])
    fails = false
    await step(93)
    fails = true
    await step(94)
    expect(told).toEqual(['not-kept', 'not-kept'])
  })
})

describe('work that was left behind', () => {
  test('is offered, compared, and taken up as unsaved, with the file one step back', async () => {
    const { room, store, journal } = roomWith()
    journal.set(work.id, writeBay(depth(123)))
    await room.lookForLost(null)
    expect(room.store.getState().lost).toEqual([work])
    await room.compare(work)
    expect(room.store.getState().compared?.differences).toMatchObject([{ after: '123' }])
    await room.takeUp(work, 'taken back')
    expect(room.store.getState().lost).toEqual([])
    expect(isDirty(store.getState())).toBe(true)
    expect(store.getState().history?.past.map(({ label }) => label)).toEqual(['taken back'])
    expect([...journal.keys()], 'under the new name only').not.toContain(work.id)
    expect(depths(journal)).toEqual([123])
    undo(store)
    expect(isDirty(store.getState())).toBe(false)
    expect(readBay(text)).toEqual({ ok: true, value: bayOf(store.getState()) })
  })

  test('stays in the journal under its old name until it is kept under the new one', async () => {
    const dropped: string[] = []
    const { room } = roomWith({
      journal: {
        keep: async () => {
          throw new FaultError([{ code: 'journal-unwritable' }])
        },
        drop: async (id) => void dropped.push(id),
        found: async () => [work],
        take: async () => ({ bay: file(writeBay(depth(123))), onDisk: null }),
      },
    })
    await room.takeUp(work, 'taken back')
    expect(dropped).not.toContain(work.id)
  })

  test('is discarded or left for later, as the user says', async () => {
    const { room, journal } = roomWith()
    journal.set(work.id, text)
    await room.lookForLost(null)
    room.later()
    expect(room.store.getState().lost).toEqual([])
    expect(journal.size).toBe(1)
    await room.discard(work)
    expect(journal.size).toBe(0)
  })
})

describe('a file that was changed outside', () => {
  const changed = (standing: () => Standing) =>
    roomWith({
      standing: async () => standing(),
      again: async () => file(writeBay({ ...bay, name: 'Theirs' })),
    })

  test('is asked about once for each change, and only for this window’s bay', async () => {
    let standing: Standing = 'changed'
    const { room, open, touch } = changed(() => standing)
    await open(file())
    touch('another')
    await moment()
    expect(room.store.getState().outside).toBe(null)
    touch('t')
    await moment()
    expect(room.store.getState().outside).toBe('changed')
    room.leaveOpen()
    await room.check()
    expect(room.store.getState().outside, 'left open').toBe(null)
    standing = 'gone'
    await room.check()
    expect(room.store.getState().outside).toBe('gone')
    standing = 'same'
    await room.check()
    standing = 'changed'
    room.leaveOpen()
    await room.check()
    expect(room.store.getState().outside).toBe('changed')
  })

  test('theirs is taken with ours a step back', async () => {
    const { room, store, open } = changed(() => 'changed')
    await open(file())
    doEdit(store, edit(91))
    await room.takeTheirs('theirs')
    expect(bayOf(store.getState())?.name).toBe('Theirs')
    expect(isDirty(store.getState())).toBe(false)
    undo(store)
    expect(bayOf(store.getState())).toMatchObject({ name: bay.name, candidates: [{ core: { depth: 91 } }] })
    undo(store)
    expect(bayOf(store.getState())?.candidates[0].core.depth).toBe(bay.candidates[0].core.depth)
  })

  test('ours is kept: it counts as unsaved and is kept aside', async () => {
    const { room, store, open, journal } = changed(() => 'changed')
    await open(file())
    await room.keepMine()
    expect(isDirty(store.getState())).toBe(true)
    expect(journal.size).toBe(1)
  })
})
