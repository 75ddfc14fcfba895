import { DoubleSide, LineBasicMaterial, type Material, MeshBasicMaterial, ShaderMaterial, Vector3 } from 'three'
import { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { sectionVertex, surfaceFragment, surfaceVertex } from './hatch.ts'
import type { Hatch, Worn } from './protocol.ts'
import type { Tones } from './tones.ts'

/** Opacities of fill, hatch, rim and edges. */
type Look = readonly [fill: number, hatch: number, rim: number, edges: number]
const keepOutLook: Record<Worn, Look> = {
  plain: [0.6, 0.4, 0.75, 0.85],
  chosen: [0.62, 0.55, 0.9, 1],
  faint: [0.12, 0.12, 0.28, 0.28],
  ghost: [0, 0, 0.25, 0.3],
}
/** Covers and scans go around everything else: they are looked through. */
const glassLook: Record<Worn, Look> = {
  plain: [0.1, 0.16, 0.7, 0.55],
  chosen: [0.34, 0.42, 0.9, 0.9],
  faint: [0.05, 0.06, 0.3, 0.25],
  ghost: [0, 0, 0.2, 0.25],
}
/** A plane goes on behind everything and must not draw the eye. */
const planeLook: Record<Worn, Look> = {
  plain: [0.03, 0.07, 0, 0.35],
  chosen: [0.1, 0.3, 0, 0.8],
  faint: [0.02, 0.04, 0, 0.2],
  ghost: [0, 0, 0, 0.2],
}
export type Body = 'solid' | 'glass' | 'plane'
const looks = { solid: keepOutLook, glass: glassLook, plane: planeLook }
const partLook: Record<Worn, Look> = {
  plain: [0.86, 0.3, 0.9, 1],
  chosen: [0.95, 0.5, 1, 1],
  faint: [0.6, 0.16, 0.5, 0.5],
  // A pipe as it might be.
  ghost: [0.34, 0.75, 1, 1],
}

/** Edges lie in the surfaces; pushed back a little, the surfaces do not swallow them. */
function pushBack<M extends Material>(material: M): M {
  return Object.assign(material, { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 })
}

/** Shared by all materials of a picture: set once before each drawing. */
export interface PictureUniforms {
  readonly pixel: { value: number }
  readonly eye: { value: Vector3 }
  /** How much body solid keep-outs have: 1 in space, little in drawings, where one looks through to what lies behind. */
  readonly body: { value: number }
}
export const pictureUniforms = (): PictureUniforms => ({
  pixel: { value: 1 },
  eye: { value: new Vector3(0, 0, 1) },
  body: { value: 1 },
})

/** Every material of the drawing, made once for each combination that occurs. */
export class Materials {
  private readonly made = new Map<string, Material>()
  private readonly tones: Tones
  private readonly shared: PictureUniforms

  constructor(tones: Tones, shared: PictureUniforms) {
    this.tones = tones
    this.shared = shared
  }

  keepOut(hatch: Hatch, emphasis: Worn, body: Body): ShaderMaterial {
    return this.once(`keep-out ${hatch} ${emphasis} ${body}`, () => {
      const material = this.surface(hatch, looks[body][emphasis])
      material.uniforms.fill.value = this.tones.keepOut
      material.uniforms.ink.value = this.tones.keepOutInk
      material.depthWrite = false
      if (body === 'solid') {
        material.uniforms.body = this.shared.body
        return pushBack(material)
      }
      material.side = DoubleSide
      return material
    })
  }

  /** Fills the depth buffer before the keep-outs are drawn, so that each hides what lies behind it. */
  depth(): MeshBasicMaterial {
    return this.once('depth', () => pushBack(new MeshBasicMaterial({ colorWrite: false, transparent: true })))
  }

  part(hatch: Hatch, emphasis: Worn): ShaderMaterial {
    return this.once(`part ${hatch} ${emphasis}`, () => {
      const material = this.surface(hatch, partLook[emphasis])
      material.uniforms.fill.value = this.tones.part
      material.uniforms.ink.value = this.tones.partInk
      if (emphasis === 'ghost') material.depthWrite = false
      return pushBack(material)
    })
  }

  keepOutEdges(emphasis: Worn, body: Body): LineBasicMaterial {
    return this.once(`keep-out edges ${emphasis} ${body}`, () => {
      const opacity = looks[body][emphasis][3]
      return new LineBasicMaterial({ color: this.tones.keepOutInk, opacity, transparent: true, depthWrite: false })
    })
  }

  partEdges(emphasis: Worn): LineMaterial {
    return this.once(`part edges ${emphasis}`, () => {
      const opacity = partLook[emphasis][3]
      const linewidth = emphasis === 'chosen' ? 2.2 : 1.6
      const dashes = emphasis === 'ghost' ? { dashed: true, dashSize: 9, gapSize: 6 } : {}
      return new LineMaterial({
        color: this.tones.partInk,
        linewidth,
        opacity,
        transparent: true,
        depthWrite: false,
        ...dashes,
      })
    })
  }

  /** Outlines of where a part comes by. */
  sweptEdges(): LineMaterial {
    return this.once('swept edges', () => {
      const color = this.tones.partInk
      return new LineMaterial({ color, linewidth: 1, opacity: 0.38, transparent: true, depthWrite: false })
    })
  }

  private surface(hatch: Hatch, [fill, hatching, rim]: Look): ShaderMaterial {
    return new ShaderMaterial({
      vertexShader: surfaceVertex,
      fragmentShader: surfaceFragment(hatch),
      transparent: true,
      clipping: true,
      uniforms: {
        pixel: this.shared.pixel,
        eye: this.shared.eye,
        fill: { value: null },
        ink: { value: null },
        fillOpacity: { value: fill },
        hatchOpacity: { value: hatching },
        rimOpacity: { value: rim },
        body: { value: 1 },
      },
    })
  }

  private once<M extends Material>(key: string, make: () => M): M {
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

/** A cut face: nearly the paper's own tone, its hatch plain to see. */
export function sectionMaterial(
  hatch: Hatch,
  side: 'part' | 'keepOut',
  tones: Tones,
  shared: PictureUniforms,
): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: sectionVertex,
    fragmentShader: surfaceFragment(hatch === 'plain' ? 'body' : hatch),
    uniforms: {
      pixel: shared.pixel,
      eye: shared.eye,
      fill: { value: side === 'part' ? tones.part : tones.keepOut },
      ink: { value: side === 'part' ? tones.partInk : tones.keepOutInk },
      fillOpacity: { value: 1 },
      hatchOpacity: { value: 0.6 },
      rimOpacity: { value: 0 },
      body: { value: 1 },
    },
  })
}
