import {
  AlwaysStencilFunc,
  BackSide,
  type Camera,
  DecrementWrapStencilOp,
  DoubleSide,
  FrontSide,
  IncrementWrapStencilOp,
  KeepStencilOp,
  LessDepth,
  LessEqualDepth,
  Mesh,
  MeshBasicMaterial,
  NotEqualStencilFunc,
  Scene,
  ShaderMaterial,
  type WebGLRenderer,
} from 'three'
import type { Verdict } from '../../../core/verdict/answer.ts'
import type { SimplePiece } from '../../worker/protocol.ts'
import { surfaceFragment, surfaceVertex } from './hatch.ts'
import { insideTest } from './insideShader.ts'
import type { PictureUniforms } from './materials.ts'
import type { SolidObject } from './solidObject.ts'
import type { Tones } from './tones.ts'

/** Two solids that overlap, and how that is judged. */
export interface Overlapping {
  readonly part: SolidObject
  readonly other: SolidObject
  readonly verdict: Verdict
}

/**
 * Draws what two solids have in common, over everything else: the surface of each as far as it lies in the other.
 * A point is tested in the shader where a solid is made of convex and round pieces. A closed mesh is tested by counting
 * its surfaces in front of each point of the part, in the stencil buffer: more ways in than out means inside.
 */
export class Overlaps {
  private readonly tested = new Scene()
  private readonly counted: readonly Counted[]
  private readonly materials: ShaderMaterial[] = []

  constructor(pairs: readonly Overlapping[], tones: Tones, shared: PictureUniforms) {
    for (const { part, other, verdict } of pairs) {
      for (const piece of part.solid.pieces) this.add(other, this.within(piece, verdict, tones, shared))
      for (const piece of other.solid.pieces) this.add(part, this.within(piece, verdict, tones, shared))
    }
    this.counted = pairs
      .filter(({ other }) => other.solid.pieces.length === 0 && other.solid.closed)
      .map((pair) => new Counted(pair, this.coloured('', {}, pair.verdict, tones, shared)))
  }

  /** All that `draw` draws. */
  scenes(): readonly Scene[] {
    return [this.tested, ...this.counted.flatMap(({ steps }) => steps)]
  }

  draw(renderer: WebGLRenderer, camera: Camera): void {
    for (const pair of this.counted) pair.draw(renderer, camera)
    if (this.tested.children.length === 0) return
    renderer.clearDepth()
    renderer.render(this.tested, camera)
  }

  dispose(): void {
    for (const material of this.materials) material.dispose()
    for (const pair of this.counted) pair.dispose()
  }

  private add(solid: SolidObject, material: ShaderMaterial): void {
    const mesh = new Mesh(solid.full.geometry, material)
    mesh.matrixAutoUpdate = false
    this.tested.add(mesh)
  }

  private within(piece: SimplePiece, verdict: Verdict, tones: Tones, shared: PictureUniforms): ShaderMaterial {
    const { glsl, uniforms } = insideTest(piece)
    return this.coloured(glsl, uniforms, verdict, tones, shared)
  }

  private coloured(
    inside: string,
    uniforms: Record<string, { value: unknown }>,
    verdict: Verdict,
    tones: Tones,
    shared: PictureUniforms,
  ): ShaderMaterial {
    const material = new ShaderMaterial({
      vertexShader: surfaceVertex,
      fragmentShader: surfaceFragment('overlap', inside),
      side: DoubleSide,
      uniforms: {
        pixel: shared.pixel,
        eye: shared.eye,
        body: { value: 1 },
        ...uniforms,
        fill: { value: tones.verdict[verdict] },
        ink: { value: tones.paper },
        fillOpacity: { value: 1 },
        hatchOpacity: { value: 0.5 },
        rimOpacity: { value: 0 },
      },
    })
    this.materials.push(material)
    return material
  }
}

/** One part against one closed mesh, by counting. */
class Counted {
  readonly steps: readonly Scene[]
  private readonly own: readonly MeshBasicMaterial[]

  constructor({ part, other }: Overlapping, colour: ShaderMaterial) {
    const depth = new MeshBasicMaterial({ colorWrite: false, side: FrontSide })
    const into = counting(FrontSide, IncrementWrapStencilOp)
    const out = counting(BackSide, DecrementWrapStencilOp)
    Object.assign(colour, {
      side: FrontSide,
      depthFunc: LessEqualDepth,
      stencilWrite: true,
      stencilFunc: NotEqualStencilFunc,
      stencilRef: 0,
      stencilZPass: KeepStencilOp,
    })
    const shown = [
      [part, depth],
      [other, into],
      [other, out],
      [part, colour],
    ] as const
    this.steps = shown.map(([solid, material]) => {
      const scene = new Scene()
      scene.add(new Mesh(solid.full.geometry, material))
      return scene
    })
    this.own = [depth, into, out]
  }

  draw(renderer: WebGLRenderer, camera: Camera): void {
    renderer.clear(false, true, true)
    for (const step of this.steps) renderer.render(step, camera)
  }

  dispose(): void {
    for (const material of this.own) material.dispose()
  }
}

/** Counts surfaces that lie in front of what is in the depth buffer. */
function counting(
  side: typeof FrontSide | typeof BackSide,
  op: typeof IncrementWrapStencilOp | typeof DecrementWrapStencilOp,
) {
  return new MeshBasicMaterial({
    colorWrite: false,
    depthWrite: false,
    depthFunc: LessDepth,
    side,
    stencilWrite: true,
    stencilFunc: AlwaysStencilFunc,
    stencilZPass: op,
  })
}
