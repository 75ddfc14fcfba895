import { areaOf } from '../drawing/region.ts'
import type { Flat } from '../drawing/view.ts'
import type { FaceName, FlatBody } from './flatBodies.ts'
import { type LaidHole, laidHole } from './portHoles.ts'
import { rimEdges } from './rimEdges.ts'
import { unfold } from './unfold.ts'

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
  readonly folds: readonly (Edge & { readonly fold: number })[]
  readonly holes: readonly (LaidHole & { readonly corners: readonly Flat[] })[]
  readonly faces: readonly { readonly name: FaceName; readonly corners: readonly Flat[] }[]
  /** mm² */
  readonly area: number
}

/** Its end stays in the middle, its foot is open. */
export function layOut({ body, root, foot, names, holes }: FlatBody): LaidTank {
  const net = unfold(body, root, foot === null ? [] : [foot])
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
    faces: net.faces.map(({ face, corners }) => ({ name: names.get(face) ?? 'end', corners })),
    area: net.faces.reduce((sum, { corners }) => sum + areaOf([corners]), 0),
  }
}
