import { describe, expect, test } from 'vitest'
import { emptyBay } from '../../../core/bay/emptyBay.ts'
import { freshKeepOut, freshShape } from '../../../core/bay/freshKeepOut.ts'
import { bad, good } from '../../../core/fault.ts'
import { meshExtensions } from '../../files/importers.ts'
import type { Host } from '../../host.ts'
import type { MeshNote } from '../../worker/protocol.ts'
import { isMeshName, MeasureRoom } from './measure.ts'
import { bayOf, bayOpened, createWindowStore, undo } from './windowState.ts'

const note: MeshNote = {
  format: 'STL',
  triangles: 12,
  closed: true,
  openEdges: 0,
  components: 1,
  dropped: 0,
  turnedBack: 0,
  bounds: { min: [0, 0, 0], max: [1, 2, 3] },
}
const fileOf = (name: string, content = 'x') => new File([content], name)

function opened(
  addBeside: Host['addBeside'] = async (_, name) => ({ file: name, onDisk: true }),
  kind: Host['kind'] = 'desktop',
) {
  const store = createWindowStore()
  const bay = emptyBay('Test', 'somewhere', '', 'mm')
  store.setState((state) => bayOpened(state, { token: 't', name: 'a', writable: true }, { bay, meshes: [] }))
  const kept: string[] = []
  const room = new MeasureRoom({
    store,
    host: { addBeside, kind } as Host,
    inspect: async (name) => (name.startsWith('bad') ? bad({ code: 'mesh-truncated', file: name }) : good(note)),
    keep: async (file) => {
      kept.push(file)
      return note
    },
    renewed: () => kept.push('renewed'),
  })
  return { store, room, kept }
}

describe('a mesh on its way into the bay', () => {
  test('is looked into, put beside the bay, and becomes a keep-out that is open', async () => {
    const { store, room, kept } = opened(async (token, name) => ({ file: `${token}-${name}`, onDisk: false }))
    await room.lookInto(fileOf('front_shell.stl'))
    expect(room.store.getState().mesh).toMatchObject({ name: 'front_shell.stl', found: note })
    expect(await room.takeMesh('inch')).toEqual({ file: 't-front_shell.stl', onDisk: false })
    expect(kept).toEqual(['t-front_shell.stl', 'renewed'])
    expect(bayOf(store.getState())?.keepOuts).toEqual([
      {
        id: 'front-shell',
        name: 'Front shell',
        role: 'body',
        shape: { kind: 'mesh', file: 't-front_shell.stl', unit: 'inch' },
      },
    ])
    expect(store.getState().openItem).toEqual({ side: 'keepOut', key: 'front-shell' })
    expect(store.getState().meshes.get('t-front_shell.stl')).toBe(note)
    expect(room.store.getState().mesh).toBeNull()
    undo(store)
    expect(bayOf(store.getState())?.keepOuts).toEqual([])
  })

  test('what is wrong with it is said and another file can be chosen', async () => {
    const { store, room } = opened()
    await room.lookInto(fileOf('bad.stl'))
    expect(room.store.getState()).toMatchObject({ mesh: 'asking', meshFaults: [{ code: 'mesh-truncated' }] })
    await room.lookInto(fileOf('good.stl'))
    expect(room.store.getState().meshFaults).toEqual([])
    const unreadable = { name: 'gone.stl', size: 1, arrayBuffer: () => Promise.reject(new Error('gone')) }
    await room.lookInto(unreadable)
    expect(room.store.getState().meshFaults).toEqual([{ code: 'file-unreadable', file: 'gone.stl', got: 'gone' }])
    const huge = { name: 'huge.stl', size: 3e9, arrayBuffer: () => Promise.reject(new Error('was read')) }
    await room.lookInto(huge)
    expect(room.store.getState().meshFaults).toMatchObject([{ code: 'mesh-too-big', got: '3000000000 bytes' }])
    expect(bayOf(store.getState())?.keepOuts).toEqual([])
  })

  test('a folder that takes nothing leaves the bay as it was, and the mesh in hand', async () => {
    const { store, room } = opened(async () => {
      throw Object.assign(new Error(), { faults: [{ code: 'file-unwritable', got: 'a full disk' }] })
    })
    await room.lookInto(fileOf('shell.stl'))
    expect(await room.takeMesh('mm')).toBeNull()
    expect(room.store.getState().meshFaults).toEqual([{ code: 'file-unwritable', got: 'a full disk' }])
    expect(room.store.getState().mesh).toMatchObject({ name: 'shell.stl' })
    expect(bayOf(store.getState())?.keepOuts).toEqual([])
  })

  test('the newest file counts, and one that was left does not come back', async () => {
    const { room } = opened()
    const slow = room.lookInto(fileOf('first.stl'))
    await room.lookInto(fileOf('second.stl'))
    await slow
    expect(room.store.getState().mesh).toMatchObject({ name: 'second.stl' })
    const left = room.lookInto(fileOf('third.stl'))
    room.leaveMesh()
    await left
    expect(room.store.getState().mesh).toBeNull()
  })
})

test('where a browser cannot write it, a mesh is told to lie in no folder until the bay is saved', async () => {
  const { store, room } = opened(undefined, 'browser')
  store.setState({ file: { token: 't', name: 'a', writable: false } })
  await room.lookInto(fileOf('shell.stl'))
  expect(await room.takeMesh('mm')).toEqual({ file: 'shell.stl', onDisk: false })
  expect([...room.store.getState().loose.keys()]).toEqual(['shell.stl'])
})

test('a keep-out is one named step', () => {
  const { store, room } = opened()
  room.add((bay) => freshKeepOut(bay, freshShape('box', 'mm', [0, 0, 0]), 'Box'))
  expect(store.getState().history?.past.map(({ label }) => label)).toEqual(['Add Box'])
  expect(store.getState()).toMatchObject({ stage: 'measure', openItem: { side: 'keepOut', key: 'box' } })
})

test('names of meshes are those of the readers', () => {
  for (const extension of meshExtensions) expect(isMeshName(`a.${extension}`)).toBe(true)
  expect(meshExtensions).toHaveLength(8)
  for (const name of ['a.bay.json', 'a.png', 'stl', 'a.gz']) expect(isMeshName(name)).toBe(false)
})
