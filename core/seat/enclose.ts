import type { ArcPiece, Cylinder, Form, Piece } from '../shape/form.ts'
import { placed, squareTo, sub, unit, type Vec3 } from '../shape/vec.ts'

/** Points whose convex hull holds a form (or a share of it), and how far at most the hull reaches beyond it, mm. */
export interface Enclosure {
  readonly points: readonly Vec3[]
  readonly excess: number
  /** Outward normals of some planes that lie close about it. */
  readonly normals: readonly Vec3[]
}

/** A polygon about a circle may reach beyond it by this, mm. */
const roundExcess = 0.02
/** A hull about a share of a bend may reach beyond it by this, mm, besides. */
const bendExcess = 0.2
const mostSides = 96
/** Normals that are kept of a polytope of many faces. */
const mostNormals = 12

/**
 * Convex pieces that hold a form together: a polytope is its own, a round one is held by polygons about its circles, so
 * that what is proved of the pieces holds for it.
 * @returns an empty list for a half-space, which is no part
 */
export function enclosures(form: Form): Enclosure[] {
  switch (form.form) {
    case 'convex':
      return [form.body.kind === 'polytope' ? ofPolytope(form.body) : ofStraight(form.body, form.body.radius)]
    case 'round':
      return form.centreline.flatMap((piece) => ofPiece(piece, form.radius))
    case 'mesh': {
      const { positions } = form.mesh
      const points: Vec3[] = []
      for (let i = 0; i < positions.length; i += 3)
        points.push(placed(form.pose, [positions[i], positions[i + 1], positions[i + 2]]))
      return [{ points, excess: 0, normals: [] }]
    }
    case 'halfSpace':
      return []
  }
}

function ofPolytope({ vertices, planes }: { vertices: Float64Array; planes: Float64Array }): Enclosure {
  const points: Vec3[] = []
  for (let i = 0; i < vertices.length; i += 3) points.push([vertices[i], vertices[i + 1], vertices[i + 2]])
  const step = 4 * Math.max(1, Math.ceil(planes.length / 4 / mostNormals))
  const normals: Vec3[] = []
  for (let i = 0; i < planes.length; i += step) normals.push([planes[i], planes[i + 1], planes[i + 2]])
  return { points, excess: 0, normals }
}

/** Sides of a polygon about a circle that stays within the excess, its corners' distance from the middle, mm. */
function polygon(radius: number): { sides: number; corner: number } {
  const wanted = Math.ceil(Math.PI / Math.acos(radius / (radius + roundExcess)))
  const sides = Math.min(mostSides, Math.max(8, wanted))
  // A hair wider: the polygon holds the circle after rounding too.
  return { sides, corner: (radius / Math.cos(Math.PI / sides)) * (1 + 1e-12) }
}

function ofStraight({ from, to }: Pick<Cylinder, 'from' | 'to'>, radius: number): Enclosure {
  const axis = unit(sub(to, from))
  const [u, v] = squareTo(axis)
  const { sides, corner } = polygon(radius)
  const points: Vec3[] = []
  for (let i = 0; i < sides; i++) {
    const [a, b] = around(i, sides, corner)
    for (const end of [from, to]) points.push([0, 1, 2].map((k) => end[k] + a * u[k] + b * v[k]) as unknown as Vec3)
  }
  const normals = [axis, u, v].flatMap((n): Vec3[] => [n, [-n[0], -n[1], -n[2]]])
  return { points, excess: corner - radius, normals }
}

const around = (i: number, sides: number, radius: number): [number, number] => {
  const angle = (2 * Math.PI * (i + 0.5)) / sides
  return [radius * Math.cos(angle), radius * Math.sin(angle)]
}

function ofPiece(piece: Piece, radius: number): Enclosure[] {
  if (piece.kind === 'straight') return [ofStraight(piece, radius)]
  const outer = piece.radius + radius
  const share = 2 * Math.acos(outer / (outer + bendExcess))
  const count = Math.max(1, Math.ceil(piece.angle / share))
  return Array.from({ length: count }, (_, i) =>
    ofBend(piece, radius, (piece.angle * i) / count, (piece.angle * (i + 1)) / count),
  )
}

/**
 * A share of a bend. Each point of the polygon runs along an arc about the bend's axis; such an arc lies in the triangle of
 * its two ends and the point where their tangents meet.
 */
function ofBend(arc: ArcPiece, radius: number, from: number, to: number): Enclosure {
  const { sides, corner } = polygon(radius)
  const half = (to - from) / 2
  const { centre, x, y } = arc
  const axis: Vec3 = [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]]
  const points: Vec3[] = []
  for (let i = 0; i < sides; i++) {
    const [out, beside] = around(i, sides, corner)
    const reach = arc.radius + out
    for (const [angle, far] of [
      [from, reach],
      [from + half, (reach / Math.cos(half)) * (1 + 1e-12)],
      [to, reach],
    ]) {
      const [c, s] = [far * Math.cos(angle), far * Math.sin(angle)]
      points.push([0, 1, 2].map((k) => centre[k] + c * x[k] + s * y[k] + beside * axis[k]) as unknown as Vec3)
    }
  }
  const sagitta = (arc.radius + corner) * (1 / Math.cos(half) - 1)
  return { points, excess: corner - radius + sagitta, normals: [axis, [-axis[0], -axis[1], -axis[2]]] }
}
