import type { Polytope } from '../../shape/form.ts'
import { vertexAt } from '../../shape/polytope.ts'
import { cross, dot, sub, unit, type Vec3 } from '../../shape/vec.ts'
import type { Flat } from '../drawing/view.ts'

/** A body laid out flat: its faces in true size, joined along hinges. mm. */
export interface Net {
  readonly faces: readonly NetFace[]
  /** Edges that stay joined: fold lines, with the angle by which the sheet is turned there, degrees, 0 for flat. */
  readonly hinges: readonly Hinge[]
  /** Edges that were cut: each stands twice, once on either face. */
  readonly seams: readonly Seam[]
}

export interface NetFace {
  /** Number of the face in the body. */
  readonly face: number
  /** Counter-clockwise, seen from outside the body. */
  readonly corners: readonly Flat[]
}

/** `face` is the one that was laid first; along it the edge runs from → to. */
export interface Hinge {
  readonly from: Flat
  readonly to: Flat
  readonly fold: number
  readonly face: number
  readonly other: number
}

/** The two places of a cut edge in the net; `other` is null where the face beyond was left open. */
export interface Seam {
  readonly from: Flat
  readonly to: Flat
  readonly face: number
  readonly other: number | null
}

/** How a face lies in the plane: its first edge's frame in space and where that is put. */
interface Laid {
  readonly face: number
  readonly origin: Vec3
  readonly x: Vec3
  readonly y: Vec3
  readonly at: Flat
  readonly right: Flat
}

/**
 * Lays a convex body out flat, outside up: one face stays, and the others are turned down about the edges that they share,
 * nearest first.
 * @param root the face that stays: its first edge lies along +u, its first corner at 0, 0
 * @param open faces that are left out, such as the one by which a tank sits on its core
 * @returns faces in true size; nets of boxes and end tanks laid out from their far face do not overlap, others may
 * Error: rounding.
 */
export function unfold(body: Polytope, root: number, open: readonly number[] = []): Net {
  const beside = neighbours(body)
  const laid = new Map<number, Laid>([[root, layRoot(body, root)]])
  const hinges: Hinge[] = []
  /** Pairs of faces that stay joined; two faces of a convex body share one edge. */
  const folded = new Set<string>()
  const queue = [root]
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const face = next
    const here = laid.get(face) as Laid
    body.faces[face].forEach((_, k) => {
      const [a, b] = edgeOf(body, face, k)
      const other = beside.get(key(b, a))
      if (other === undefined || laid.has(other) || open.includes(other)) return
      laid.set(other, layBeside(body, other, here, a, b))
      hinges.push({
        from: placeOn(here, vertexAt(body, a)),
        to: placeOn(here, vertexAt(body, b)),
        fold: foldOf(body, face, other),
        face,
        other,
      })
      folded.add(key(face, other)).add(key(other, face))
      queue.push(other)
    })
  }
  const faces = [...laid.values()].map(
    (each): NetFace => ({
      face: each.face,
      corners: body.faces[each.face].map((i) => placeOn(each, vertexAt(body, i))),
    }),
  )
  return { faces, hinges, seams: seamsOf(body, laid, folded, beside) }
}

const key = (a: number, b: number): string => `${a} ${b}`

const edgeOf = ({ faces }: Polytope, face: number, k: number): [number, number] => [
  faces[face][k],
  faces[face][(k + 1) % faces[face].length],
]

/** Which face runs along an edge in this direction. */
function neighbours(body: Polytope): Map<string, number> {
  const beside = new Map<string, number>()
  body.faces.forEach((loop, face) => {
    for (let k = 0; k < loop.length; k++) beside.set(key(...edgeOf(body, face, k)), face)
  })
  return beside
}

export const normalOf = ({ planes }: Polytope, face: number): Vec3 => [
  planes[4 * face],
  planes[4 * face + 1],
  planes[4 * face + 2],
]

function layRoot(body: Polytope, face: number): Laid {
  const [a, b] = edgeOf(body, face, 0)
  const x = unit(sub(vertexAt(body, b), vertexAt(body, a)))
  return { face, origin: vertexAt(body, a), x, y: cross(normalOf(body, face), x), at: [0, 0], right: [1, 0] }
}

/** The shared edge a → b keeps its place; seen from outside the new face lies on its other side. */
function layBeside(body: Polytope, face: number, here: Laid, a: number, b: number): Laid {
  const x = unit(sub(vertexAt(body, b), vertexAt(body, a)))
  const at = placeOn(here, vertexAt(body, a))
  const end = placeOn(here, vertexAt(body, b))
  const long = Math.hypot(end[0] - at[0], end[1] - at[1])
  const right: Flat = [(end[0] - at[0]) / long, (end[1] - at[1]) / long]
  return { face, origin: vertexAt(body, a), x, y: cross(normalOf(body, face), x), at, right }
}

/** Where a point of a face's plane lies in the net. */
export function placeInNet(body: Polytope, { face, corners }: NetFace, point: Vec3): Flat {
  const [a, b] = edgeOf(body, face, 0)
  const x = unit(sub(vertexAt(body, b), vertexAt(body, a)))
  const [[ax, ay], [bx, by]] = corners
  const long = Math.hypot(bx - ax, by - ay)
  const laid: Laid = {
    face,
    origin: vertexAt(body, a),
    x,
    y: cross(normalOf(body, face), x),
    at: corners[0],
    right: [(bx - ax) / long, (by - ay) / long],
  }
  return placeOn(laid, point)
}

/** Which face lies beyond each edge of a face, in the order of its corners. */
export function facesBeside(body: Polytope, face: number): (number | null)[] {
  const beside = neighbours(body)
  return body.faces[face].map((_, k) => {
    const [a, b] = edgeOf(body, face, k)
    return beside.get(key(b, a)) ?? null
  })
}

function placeOn({ origin, x, y, at, right }: Laid, point: Vec3): Flat {
  const away = sub(point, origin)
  const [s, t] = [dot(away, x), dot(away, y)]
  return [at[0] + s * right[0] - t * right[1], at[1] + s * right[1] + t * right[0]]
}

const foldOf = (body: Polytope, one: number, other: number): number =>
  (Math.acos(Math.max(-1, Math.min(1, dot(normalOf(body, one), normalOf(body, other))))) * 180) / Math.PI

function seamsOf(body: Polytope, laid: Map<number, Laid>, folded: Set<string>, beside: Map<string, number>): Seam[] {
  return [...laid.values()].flatMap((each) =>
    body.faces[each.face].flatMap((_, k): Seam[] => {
      const [a, b] = edgeOf(body, each.face, k)
      const beyond = beside.get(key(b, a))
      if (beyond !== undefined && folded.has(key(each.face, beyond))) return []
      const other = beyond !== undefined && laid.has(beyond) ? beyond : null
      return [{ from: placeOn(each, vertexAt(body, a)), to: placeOn(each, vertexAt(body, b)), face: each.face, other }]
    }),
  )
}
