import { Matrix4, type Object3D, type Scene } from 'three'
import { placed, sub, type Pose, type Vec3 } from '../../../core/shape/vec.ts'
import type { Carriage } from '../viewport/carriage.ts'
import type { Materials } from './materials.ts'
import type { SolidObject } from './solidObject.ts'

/** Of these the outlines show what is swept over; stubs and mounts would only cover it with lines. */
const isBulk = (part: string): boolean => part === 'core' || part.startsWith('tank-')

/** Puts the parts that move where they are on their way, and draws outlines of where they come by. */
export class Carrying {
  private readonly scene: Scene
  private outlines: readonly Object3D[] = []
  private drawn: readonly unknown[] = []

  constructor(scene: Scene) {
    this.scene = scene
  }

  /** @param parts all that there are @param origin of the scene's coordinates in the bay */
  set(carriage: Carriage | null, parts: readonly SolidObject[], origin: Vec3, materials: Materials): void {
    const pose = carriage?.pose ?? null
    const moved = pose ? matrixOf(pose, origin) : new Matrix4()
    for (const part of parts) part.place(carriage?.moving.has(part.solid.key) ? moved : new Matrix4())
    const bulk = parts.filter(({ solid }) => isBulk(solid.key) && carriage?.moving.has(solid.key))
    // The way is told anew each time, even if it is the same.
    const drawn = [JSON.stringify(carriage?.swept), materials, ...bulk]
    if (drawn.length === this.drawn.length && drawn.every((each, i) => each === this.drawn[i])) return
    this.drawn = drawn
    this.clear()
    this.outlines = (carriage?.swept ?? []).flatMap((swept) =>
      bulk.flatMap((part) => part.outline(materials.sweptEdges(), matrixOf(swept, origin)) ?? []),
    )
    if (this.outlines.length > 0) this.scene.add(...this.outlines)
  }

  /** Their geometry belongs to the solids. */
  private clear(): void {
    if (this.outlines.length > 0) this.scene.remove(...this.outlines)
    this.outlines = []
  }
}

/** The pose for coordinates that are relative to the origin. */
function matrixOf(pose: Pose, origin: Vec3): Matrix4 {
  const { turn: m } = pose
  const [x, y, z] = sub(placed(pose, origin), origin)
  return new Matrix4().set(m[0], m[1], m[2], x, m[3], m[4], m[5], y, m[6], m[7], m[8], z, 0, 0, 0, 1)
}
