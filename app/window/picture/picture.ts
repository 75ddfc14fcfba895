import {
  LinearSRGBColorSpace,
  OrthographicCamera,
  Raycaster,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
  WebGLRenderTarget,
} from 'three'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { CutPlane } from '../seeing/cutPlane.ts'
import { axesOf, type Frame, isAlongAxis, type Rig } from '../viewport/camera.ts'
import type { Carriage } from '../viewport/carriage.ts'
import { Carrying } from './carrying.ts'
import { allDrawn, flipped, shadersMade } from './graphics.ts'
import { Materials, pictureUniforms } from './materials.ts'
import { OtherCandidate } from './OtherCandidate.ts'
import { Overlaps, type Overlapping } from './overlaps.ts'
import { type Dress, type Look, solidName } from './protocol.ts'
import { Section } from './section.ts'
import { SolidObject } from './solidObject.ts'
import type { Tones } from './tones.ts'
import { type Weight, weightOf } from './weight.ts'

/** What there is to draw. */
interface DrawnScene {
  readonly origin: Vec3
  /** Keep-outs and parts. */
  readonly solids: readonly DrawnSolid[]
  readonly ghost: DrawnSolid | null
  readonly other: readonly DrawnSolid[]
}

/** Of a solid that nothing is said of. */
const plain: Look = { hatch: 'plain', emphasis: 'plain' }

/** The drawing itself, on one canvas, without any idea of when to draw. */
export class Picture {
  private readonly renderer: WebGLRenderer
  private readonly scene = new Scene()
  private readonly camera = new OrthographicCamera()
  private readonly shared = pictureUniforms()
  private readonly solids = new Map<string, SolidObject>()
  private ghost: SolidObject | null = null
  private readonly carrying: Carrying
  private readonly other: OtherCandidate
  private carriage: Carriage | null = null
  private origin: Vec3 = [0, 0, 0]
  private size = ''
  private materials: Materials
  private tones: Tones
  private overlaps: Overlaps
  private plane: CutPlane | null = null
  private lightCut = false
  private section: Section | null = null
  private lastDress: Dress | null = null
  private weighed: Weight | null = null
  /** All that is drawn has its shaders; without `getReady` the next drawing waits until they are made. */
  isReady = false

  /** Throws where the browser cannot draw. */
  constructor(canvas: OffscreenCanvas, tones: Tones) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, stencil: true, powerPreference: 'high-performance' })
    this.renderer.outputColorSpace = LinearSRGBColorSpace
    this.renderer.autoClear = false
    this.tones = tones
    this.materials = new Materials(tones, this.shared)
    this.overlaps = new Overlaps([], tones, this.shared)
    this.scene.matrixAutoUpdate = false
    this.carrying = new Carrying(this.scene)
    this.other = new OtherCandidate(this.scene)
    this.other.setTones(tones)
  }

  setTones(tones: Tones): void {
    this.materials.dispose()
    this.tones = tones
    this.other.setTones(tones)
    this.materials = new Materials(tones, this.shared)
    this.isReady = false
    this.carry(this.carriage)
  }

  /** Has all shaders made, without holding up what else is asked. */
  async getReady(): Promise<void> {
    this.isReady = true
    for (const scene of [this.scene, ...this.overlaps.scenes()]) this.renderer.compile(scene, this.camera)
    await shadersMade(this.renderer)
  }

  /** Takes over the solids of a scene; those that stayed the same objects are left as they are. */
  setScene({ solids, ghost, other, origin }: DrawnScene): void {
    this.origin = origin
    const wanted = new Map(solids.map((solid) => [solidName(solid), solid]))
    for (const [key, object] of this.solids)
      if (wanted.get(key) !== object.solid) {
        this.scene.remove(...object.objects())
        object.dispose()
        this.solids.delete(key)
      }
    for (const [key, solid] of wanted) {
      if (this.solids.has(key)) continue
      const object = new SolidObject(solid)
      this.solids.set(key, object)
      this.scene.add(...object.objects())
    }
    this.setGhost(ghost)
    this.other.set(other)
    this.carry(this.carriage)
  }

  /** Puts the parts that move where they are on their way. */
  carry(carriage: Carriage | null): void {
    this.carriage = carriage
    const parts = [...this.solids.values()].filter(({ solid }) => solid.side === 'part')
    this.carrying.set(carriage, parts, this.origin, this.materials)
  }

  private setGhost(solid: DrawnSolid | null): void {
    if (this.ghost?.solid === solid) return
    if (this.ghost) {
      this.scene.remove(...this.ghost.objects())
      this.ghost.dispose()
    }
    this.ghost = solid && new SolidObject(solid)
    if (this.ghost) this.scene.add(...this.ghost.objects())
  }

  /** After `setScene` or `setTones`, and whenever the looks change. */
  dress(dress: Dress): void {
    this.lastDress = dress
    this.weighed = null
    for (const object of this.solids.values()) {
      const { hatch, emphasis } = this.look(object.solid)
      object.dress(this.materials, hatch, emphasis)
    }
    this.ghost?.dress(this.materials, 'service', 'ghost')
    const pairs = dress.overlapping.flatMap(({ part, other, otherSide, verdict }): Overlapping[] => {
      const [one, two] = [
        this.solids.get(solidName({ side: 'part', key: part })),
        this.solids.get(solidName({ side: otherSide, key: other })),
      ]
      return one && two ? [{ part: one, other: two, verdict }] : []
    })
    // The new ones first: they then share the compiled shaders of the old ones.
    const former = this.overlaps
    this.overlaps = new Overlaps(pairs, this.tones, this.shared)
    former.dispose()
    if (pairs.length > 0) this.isReady = false
    this.cut(this.plane)
  }

  /** Takes away what lies beyond a plane; null: nothing. */
  cut(plane: CutPlane | null, light = this.lightCut): void {
    this.plane = plane
    this.lightCut = light
    this.section?.dispose()
    const { lastDress, tones, shared } = this
    const hatchOf = (solid: DrawnSolid) => this.look(solid).hatch
    this.section =
      plane && lastDress
        ? new Section(plane, this.origin, [...this.solids.values()], hatchOf, { tones, shared, light })
        : null
  }

  /** Draws on the canvas. @param light with the lighter surfaces */
  draw(rig: Rig, { width, height }: Frame, ratio: number, light: boolean): void {
    const size = `${width} ${height} ${ratio}`
    if (size !== this.size) {
      // A canvas that is given a size is made anew, even if it is the same one.
      this.size = size
      this.renderer.setPixelRatio(ratio)
      this.renderer.setSize(width, height, false)
    }
    this.renderer.setRenderTarget(null)
    this.render(rig, width, height, light)
  }

  /** The drawing in other pixels than the screen's; null where the graphics cannot draw so many. */
  shot(rig: Rig, { width, height }: Frame, ratio: number, light: boolean): ImageBitmap | null {
    const [w, h] = [Math.round(width * ratio), Math.round(height * ratio)]
    if (Math.max(w, h) > this.renderer.capabilities.maxTextureSize) return null
    const canvas = new OffscreenCanvas(w, h)
    const pen = canvas.getContext('2d')
    this.draw(rig, { width, height } as Frame, ratio, light)
    const { drawingBufferWidth, drawingBufferHeight } = this.renderer.getContext()
    if (drawingBufferWidth < w || drawingBufferHeight < h) return null
    // Read in the same moment: the canvas keeps nothing once the screen was drawn.
    pen?.drawImage(this.renderer.domElement, 0, 0, w, h)
    return pen ? canvas.transferToImageBitmap() : null
  }

  /** What makes it slow. */
  get weight(): Weight {
    this.weighed ??= weightOf(this.solids)
    return this.weighed
  }

  /** Resolves when all that was asked of the graphics is drawn, without holding up what else is asked. */
  drawn(): Promise<void> {
    return allDrawn(this.renderer)
  }

  /**
   * A small drawing as pixels, with the lighter surfaces; read back without holding up what else is asked.
   * @param ratio device pixels in one of the page
   */
  async small(rig: Rig, width: number, height: number, ratio: number): Promise<ImageData> {
    const [w, h] = [Math.round(width * ratio), Math.round(height * ratio)]
    const target = new WebGLRenderTarget(w, h, { samples: 4, stencilBuffer: true })
    this.renderer.setRenderTarget(target)
    this.render(rig, width, height, true)
    this.renderer.setRenderTarget(null)
    try {
      const bytes = new Uint8Array(4 * w * h)
      await this.renderer.readRenderTargetPixelsAsync(target, 0, 0, w, h, bytes)
      return flipped(bytes, w, h)
    } finally {
      target.dispose()
    }
  }

  /** What stands at a place of the picture; the candidate before what is seen through. */
  pick(rig: Rig, { width, height }: Frame, x: number, y: number): DrawnSolid | null {
    this.aim(rig, width, height)
    const caster = new Raycaster()
    caster.setFromCamera(new Vector2((2 * x) / width - 1, 1 - (2 * y) / height), this.camera)
    const hit = (side: DrawnSolid['side']) =>
      [...this.solids.values()]
        .filter(({ solid, isGone }) => solid.side === side && !isGone)
        .flatMap(({ solid, light, full }) =>
          caster.intersectObject(light ?? full).map(({ distance }) => ({ solid, distance })),
        )
        .sort((a, b) => a.distance - b.distance)[0]?.solid
    return hit('part') ?? hit('keepOut') ?? null
  }

  private look(solid: DrawnSolid): Look {
    return this.lastDress?.looks.get(solidName(solid)) ?? plain
  }

  private render(rig: Rig, width: number, height: number, light: boolean): void {
    const { section } = this
    this.aim(rig, width, height)
    // Seen along an axis this is a drawing: what lies behind has to be seen as well.
    const through = isAlongAxis(rig)
    this.shared.body.value = through ? 0.14 : 1
    for (const object of this.solids.values()) object.show(light, through)
    this.ghost?.show(light, through)
    this.other.show(rig.scale)
    // Each time: graphics that were lost come back without their clear colour.
    this.renderer.setClearColor(this.tones.paper, 1)
    this.renderer.clear(true, true, true)
    this.renderer.clippingPlanes = section ? [section.clipping] : []
    this.renderer.render(this.scene, this.camera)
    section?.draw(this.renderer, this.camera)
    // What overlaps does so at the seat.
    if (!this.carriage?.pose && !section) this.overlaps.draw(this.renderer, this.camera)
  }

  private aim(rig: Rig, width: number, height: number): void {
    const { eye, up } = axesOf(rig)
    const [w, h] = [(width * rig.scale) / 2, (height * rig.scale) / 2]
    // Far enough that nothing of a bay is cut off, near enough that depth stays finer than what can be seen.
    const far = 20_000 + 4 * Math.hypot(w, h)
    Object.assign(this.camera, { left: -w, right: w, top: h, bottom: -h, near: 0, far: 2 * far })
    const at = new Vector3(...rig.target).sub(new Vector3(...this.origin))
    this.camera.position.copy(at).addScaledVector(new Vector3(...eye), far)
    this.camera.up.set(...up)
    this.camera.lookAt(at)
    this.camera.updateProjectionMatrix()
    this.camera.updateMatrixWorld()
    this.shared.pixel.value = rig.scale
    this.shared.eye.value.set(...eye)
  }
}
