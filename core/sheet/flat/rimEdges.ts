import type { Polytope } from '../../shape/form.ts'
import type { Flat } from '../drawing/view.ts'
import { facesBeside, type Net } from './unfold.ts'

/** An edge along the rim of a net. */
export interface RimEdge {
  readonly face: number
  /** The face of the body beyond it, wherever that lies. */
  readonly beyond: number
  readonly from: Flat
  readonly to: Flat
}

/** The rim of a net, once round, counter-clockwise: each face's edges in turn, over to the next face at every hinge. */
export function rimEdges(body: Polytope, { faces, hinges }: Net): RimEdge[] {
  const beside = new Map(faces.map(({ face }) => [face, facesBeside(body, face)]))
  const joined = new Set(hinges.flatMap(({ face, other }) => [`${face} ${other}`, `${other} ${face}`]))
  const beyondOf = (face: number, k: number) => beside.get(face)?.[k] ?? -1
  const isJoined = (face: number, k: number) => joined.has(`${face} ${beyondOf(face, k)}`)
  const next = (face: number, k: number): [number, number] => {
    let [f, e] = [face, (k + 1) % body.faces[face].length]
    while (isJoined(f, e)) {
      const other = beyondOf(f, e)
      e = ((beside.get(other) ?? []).indexOf(f) + 1) % body.faces[other].length
      f = other
    }
    return [f, e]
  }
  const [first] = faces.flatMap(({ face }) =>
    body.faces[face].flatMap((_, k): [number, number][] => (isJoined(face, k) ? [] : [[face, k]])),
  )
  const edges: RimEdge[] = []
  let [face, k] = first
  do {
    const corners = faces.find((each) => each.face === face)?.corners ?? []
    edges.push({ face, beyond: beyondOf(face, k), from: corners[k], to: corners[(k + 1) % corners.length] })
    ;[face, k] = next(face, k)
  } while (face !== first[0] || k !== first[1])
  return edges
}
