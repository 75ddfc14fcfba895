import { BufferAttribute, BufferGeometry, LineSegments, type Matrix4, Mesh, type Object3D } from 'three'
import type { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { DrawnSolid, Surface } from '../../worker/protocol.ts'
import type { Body, Materials } from './materials.ts'
import type { Emphasis, Hatch } from './protocol.ts'

export function geometryOf({ positions, normals, triangles }: Surface): BufferGeometry {
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(positions, 3))
  geometry.setAttribute('normal', new BufferAttribute(normals, 3))
  geometry.setIndex(new BufferAttribute(triangles, 1))
  return geometry
}

/** Order of drawing: the candidate, then solid keep-outs by depth, then what is looked through; edges after surfaces. */
const order = { part: 0, depth: 2, keepOut: 3, glass: 5 } as const

/** One solid in the picture: its surface, a lighter one where it has many triangles, and its edges. */
export class SolidObject {
  readonly solid: DrawnSolid
  readonly full: Mesh
  readonly light: Mesh | null
  private readonly edges: LineSegments | LineSegments2 | null
  /** Hides what lies behind; only for solid keep-outs. */
  private readonly depth: Mesh | null
  private readonly body: Body
  private hides = true
  /** Not seen, and not to be picked. */
  isGone = false

  constructor(solid: DrawnSolid) {
    this.solid = solid
    this.body = solid.mesh ? 'glass' : solid.closed ? 'solid' : 'plane'
    this.full = new Mesh(geometryOf(solid.surface))
    this.light = solid.light ? new Mesh(geometryOf(solid.light)) : null
    this.edges =
      solid.edges.length === 0 ? null : solid.side === 'part' ? boldLines(solid.edges) : hairlines(solid.edges)
    this.depth = solid.side === 'keepOut' && this.body === 'solid' ? new Mesh(this.full.geometry) : null
    const base = solid.side === 'part' ? order.part : this.body === 'solid' ? order.keepOut : order.glass
    for (const object of this.objects()) {
      object.renderOrder = object === this.depth ? order.depth : object === this.edges ? base + 1 : base
      object.matrixAutoUpdate = false
    }
  }

  objects(): Object3D[] {
    return [this.full, this.light, this.edges, this.depth].filter((object) => object !== null)
  }

  dress(materials: Materials, hatch: Hatch, emphasis: Emphasis): void {
    this.isGone = emphasis === 'gone'
    if (this.edges) this.edges.visible = !this.isGone
    // What is not seen keeps its former clothes.
    if (emphasis === 'gone') return
    const surface =
      this.solid.side === 'part' ? materials.part(hatch, emphasis) : materials.keepOut(hatch, emphasis, this.body)
    this.full.material = surface
    if (this.light) this.light.material = surface
    if (this.edges instanceof LineSegments2) this.edges.material = materials.partEdges(emphasis)
    else if (this.edges) this.edges.material = materials.keepOutEdges(emphasis, this.body)
    if (this.depth) {
      this.depth.material = materials.depth()
      // What stands back beside a chosen gap hides nothing.
      this.hides = emphasis === 'plain' || emphasis === 'chosen'
    }
  }

  /** Puts it elsewhere than its coordinates say. */
  place(matrix: Matrix4): void {
    for (const object of this.objects()) {
      object.matrix.copy(matrix)
      object.matrixWorldNeedsUpdate = true
    }
  }

  /** Its edges once more, at another place; null where it has none that are bold. */
  outline(material: LineMaterial, matrix: Matrix4): Object3D | null {
    if (!(this.edges instanceof LineSegments2)) return null
    const lines = new LineSegments2(this.edges.geometry, material)
    lines.renderOrder = order.part + 1
    lines.matrixAutoUpdate = false
    lines.matrix.copy(matrix)
    lines.matrixWorldNeedsUpdate = true
    return lines
  }

  /** @param light whether the lighter surface will do @param through whether one looks through solid keep-outs */
  show(light: boolean, through: boolean): void {
    if (this.depth) this.depth.visible = this.hides && !through && !this.isGone
    this.full.visible = (!light || this.light === null) && !this.isGone
    if (this.light) this.light.visible = light && !this.isGone
  }

  dispose(): void {
    this.full.geometry.dispose()
    this.light?.geometry.dispose()
    this.edges?.geometry.dispose()
  }
}

function hairlines(edges: Float32Array): LineSegments {
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(edges, 3))
  return new LineSegments(geometry)
}

function boldLines(edges: Float32Array): LineSegments2 {
  const geometry = new LineSegmentsGeometry()
  geometry.setPositions(edges)
  // With distances along the lines, which dashes need.
  return new LineSegments2(geometry).computeLineDistances()
}
