import { expect, test, vi } from 'vitest'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { Dress, SceneById } from '../picture/protocol.ts'
import { emptyScene } from '../state/scene.ts'
import { ScenePost } from './scenePost.ts'

const dress: Dress = { looks: new Map(), overlapping: [] }

/** Keeps what it is sent. */
function desk() {
  const solids: [number, string][] = []
  const scenes: SceneById[] = []
  return {
    solids,
    scenes,
    solid: (id: number, { key }: DrawnSolid) => solids.push([id, key]),
    scene: (scene: SceneById) => scenes.push(scene),
  }
}

function solid(key: string, bytes = 12): DrawnSolid {
  const surface = { positions: new Float32Array(bytes / 4), normals: new Float32Array(), triangles: new Uint32Array() }
  const bounds = { min: [0, 0, 0], max: [1, 1, 1] } as const
  return {
    ...{ key, side: 'keepOut', surface, light: null, edges: new Float32Array(), pieces: [] },
    ...{ mesh: false, closed: true, bounds },
  }
}

test('a solid is sent once; the same object is then only named, and one that was away is sent again', () => {
  const to = desk()
  const post = new ScenePost(to)
  const [lamp, rail, hose] = [solid('lamp'), solid('rail'), solid('hose')]
  post.send({ ...emptyScene, keepOuts: [lamp, rail], ghost: hose }, () => dress)
  expect(to.scenes.at(-1)).toEqual({ origin: [0, 0, 0], keepOuts: [1, 2], parts: [], ghost: 3, other: [] })
  post.send({ ...emptyScene, keepOuts: [rail], other: [solid('lamp')] }, () => dress)
  expect(to.scenes.at(-1)).toEqual({ origin: [0, 0, 0], keepOuts: [2], parts: [], ghost: null, other: [4] })
  post.send({ ...emptyScene, keepOuts: [lamp, rail] }, () => dress)
  expect(to.scenes.at(-1)?.keepOuts).toEqual([5, 2])
  expect(to.solids).toEqual([
    [1, 'lamp'],
    [2, 'rail'],
    [3, 'hose'],
    [4, 'lamp'],
    [5, 'lamp'],
  ])
})

test('very large scenes are sent in portions with pauses between them; a newer scene takes over what was sent', () => {
  vi.useFakeTimers()
  const to = desk()
  const post = new ScenePost(to)
  const [one, two, three] = ['one', 'two', 'three'].map((key) => solid(key, 9e6))
  post.send({ ...emptyScene, keepOuts: [one, two, three] }, () => dress)
  expect(to.solids).toEqual([[1, 'one']])
  vi.runOnlyPendingTimers()
  expect(to.solids).toHaveLength(2)
  expect(to.scenes).toEqual([])
  post.send({ ...emptyScene, keepOuts: [two] }, () => dress)
  vi.runAllTimers()
  expect(to.solids).toHaveLength(2)
  expect(to.scenes.map(({ keepOuts }) => keepOuts)).toEqual([[2]])
  post.send({ ...emptyScene, keepOuts: [one, three] }, () => dress)
  post.dispose()
  vi.runAllTimers()
  expect(to.scenes).toHaveLength(1)
  vi.useRealTimers()
})
