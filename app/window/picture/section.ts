import {
  AlwaysStencilFunc,
  BackSide,
  type BufferGeometry,
  type Camera,
  DecrementWrapStencilOp,
  DoubleSide,
  FrontSide,
  IncrementWrapStencilOp,
  KeepStencilOp,
  Mesh,
  MeshBasicMaterial,
  NotEqualStencilFunc,
  Plane,
  PlaneGeometry,
  Quaternion,
  Scene,
  type ShaderMaterial,
  Vector3,
  type WebGLRenderer,
} from 'three'
import { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import { dot, type Vec3 } from '../../../core/shape/vec.ts'
import type { DrawnSolid, Surface } from '../../worker/protocol.ts'
import type { CutPlane } from '../seeing/cutPlane.ts'
import { type PictureUniforms, sectionMaterial } from './materials.ts'
import type { Hatch } from './protocol.ts'
import { sliced } from './slice.ts'
import type { SolidObject } from './solidObject.ts'
import type { Tones } from './tones.ts'

/** Wider than any bay that is drawn, mm. */
const wide = 40_000

/** Solids that the plane does not go through have no face in it. */
export function isCutBy({ bounds: { min, max } }: Pick<DrawnSolid, 'bounds'>, { normal, offset }: CutPlane): boolean {
  // A side of no end times no share of the normal is nothing, not "not a number".
  const reach = (pick: 1 | -1) =>
    normal.reduce((sum, n, k) => (n === 0 ? sum : sum + n * (n * pick > 0 ? max[k] : min[k])), 0)
  return reach(-1) < offset && reach(1) > offset
}

interface Drawing {
  readonly tones: Tones
  readonly shared: PictureUniforms
  /** From the lighter copies, where the rest of the drawing is made of them. */
  readonly light: boolean
}

/**
 * Cut faces, drawn over what a cutting plane left: closed solids are filled and hatched, each by counting its surfaces
 * in the stencil buffer, and every solid has the line along which the plane meets it; an open shell has only that.
 * A drawing and nothing else: no figure is taken from it.
 */
export class Section {
  readonly clipping: Plane
  private readonly faces: readonly Face[]
  private readonly lines = new Scene()
  private readonly made: { dispose(): void }[] = []

  constructor(
    plane: CutPlane,
    origin: Vec3,
    solids: readonly SolidObject[],
    hatchOf: (solid: DrawnSolid) => Hatch,
    { tones, shared, light }: Drawing,
  ) {
    const offset = plane.offset - dot(plane.normal, origin)
    // The library keeps what lies on the side of the normal.
    this.clipping = new Plane(new Vector3(...plane.normal).negate(), offset)
    const cut = solids.filter(({ solid, isGone }) => !isGone && isCutBy(solid, plane))
    const quad = new PlaneGeometry(wide, wide)
    this.made.push(quad)
    const turn = new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), new Vector3(...plane.normal))
    const counts = [counting(BackSide, IncrementWrapStencilOp), counting(FrontSide, DecrementWrapStencilOp)] as const
    this.made.push(...counts)
    this.faces = cut
      .filter(({ solid }) => solid.closed)
      .map((object) => {
        const fill = stencilled(sectionMaterial(hatchOf(object.solid), object.solid.side, tones, shared))
        this.made.push(fill)
        const cap = new Mesh(quad, fill)
        cap.quaternion.copy(turn)
        cap.position.copy(new Vector3(...plane.normal).multiplyScalar(offset))
        return new Face(bodyOf(object, light).geometry, counts, cap)
      })
    for (const { solid } of cut)
      this.addLine(solid, (light && solid.light) || solid.surface, plane.normal, offset, tones)
  }

  private addLine(
    solid: DrawnSolid,
    { positions, triangles }: Surface,
    normal: Vec3,
    offset: number,
    tones: Tones,
  ): void {
    const segments = sliced(positions, triangles, normal, offset)
    if (segments.length === 0) return
    const geometry = new LineSegmentsGeometry()
    geometry.setPositions(segments)
    const color = solid.side === 'part' ? tones.partInk : tones.keepOutInk
    const material = new LineMaterial({ color, linewidth: solid.side === 'part' ? 2.4 : 2, depthTest: false })
    this.made.push(geometry, material)
    this.lines.add(new LineSegments2(geometry, material))
  }

  draw(renderer: WebGLRenderer, camera: Camera): void {
    for (const face of this.faces) face.draw(renderer, camera, this.clipping)
    renderer.clippingPlanes = []
    renderer.render(this.lines, camera)
  }

  dispose(): void {
    for (const thing of this.made) thing.dispose()
  }
}

const bodyOf = ({ full, light }: SolidObject, isLight: boolean): Mesh => (isLight && light) || full

/** One solid's cut face. */
class Face {
  private readonly counted = new Scene()
  private readonly filled = new Scene()

  constructor(geometry: BufferGeometry, materials: readonly MeshBasicMaterial[], cap: Mesh) {
    for (const material of materials) this.counted.add(new Mesh(geometry, material))
    this.filled.add(cap)
  }

  draw(renderer: WebGLRenderer, camera: Camera, plane: Plane): void {
    renderer.clear(false, false, true)
    renderer.clippingPlanes = [plane]
    renderer.render(this.counted, camera)
    // The face lies in the plane itself and must not be taken away by it.
    renderer.clippingPlanes = []
    renderer.render(this.filled, camera)
  }
}

/** Every surface of a solid that is left counts, wherever it lies: what does not come out even is cut open. */
function counting(
  side: typeof FrontSide | typeof BackSide,
  op: typeof IncrementWrapStencilOp | typeof DecrementWrapStencilOp,
): MeshBasicMaterial {
  return new MeshBasicMaterial({
    colorWrite: false,
    depthWrite: false,
    depthTest: false,
    side,
    stencilWrite: true,
    stencilFunc: AlwaysStencilFunc,
    stencilZPass: op,
  })
}

const stencilled = (material: ShaderMaterial): ShaderMaterial =>
  Object.assign(material, {
    side: DoubleSide,
    stencilWrite: true,
    stencilFunc: NotEqualStencilFunc,
    stencilRef: 0,
    stencilZPass: KeepStencilOp,
  })
