import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Bounds } from '../../../core/shape/form.ts'
import type { DrawnSolid, Drawing } from '../../worker/protocol.ts'

/** What there is to draw at present; kept apart from the window's state, since only the viewport needs it. */
export interface Scene {
  readonly origin: readonly [number, number, number]
  readonly bounds: Bounds | null
  readonly keepOuts: readonly DrawnSolid[]
  readonly parts: readonly DrawnSolid[]
  /** A pipe as it might be, looked at before it is taken. */
  readonly ghost: DrawnSolid | null
  /** Parts of another candidate, for their outlines. */
  readonly other: readonly DrawnSolid[]
  /** Counts up with every bay that is opened: the camera then looks at all of it anew. */
  readonly opened: number
}

export type SceneStore = StoreApi<Scene>

export const emptyScene: Scene = {
  origin: [0, 0, 0],
  bounds: null,
  keepOuts: [],
  parts: [],
  ghost: null,
  other: [],
  opened: 0,
}
export const createSceneStore = (): SceneStore => createStore<Scene>(() => emptyScene)

/** The scene after a drawing: new and changed solids take their places, the others stay the very same objects. */
export function sceneAfter(scene: Scene, drawing: Drawing): Scene {
  const all = [...scene.keepOuts, ...scene.parts, ...drawing.solids]
  const byName = new Map(all.map((solid) => [`${solid.side} ${solid.key}`, solid]))
  const listed = (side: DrawnSolid['side'], keys: readonly string[]) =>
    keys.flatMap((key) => byName.get(`${side} ${key}`) ?? [])
  return {
    ...scene,
    origin: drawing.origin,
    bounds: drawing.bounds,
    keepOuts: listed('keepOut', drawing.keepOuts),
    parts: listed('part', drawing.parts),
  }
}
