import type { Scene } from 'three'
import { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { Tones } from './tones.ts'

/** Over all else that is drawn. */
const onTop = 90
/** Dashes of so many pixels, and gaps between them. */
const dash = 7
const gap = 4

/** Outlines of a second candidate over the drawing: dashed, in plain ink, without surfaces, so that the first stays what it is. */
export class OtherCandidate {
  private readonly scene: Scene
  private readonly material = new LineMaterial({
    linewidth: 1.7,
    dashed: true,
    transparent: true,
    depthTest: false,
    depthWrite: false,
  })
  private solids: readonly DrawnSolid[] = []
  private lines: readonly LineSegments2[] = []

  constructor(scene: Scene) {
    this.scene = scene
  }

  setTones(tones: Tones): void {
    this.material.color.set(tones.ink)
  }

  /** Takes over the other candidate's solids; the same ones are left as they are. */
  set(solids: readonly DrawnSolid[]): void {
    if (solids.length === this.solids.length && solids.every((solid, i) => solid === this.solids[i])) return
    this.clear()
    this.solids = solids
    this.lines = solids
      .filter(({ edges }) => edges.length > 0)
      .map(({ edges }) => {
        const geometry = new LineSegmentsGeometry()
        geometry.setPositions(edges)
        const lines = new LineSegments2(geometry, this.material).computeLineDistances()
        lines.renderOrder = onTop
        lines.matrixAutoUpdate = false
        return lines
      })
    if (this.lines.length > 0) this.scene.add(...this.lines)
  }

  /** @param pixel mm of the bay in one pixel: dashes keep their size on the paper */
  show(pixel: number): void {
    this.material.dashSize = dash * pixel
    this.material.gapSize = gap * pixel
  }

  private clear(): void {
    if (this.lines.length > 0) this.scene.remove(...this.lines)
    for (const { geometry } of this.lines) geometry.dispose()
    this.lines = []
  }
}
