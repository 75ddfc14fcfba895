import { areaOf } from '../drawing/region.ts'
import type { Flat } from '../drawing/view.ts'
import type { FaceName, FlatBody } from './flatBodies.ts'
import { type LaidHole, laidHole } from './portHoles.ts'
import { rimEdges } from './rimEdges.ts'
import { type Hinge, type Net, unfold } from './unfold.ts'

export interface Edge {
  readonly from: Flat
  readonly to: Flat
}

/** A tank's sides laid out flat, mm, y up; `left` and `top` of all of it. */
export interface LaidTank {
  readonly width: number
  readonly height: number
  readonly left: number
  readonly top: number
  readonly edges: readonly Edge[]
  readonly folds: readonly Hinge[]
  readonly holes: readonly (LaidHole & { readonly corners: readonly Flat[] })[]
  readonly faces: readonly { readonly face: number; readonly name: FaceName; readonly corners: readonly Flat[] }[]
  /** mm² */
  readonly area: number
}

/** Its end stays in the middle with what is above in the car at the top; its foot is open. */
export function layOut({ body, root, foot, names, holes }: FlatBody): LaidTank {
  const net = upright(unfold(body, root, foot === null ? [] : [foot]), root, names)
  const points = net.faces.flatMap(({ corners }) => corners)
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)]
  const [left, top] = [Math.min(...xs), Math.max(...ys)]
  return {
    width: Math.max(...xs) - left,
    height: top - Math.min(...ys),
    left,
    top,
    edges: rimEdges(body, net),
    folds: net.hinges,
    holes: net.faces.flatMap((face) =>
      holes
        .filter((hole) => hole.face === face.face)
        .map((hole) => ({ ...laidHole(body, face, hole), corners: face.corners })),
    ),
    faces: net.faces.map(({ face, corners }) => ({ face, name: names.get(face) ?? 'end', corners })),
    area: net.faces.reduce((sum, { corners }) => sum + areaOf([corners]), 0),
  }
}

const quarters: readonly ((p: Flat) => Flat)[] = [
  ([x, y]) => [x, y],
  ([x, y]) => [-y, x],
  ([x, y]) => [-x, -y],
  ([x, y]) => [y, -x],
]

/** Turned by quarters, so that the face above stands highest over the one that stayed. */
function upright(net: Net, root: number, names: FlatBody['names']): Net {
  const middle = (corners: readonly Flat[]): Flat => [
    corners.reduce((sum, [x]) => sum + x, 0) / corners.length,
    corners.reduce((sum, [, y]) => sum + y, 0) / corners.length,
  ]
  const above = net.faces.find(({ face }) => names.get(face) === 'above')
  const stays = net.faces.find(({ face }) => face === root)
  if (!above || !stays) return net
  const [from, to] = [middle(stays.corners), middle(above.corners)]
  const rise = (turn: (p: Flat) => Flat) => turn([to[0] - from[0], to[1] - from[1]])[1]
  const turn = quarters.reduce((best, each) => (rise(each) > rise(best) + 1e-9 ? each : best))
  return {
    faces: net.faces.map(({ face, corners }) => ({ face, corners: corners.map(turn) })),
    hinges: net.hinges.map((hinge) => ({ ...hinge, from: turn(hinge.from), to: turn(hinge.to) })),
    seams: net.seams.map((seam) => ({ ...seam, from: turn(seam.from), to: turn(seam.to) })),
  }
}
