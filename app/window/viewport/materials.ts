import { DoubleSide, FrontSide, LineBasicMaterial, ShaderMaterial, Vector3 } from 'three'
import { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { type Hatch, surfaceFragment, surfaceVertex } from './hatch.ts'
import type { Tones } from './tones.ts'

/** How much a solid stands out: 'faint' beside a chosen gap, 'ghost' when only its edges are wanted. */
export type Emphasis = 'plain' | 'chosen' | 'faint' | 'ghost'

/** Opacities of fill, hatch, rim and edges. */
const keepOutLook: Record<Emphasis, readonly [number, number, number, number]> = {
  plain: [0.3, 0.4, 0.75, 0.8],
  chosen: [0.5, 0.55, 0.9, 1],
  faint: [0.12, 0.16, 0.3, 0.3],
  ghost: [0, 0, 0.25, 0.3],
}
const partLook: Record<Emphasis, readonly [number, number, number, number]> = {
  plain: [0.86, 0.3, 0.9, 1],
  chosen: [0.95, 0.5, 1, 1],
  faint: [0.6, 0.16, 0.5, 0.5],
  ghost: [0.86, 0.3, 0.9, 1],
}

/** Shared by all materials of a picture: set once before each drawing. */
export interface PictureUniforms {
  readonly pixel: { value: number }
  readonly eye: { value: Vector3 }
}
export const pictureUniforms = (): PictureUniforms => ({ pixel: { value: 1 }, eye: { value: new Vector3(0, 0, 1) } })

/** Every material of the drawing, made once for each combination that occurs. */
export class Materials {
  private readonly made = new Map<string, ShaderMaterial | LineBasicMaterial | LineMaterial>()
  private readonly tones: Tones
  private readonly shared: PictureUniforms

  constructor(tones: Tones, shared: PictureUniforms) {
    this.tones = tones
    this.shared = shared
  }

  keepOut(hatch: Hatch, emphasis: Emphasis, shell: boolean): ShaderMaterial {
    const [fill, hatching, rim] = keepOutLook[emphasis]
    return this.once(`keep-out ${hatch} ${emphasis} ${shell}`, () => {
      const material = this.surface(hatch, [fill * (shell ? 0.55 : 1), hatching * (shell ? 0.6 : 1), rim])
      material.uniforms.fill.value = this.tones.keepOut
      material.uniforms.ink.value = this.tones.keepOutInk
      material.depthWrite = false
      material.side = shell ? DoubleSide : FrontSide
      return material
    })
  }

  part(hatch: Hatch, emphasis: Emphasis): ShaderMaterial {
    const [fill, hatching, rim] = partLook[emphasis]
    return this.once(`part ${hatch} ${emphasis}`, () => {
      const material = this.surface(hatch, [fill, hatching, rim])
      material.uniforms.fill.value = this.tones.part
      material.uniforms.ink.value = this.tones.partInk
      // Edges lie in the surfaces; pushed back a little, the surfaces do not swallow them.
      material.polygonOffset = true
      material.polygonOffsetFactor = 1
      material.polygonOffsetUnits = 1
      return material
    })
  }

  keepOutEdges(emphasis: Emphasis): LineBasicMaterial {
    return this.once(`keep-out edges ${emphasis}`, () => {
      const opacity = keepOutLook[emphasis][3]
      return new LineBasicMaterial({ color: this.tones.keepOutInk, opacity, transparent: true, depthWrite: false })
    })
  }

  partEdges(emphasis: Emphasis): LineMaterial {
    return this.once(`part edges ${emphasis}`, () => {
      const opacity = partLook[emphasis][3]
      const linewidth = emphasis === 'chosen' ? 2.2 : 1.6
      return new LineMaterial({ color: this.tones.partInk, linewidth, opacity, transparent: true, depthWrite: false })
    })
  }

  private surface(hatch: Hatch, [fill, hatching, rim]: readonly number[]): ShaderMaterial {
    return new ShaderMaterial({
      vertexShader: surfaceVertex,
      fragmentShader: surfaceFragment(hatch),
      transparent: true,
      uniforms: {
        ...this.shared,
        fill: { value: null },
        ink: { value: null },
        fillOpacity: { value: fill },
        hatchOpacity: { value: hatching },
        rimOpacity: { value: rim },
      },
    })
  }

  private once<M extends ShaderMaterial | LineBasicMaterial | LineMaterial>(key: string, make: () => M): M {
    const known = this.made.get(key)
    if (known) return known as M
    const made = make()
    this.made.set(key, made)
    return made
  }

  dispose(): void {
    for (const material of this.made.values()) material.dispose()
    this.made.clear()
  }
}
