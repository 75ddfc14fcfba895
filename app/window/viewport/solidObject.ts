import { BufferAttribute, BufferGeometry, LineSegments, Mesh, type Object3D } from 'three'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { DrawnSolid, Surface } from '../../worker/protocol.ts'
import type { Hatch } from './hatch.ts'
import type { Emphasis, Materials } from './materials.ts'

export function geometryOf({ positions, normals, triangles }: Surface): BufferGeometry {
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(positions, 3))
  geometry.setAttribute('normal', new BufferAttribute(normals, 3))
  geometry.setIndex(new BufferAttribute(triangles, 1))
  return geometry
}

/** One solid in the picture: its surface, a lighter one where it has many triangles, and its edges. */
export class SolidObject {
  readonly solid: DrawnSolid
  readonly full: Mesh
  readonly light: Mesh | null
  private readonly edges: LineSegments | LineSegments2 | null

  constructor(solid: DrawnSolid) {
    this.solid = solid
    this.full = new Mesh(geometryOf(solid.surface))
    this.light = solid.light ? new Mesh(geometryOf(solid.light)) : null
    this.edges = solid.edges.length === 0 ? null : solid.side === 'part' ? boldLines(solid.edges) : hairlines(solid.edges)
    for (const object of this.objects()) {
      // Parts first, then what is seen through; edges after the surfaces that they lie in.
      object.renderOrder = (solid.side === 'part' ? 0 : 2) + (object === this.edges ? 1 : 0)
      object.matrixAutoUpdate = false
    }
  }

  objects(): Object3D[] {
    return [this.full, this.light, this.edges].filter((object) => object !== null)
  }

  dress(materials: Materials, hatch: Hatch, emphasis: Emphasis): void {
    const surface =
      this.solid.side === 'part' ? materials.part(hatch, emphasis) : materials.keepOut(hatch, emphasis, !this.solid.closed)
    this.full.material = surface
    if (this.light) this.light.material = surface
    if (this.edges instanceof LineSegments2) this.edges.material = materials.partEdges(emphasis)
    else if (this.edges) this.edges.material = materials.keepOutEdges(emphasis)
  }

  /** @param light whether the lighter surface will do */
  show(light: boolean): void {
    this.full.visible = !light || this.light === null
    if (this.light) this.light.visible = light
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
  return new LineSegments2(geometry)
}
