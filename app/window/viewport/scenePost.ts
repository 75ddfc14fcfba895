import type { Dress, SceneById } from '../picture/protocol.ts'
import type { Scene } from '../state/scene.ts'
import type { DrawnSolid, Surface } from '../../worker/protocol.ts'

/** What scenes are sent to. */
export interface SceneDesk {
  solid(id: number, solid: DrawnSolid): unknown
  scene(scene: SceneById, dress: Dress): unknown
}

/** So many bytes are copied without a pause: more would hold up the page. */
const portion = 3e6

/** Sends scenes to the worker that draws: each solid once, from then on its number. */
export class ScenePost {
  private readonly desk: SceneDesk
  private sent = new Map<DrawnSolid, number>()
  private last = 0
  private later: ReturnType<typeof setTimeout> | undefined

  constructor(desk: SceneDesk) {
    this.desk = desk
  }

  /** A scene that is still on its way gives way to this one. @param dress asked for when all of its solids are sent */
  send(scene: Scene, dress: () => Dress): void {
    clearTimeout(this.later)
    const { origin, keepOuts, parts, ghost, other } = scene
    const solids = [...keepOuts, ...parts, ...other, ...(ghost ? [ghost] : [])]
    let bytes = 0
    for (const solid of solids) {
      if (this.sent.has(solid)) continue
      if (bytes > portion) {
        this.later = setTimeout(() => this.send(scene, dress))
        return
      }
      bytes += bytesOf(solid)
      this.sent.set(solid, ++this.last)
      this.desk.solid(this.last, solid)
    }
    const id = (solid: DrawnSolid) => this.sent.get(solid) ?? 0
    this.desk.scene(
      { origin, keepOuts: keepOuts.map(id), parts: parts.map(id), ghost: ghost && id(ghost), other: other.map(id) },
      dress(),
    )
    // The worker forgets what this scene does not name.
    this.sent = new Map(solids.map((solid) => [solid, id(solid)]))
  }

  dispose(): void {
    clearTimeout(this.later)
  }
}

const bytesOf = ({ surface, light, edges }: DrawnSolid): number =>
  inSurface(surface) + (light ? inSurface(light) : 0) + edges.byteLength

const inSurface = ({ positions, normals, triangles }: Surface): number =>
  positions.byteLength + normals.byteLength + triangles.byteLength
